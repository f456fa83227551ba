"""The shared files of a library (roles, models, notices, limits, parts and so on) to a `Library`.

Names that lead nowhere are kept or passed by; to report them is a rule's work.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, TypeVar

from faulttree.load.fields import Each, Record
from faulttree.load.models import Scope, Trouble, for_model, spread, troubles_of
from faulttree.model import (
    Access,
    Band,
    Consumable,
    Document,
    InspectionItem,
    Library,
    Limit,
    Notice,
    Occupant,
    OpenItem,
    OperationalCheck,
    Part,
    Role,
    Scale,
    Tool,
)

Built = TypeVar("Built")


def make_library(records: Mapping[str, Record]) -> Library:
    """The library of records by kind of file; only that of kind `library` must be there."""
    main = records["library"]
    parts = records.get("parts", {})
    models = tuple(main["models"])
    return Library(
        operator=main["operator"],
        roles=_roles(main["roles"]),
        models=main["models"],
        urgencies=main["urgencies"],
        occupant=Occupant(**main["occupant"]) if "occupant" in main else None,
        revision=main.get("revision", ""),
        date=main.get("date", ""),
        accesses=_each(main.get("accesses", {}), _plain(Access)),
        open_items=_each(main.get("open_items", {}), _plain(OpenItem)),
        documents=_each(main.get("documents", {}), lambda id, values: Document(id, **values)),
        notices=_each(_of(records, "notices"), _notice),
        limits=_each(_of(records, "limits"), lambda id, values: _limit(id, values, models)),
        parts=_each(parts.get("parts", {}), _plain(Part)),
        consumables=_each(parts.get("consumables", {}), _plain(Consumable)),
        tools=_each(_of(records, "tools"), _plain(Tool)),
        operational_checks=_each(
            _of(records, "operational-checks"), lambda id, values: _operational_check(id, values, models)
        ),
        inspection=_each(_of(records, "inspection"), lambda id, values: _inspection_item(id, values, models)),
    )


def _of(records: Mapping[str, Record], kind: str) -> Mapping[str, Record]:
    """The entries of a file that has one mapping, which is called like the file."""
    entries: Mapping[str, Record] = records.get(kind, {}).get(kind.replace("-", "_"), {})
    return entries


def _each(entries: Mapping[str, Record], build: Callable[[str, Record], Built]) -> dict[str, Built]:
    return {id: build(id, values) for id, values in entries.items()}


def _plain(kind: Callable[..., Built]) -> Callable[[str, Record], Built]:
    """A builder of values that have the names of the keys, except that `is` is their text."""

    def build(id: str, values: Record) -> Built:
        return kind(id=id, text=values["is"], **{key: value for key, value in values.items() if key != "is"})

    return build


def _notice(id: str, values: Record) -> Notice:
    told = {key: value for key, value in values.items() if key != "occupied"}
    return Notice(id, **told, occupied_only="occupied" in values)


def _roles(records: Mapping[str, Record]) -> dict[str, Role]:
    return {
        id: Role(
            id=id,
            title=values.get("is", id),
            may=values["may"],
            may_not=values.get("may_not", ()),
            covers=_covered_by(id, records),
            call_out=values.get("call_out", 0.0),
        )
        for id, values in records.items()
    }


def _covered_by(id: str, records: Mapping[str, Record]) -> frozenset[str]:
    """The role itself and what it includes, in turn; names that are no role among them."""
    covered: set[str] = set()
    waiting = [id]
    while waiting:
        role = waiting.pop()
        if role not in covered:
            covered.add(role)
            waiting += records.get(role, {}).get("includes", ())
    return frozenset(covered)


# -- limits


def _models_of_limit(values: Record, models: Sequence[str]) -> tuple[str, ...]:
    """The models that the limit has a value for: those that its range and bands name, else all."""
    ends = [band.get(end) for band in values["bands"].values() for end in ("up_to", "below")]
    named = [value for value in (values["range"], *ends) if type(value) is Each]
    return tuple(model for model in models if not named or any(model in value for value in named))


def _limit(id: str, values: Record, models: Sequence[str]) -> Limit:
    own = _models_of_limit(values, models)
    return Limit(
        id=id,
        text=values["is"],
        unit=values["unit"],
        scales={model: _scale(values, model) for model in own},
        resolution=values.get("resolution", 0.0),
        settings=_spread(values, "set", own),
        data=_spread(values, "data", own),
    )


def _scale(values: Record, model: str) -> Scale:
    low, high = for_model(values, model)["range"]
    return Scale(low, high, tuple(_band(label, for_model(band, model)) for label, band in values["bands"].items()))


def _band(label: str, values: Record) -> Band:
    limit = values.get("up_to", values.get("below"))
    return Band(label, limit, inclusive="up_to" in values, says=values.get("says", ""))


def _spread(values: Record, key: str, models: Sequence[str]) -> dict[str, Any]:
    return spread(values[key], models) if key in values else {}


# -- operational checks and inspection


def _operational_check(id: str, values: Record, models: Sequence[str]) -> OperationalCheck:
    return OperationalCheck(
        id=id,
        text=values["is"],
        do=() if type(values["do"]) is Each else values["do"],
        ask=values["ask"],
        who=values["who"],
        proved=values["proved"],
        minutes=_spread(values, "minutes", models),
        data=_spread(values, "data", models),
        people=values.get("people", 1),
        tools=values.get("tools", ()),
        notices=values.get("notices", ()),
        occupied="occupied" in values,
        limits=values.get("limits", ()),
        do_by_model=_spread(values, "do", models) if type(values["do"]) is Each else {},
    )


def _inspection_item(id: str, values: Record, models: Sequence[str]) -> InspectionItem:
    own = values.get("models", ())
    return InspectionItem(
        id=id,
        every=values["every"],
        who=values["who"],
        look=values["look"],
        tree=values.get("tree", ""),
        limit=next(iter(values.get("limit", ())), ""),
        models=own,
        data=_spread(values, "data", own or models),
        also_limits=values.get("limit", ())[1:],
    )


# -- models left out or unknown


def troubles_of_shared(kind: str, values: Record, models: Sequence[str]) -> Iterator[Trouble]:
    """What is wrong with the models that a shared file names; ``models`` are those of the library."""
    scope = Scope(models, models)
    if kind == "library":
        yield from _nothing_there(values)
    if kind == "limits":
        for id, limit in values["limits"].items():
            yield from _troubles_of_limit(limit, scope, ("limits", id))
    if kind == "operational-checks":
        for id, check in values["operational_checks"].items():
            yield from troubles_of(check, models, scope, ("operational_checks", id))
    if kind in ("parts", "inspection"):
        for id, entry in values[kind].items():
            own = entry.get("models", models)
            yield from scope.unknown(own, (kind, id, "models"), in_list=True)
            yield from troubles_of(entry, own, scope, (kind, id))


def _nothing_there(values: Record) -> Iterator[Trouble]:
    """Mappings that hold the author's own keys only, which the shape allows."""
    for key, what in (("roles", "role"), ("models", "model"), ("urgencies", "urgency")):
        if not values[key]:
            yield Trouble("shape-wrong", (key,), f'"{key}" has no {what}', f"write at least one {what}")


def _troubles_of_limit(values: Record, scope: Scope, path: tuple[str, ...]) -> Iterator[Trouble]:
    own = _models_of_limit(values, scope.library)
    yield from troubles_of(values, own, scope, path)
    for label, band in values["bands"].items():
        yield from troubles_of(band, own, scope, (*path, "bands", label))
