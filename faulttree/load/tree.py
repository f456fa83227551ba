"""A tree's record to a `Tree`: its header, and a variant for each model."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from faulttree.load.again import Written, written
from faulttree.load.fields import Each, Record
from faulttree.load.models import Trouble, depends
from faulttree.load.troubles import troubles_of_tree
from faulttree.load.variant import build_variant
from faulttree.model import Action, Case, Library, Released, Tree, Variant


def make_tree(record: Record, library: Library) -> tuple[Tree | None, list[Trouble]]:
    """The tree, or what keeps it from being one."""
    troubles = list(troubles_of_tree(record, library))
    if troubles:
        return None, troubles
    models = tuple(record.get("models", library.models))
    steps = {id: written(id, record["steps"], models) for id in record["steps"]}
    alike = not any(_differences(record, steps, models, library))
    first = build_variant(record, steps, models[0], library)
    if alike:
        others = [replace(first, model=model) for model in models[1:]]
    else:
        others = [build_variant(record, steps, model, library) for model in models[1:]]
    return _tree(record, [first, *others], alike), []


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


# -- whether anything depends on the model


def _differences(
    record: Record, steps: Mapping[str, Written], models: Sequence[str], library: Library
) -> Iterator[bool]:
    """For each thing that could depend on the model, whether it does; what shared files say counts with it."""
    if len(models) > 1:
        yield type(record["start"]) is Each
        for cause in record["causes"].values():
            yield _differs(cause) or Each in map(type, cause.get("shows", {}).values())
        for step in steps.values():
            yield _differs(step.record) or _findings_differ(step.record.get("findings"))
            yield not _same_figures(step.record, models, library)


def _differs(values: Record) -> bool:
    return "models" in values or depends(values)


def _findings_differ(findings: Any) -> bool:
    return type(findings) is dict and any(_differs(finding) for finding in findings.values())


def _same_figures(values: Record, models: Sequence[str], library: Library) -> bool:
    """Whether the limit that is measured and the operational check say the same for all models."""
    tables: list[Mapping[str, Any]] = []
    limit = library.limits.get(values.get("measure", ""))
    if limit:
        tables += limit.scales, limit.settings, limit.data
    check = library.operational_checks.get(values.get("operational_check", ""))
    if check:
        tables += check.minutes, check.data
    return all(table.get(model) == table.get(models[0]) for table in tables for model in models)
