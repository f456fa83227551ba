"""What differs between the shared entries of two libraries."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from faulttree.compare.changes import JUDGE, OTHER, WEAKER, Change, Found, at, told
from faulttree.compare.entries import ALONE, ENTRIES, FILES, OCCUPANT
from faulttree.compare.judges import (
    Judge,
    Sides,
    differences,
    reworded,
)
from faulttree.compare.limits import scales, settings
from faulttree.model import Library, Occupant, Role
from faulttree.value import Value, field_names


def shared_changes(
    old: Library, new: Library, usual: Mapping[str, Collection[str]], only: Mapping[str, Collection[str]] | None
) -> Iterator[Change]:
    """What differs between the shared entries, all of them or ``only`` these; roles and occupant count always."""
    sides = Sides(old, new)
    if only is None:
        for field, judge in ALONE.items():
            if getattr(old, field) != getattr(new, field):
                yield from at("", "library", "library", judge(sides, getattr(old, field), getattr(new, field)))
    yield from at("", "library", "occupant", _occupant(sides, old.occupant, new.occupant))
    for field in field_names(Library):
        if field in ENTRIES:
            before, after = getattr(old, field), getattr(new, field)
            names = None if only is None or field in ("roles", "models", "urgencies") else only.get(field, ())
            yield from _entries(sides, field, before, after, names, usual)


def _occupant(sides: Sides, before: Occupant | None, after: Occupant | None) -> Iterator[Found]:
    if before and after:
        yield from differences(sides, before, after, OCCUPANT)
    elif before:
        yield Found(WEAKER, "occupant-gate", "nobody is asked about an occupant any more", before=before.ask)
    elif after:
        yield Found(JUDGE, "occupant-gate", "it is asked about an occupant now", after=after.ask)


def _entries(
    sides: Sides,
    field: str,
    before: Mapping[str, Any],
    after: Mapping[str, Any],
    only: Collection[str] | None,
    usual: Mapping[str, Collection[str]],
) -> Iterator[Change]:
    sort, dropped, judges = ENTRIES[field]
    for name in dict.fromkeys((*before, *after)):
        if only is not None and name not in only:
            continue
        old, new = before.get(name), after.get(name)
        if old is not None and new is None:
            weight = JUDGE if getattr(old, "signal", "") == "note" else dropped
            yield from at("", sort, name, [Found(weight, "entry-dropped", "is dropped", before=entry_words(old))])
        elif old is None:
            yield from at("", sort, name, [Found(JUDGE, "entry-new", "is new", after=entry_words(new))])
        elif old != new:
            own = {**judges, "scales": scales(usual, name), "settings": settings(usual, name)}
            yield from at("", sort, name, _entry(sides, old, new, own if field == "limits" else judges))
    if field == "roles":
        yield from _first_role(before, after)
    if only is None and set(before) == set(after) and list(before) != list(after):
        weight = JUDGE if field in ("roles", "models", "urgencies") else OTHER
        found = Found(weight, "order", "the order changed", before=told(tuple(before)), after=told(tuple(after)))
        yield from at("", sort, "all", [found])


def _first_role(before: Mapping[str, Role], after: Mapping[str, Role]) -> Iterator[Change]:
    """Who does not say who they are walks as the first role: another one that may do more opens its steps to all."""
    old, new = next(iter(before.values())), next(iter(after.values()))
    if old.id != new.id:
        weight = JUDGE if new.id in old.covers else WEAKER
        found = Found(weight, "first-role", "the role that a walk starts with changed", before=old.id, after=new.id)
        yield from at("", "role", "all", [found])


def _entry(sides: Sides, old: Any, new: Any, judges: Mapping[str, Judge]) -> Iterator[Found]:
    if isinstance(old, Value):
        yield from differences(sides, old, new, judges)
    else:
        yield from reworded("the words", "words", JUDGE)(sides, old, new)


def entry_words(entry: Any) -> str:
    """An entry in words."""
    if not isinstance(entry, Value):
        return str(entry)
    words = (getattr(entry, name, "") for name in ("title", "text", "hazard", "look"))
    return next((told(each) for each in words if each), "")


def in_file(kind: str) -> frozenset[str]:
    """What the entries are called that stand in the shared file of this kind."""
    fields = FILES.get(kind, (kind.replace("-", "_"),))
    sorts = {ENTRIES[field][0] for field in fields}
    return frozenset({*sorts, "library"} if kind == "library" else sorts)
