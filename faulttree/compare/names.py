"""The old side read by the new names: every reference of the model to a step, a cause or a shared entry, in one table.

What was renamed is recognised in `renaming`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from faulttree.model import Library, Role, Tree
from faulttree.value import EMPTY, Value, replace, stated

STEPS, CAUSES, ROLES = "steps", "causes", "roles"

Names = Mapping[str, Mapping[str, str]]
"""By the kind of thing, old name to new name."""

REFERS: dict[str, tuple[str, ...]] = {
    "notices": ("notices",),
    "accesses": ("accesses",),
    "tools": ("tools",),
    "consumables": ("consumables",),
    "opens": ("open_items",),
    "closes": ("open_items",),
    "limits": ("limits",),
    "measure": ("limits",),
    "limit": ("limits",),
    "also_limits": ("limits",),
    "operational_check": ("operational_checks",),
    "parts": ("parts",),
    "watch": ("inspection",),
    "base": (STEPS,),
    "goto": (STEPS,),
    "start": (STEPS,),
    "arrives": (STEPS,),
    "passed_over": (STEPS, STEPS),
    "steps": (STEPS,),
    "shows": (STEPS,),
    "causes": (CAUSES,),
    "clears": (CAUSES,),
    "misses": (CAUSES,),
    "cause": (CAUSES,),
    "named": (CAUSES,),
    "data": ("documents",),
    "under": ("documents",),
    "written_against": ("documents",),
    "who": (ROLES,),
    "role": (ROLES,),
    "covers": (ROLES,),
    "urgency": ("urgencies",),
}
"""Field to what its names are: of a text the text, of a list its items, of a mapping its keys, and its values second.

The `to` of a route is a step; that of an end is a role. The `id` of a step or a cause is told by where it stands.
"""


def with_names(value: Any, names: Names, own: str = "") -> Any:
    """``value`` with old names replaced by new ones; ``own`` is the kind of thing whose entries it is."""
    if isinstance(value, Value):
        return replace(value, **dict(_fields(value, names, own)))
    if isinstance(value, Mapping):
        return {key: with_names(each, names, own) for key, each in value.items()}
    if isinstance(value, tuple):
        return tuple(with_names(each, names) for each in value)
    return value


def _fields(value: Value, names: Names, own: str) -> Iterator[tuple[str, Any]]:
    for field, each in stated(value).items():
        kinds = REFERS.get(field, ())
        if field == "id":
            kinds = (own,)
        elif field == "to":
            kinds = (STEPS,) if type(value).__name__ == "Route" else (ROLES,)
        elif isinstance(value, Library):
            kinds = (field,)
        elif field == "data" and any(isinstance(cited, Mapping) for cited in each.values()):
            # What is cited for each model.
            kinds = ("models", *kinds)
        elif field == "title" and isinstance(value, Role) and each == value.id:
            # A role without a title is called by its name.
            kinds = (ROLES,)
        yield field, _renamed(with_names(each, names, kinds[0] if kinds else ""), kinds, names)


def _renamed(value: Any, kinds: tuple[str, ...], names: Names) -> Any:
    if not any(names.get(kind) for kind in kinds):
        return value
    known = names.get(kinds[0], EMPTY)
    if isinstance(value, str):
        return known.get(value, value)
    if isinstance(value, tuple | frozenset):
        return type(value)(known.get(each, each) if isinstance(each, str) else each for each in value)
    if isinstance(value, Mapping):
        return {known.get(key, key): _renamed(each, kinds[1:], names) for key, each in value.items()}
    return value


def tree_with_names(tree: Tree, names: Names) -> Tree:
    """``tree`` by the new names of shared entries."""
    renamed: Tree = with_names(tree, names)
    return renamed
