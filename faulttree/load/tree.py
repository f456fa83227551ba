"""A tree's record to a `Tree`: its header, and a variant for each model."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from faulttree.load.again import written
from faulttree.load.fields import Record
from faulttree.load.models import Trouble, is_plain
from faulttree.load.troubles import troubles_of_tree
from faulttree.load.variant import build_plain, build_variant
from faulttree.model import Action, Case, Library, Limit, OperationalCheck, Released, Tree, Variant
from faulttree.value import replace


def make_tree(record: Record, library: Library) -> tuple[Tree | None, list[Trouble]]:
    """The tree, or what keeps it from being one."""
    plain = is_plain(record)
    troubles = list(troubles_of_tree(record, library, plain))
    if troubles:
        return None, troubles
    models = tuple(record.get("models", library.models))
    alike = plain and all(_same(table, models) for table in _shared_tables(record, library))
    return _tree(record, _variants(record, library, models, plain), alike or len(models) == 1), []


def _variants(record: Record, library: Library, models: Sequence[str], plain: bool) -> list[Variant]:
    """A variant for each model; where they have the same steps and causes, these are the same objects."""
    steps = {id: written(id, record["steps"], models) for id in record["steps"]}
    if not plain:
        return [build_variant(record, steps, model, library) for model in models]
    if not all(_same(_says(limit), models) for limit in _measured(record, library)):
        return [build_plain(record, steps, model, library) for model in models]
    first = build_plain(record, steps, models[0], library)
    return [first, *(replace(first, model=model) for model in models[1:])]


def _tree(record: Record, variants: Iterable[Variant], alike: bool) -> Tree:
    get = record.get
    return Tree(
        id=record["id"],
        short=record["short"],
        symptom=record["symptom"],
        also=get("also", ()),
        equipment=record["equipment"],
        urgency=record["urgency"],
        revision=record["revision"],
        date=record["date"],
        status=record["status"],
        variants={variant.model: variant for variant in variants},
        author=get("author", ""),
        figures=get("figures", ""),
        released=Released(**record["released"]) if "released" in record else None,
        written_against=get("written_against", {}),
        before=get("before", ()),
        first_actions=tuple(Action(**action) for action in get("first_actions", ())),
        fallback=tuple(Action(**action) for action in get("fallback", ())),
        report=get("report", ""),
        cases=tuple(_case(case) for case in get("cases", ())),
        alike=alike,
    )


def _case(values: Record) -> Case:
    get = values.get
    return Case(
        name=values["name"],
        role=get("role", ""),
        model=get("model", ""),
        cause=get("cause", ""),
        answers=get("answers", ()),
        arrives=values["arrives"],
    )


# -- whether what shared files say depends on the model


def _measured(record: Record, library: Library) -> Iterator[Limit]:
    """The limits that the tree measures."""
    for step in record["steps"].values():
        if step.get("measure") in library.limits:
            yield library.limits[step["measure"]]


def _checks(record: Record, library: Library) -> Iterator[OperationalCheck]:
    """The operational checks of the tree, each once."""
    for name in dict.fromkeys(step.get("operational_check") for step in record["steps"].values()):
        if name in library.operational_checks:
            yield library.operational_checks[name]


def _judging(record: Record, library: Library) -> Iterator[Limit]:
    """The limits that fixes and operational checks of the tree are set or judged by."""
    names = [name for step in record["steps"].values() for name in step.get("limits", ())]
    names += [name for check in _checks(record, library) for name in check.limits]
    yield from (library.limits[name] for name in dict.fromkeys(names) if name in library.limits)


def _shared_tables(record: Record, library: Library) -> Iterator[Mapping[str, Any]]:
    """What the limits and operational checks of the tree have by model."""
    for limit in (*_measured(record, library), *_judging(record, library)):
        yield from (limit.scales, limit.settings, limit.data)
    for check in _checks(record, library):
        yield from (check.minutes, check.data, check.do_by_model)


def _says(limit: Limit) -> dict[str, tuple[str, ...]]:
    """By model, what the bands say: it becomes part of the findings."""
    return {model: tuple(band.says for band in scale.bands) for model, scale in limit.scales.items()}


def _same(table: Mapping[str, Any], models: Sequence[str]) -> bool:
    first = table.get(models[0])
    return all(table.get(model) == first for model in models[1:])
