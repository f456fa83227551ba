"""A name leads nowhere.

Meaning:
    A role, notice, tool, consumable, part, access, open item, document, limit, operational check, inspection item,
    urgency, tree, model or cause is named that the library (or the tree) does not have. Or a fix or its operational
    check names a limit that has no value for a model on which the fix is done.

Why:
    A warning that is not found is not shown; a role that is not found keeps everybody from the step.

Wrong:
    fit-cell:
      fix: Fit a new cell
      who: mecanic
      notices: [hot-lense]

Right:
    fit-cell:
      fix: Fit a new cell
      who: mechanic
      notices: [hot-lens]
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from faulttree.model import Action
from faulttree.rules.context import Context, Hit, Path, Shared
from faulttree.rules.known_names import Known, known_in, tree_unknown, unknown
from faulttree.rules.names_of_steps import in_steps

ACTION_NAMES = (("notice", "notices"), ("open item", "opens"), ("open item", "closes"))


def check(context: Context) -> Iterator[Hit]:
    """One hit for each name in the tree; what a repeating step has from its base is reported there."""
    known = known_in(context.library)
    yield from _header(context, known)
    yield from _causes(context, known)
    yield from in_steps(context, known)
    yield from _cases(context, known)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each name in the shared entries."""
    library = shared.library
    known = known_in(library)
    for role in library.roles.values():
        yield from unknown("role", sorted(role.covers), known, ("roles", role.id, "includes"))
    tables = (
        ("accesses", library.accesses, ("tools", "notices", "opens", "closes")),
        ("operational_checks", library.operational_checks, ("tools", "notices", "limits")),
        ("inspection", library.inspection, ()),
    )
    for key, entries, lists in tables:
        for name, entry in entries.items():
            yield from _entry(entry, (key, name), lists, known)
    for tool in library.tools.values():
        yield from unknown("role", (tool.who,), known, ("tools", tool.id, "who"), in_list=False)
    for limit in library.limits.values():
        yield from _data(limit.data, known, ("limits", limit.id, "data"))
    for item in library.inspection.values():
        for name in item.limits:
            yield from unknown("limit", (name,), known, ("inspection", item.id, "limit", name), in_list=False)
        yield from tree_unknown(item.tree, shared.tree_names, ("inspection", item.id, "tree"))


def _entry(entry: Any, path: Path, lists: Iterable[str], known: Known) -> Iterator[Hit]:
    """The names of an access, an operational check or an inspection item."""
    kinds = {"tools": "tool", "notices": "notice", "opens": "open item", "closes": "open item", "limits": "limit"}
    yield from unknown("role", (entry.who,), known, (*path, "who"), in_list=False)
    for key in lists:
        yield from unknown(kinds[key], getattr(entry, key), known, (*path, key))
    yield from _data(getattr(entry, "data", {}), known, (*path, "data"))


def _data(data: Mapping[str, Mapping[str, str]], known: Known, path: Path) -> Iterator[Hit]:
    """The documents of data by model, each once."""
    yield from unknown("document", dict.fromkeys(name for each in data.values() for name in each), known, path)


# -- the header, the causes, the cases


def _header(context: Context, known: Known) -> Iterator[Hit]:
    tree = context.tree
    yield from unknown("urgency", (tree.urgency,), known, ("urgency",), in_list=False)
    yield from unknown("document", tree.written_against, known, ("written_against",))
    yield from _actions(tree.first_actions, known, "first_actions")
    yield from _actions(tree.fallback, known, "fallback")


def _actions(actions: Iterable[Action], known: Known, key: str) -> Iterator[Hit]:
    for at, action in enumerate(actions):
        yield from unknown("role", (action.who,), known, (key, at, "who"), in_list=False)
        for kind, names in ACTION_NAMES:
            yield from unknown(kind, getattr(action, names), known, (key, at, names))


def _causes(context: Context, known: Known) -> Iterator[Hit]:
    for cause in context.variant.causes.values():
        if cause.watch:
            yield from unknown("inspection item", cause.watch, known, ("causes", cause.id, "watch"))


def _cases(context: Context, known: Known) -> Iterator[Hit]:
    variants = context.tree.variants
    names = {
        "model": variants,
        "cause": {name for variant in variants.values() for name in variant.causes},
        "step": {name for variant in variants.values() for name in variant.steps},
    }
    for at, case in enumerate(context.tree.cases):
        path = ("cases", at)
        yield from unknown("role", (case.role,), known, (*path, "role"), in_list=False)
        for kind, name, key in (("model", case.model, "model"), ("cause", case.cause, "cause")):
            yield from unknown(kind, (name,), names, (*path, key), in_list=False)
        yield from unknown("step", (case.arrives,), names, (*path, "arrives"), in_list=False)
