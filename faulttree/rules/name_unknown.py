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

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from typing import Any

from faulttree.model import Action, Check, End, Fix, Library, Recheck, Tree, Work
from faulttree.rules.advice import instead
from faulttree.rules.context import Context, Hit, Path, Shared

Known = Mapping[str, Collection[str]]

HOMES: Mapping[str, tuple[str, Callable[[Library], Collection[str]]]] = {
    "role": ("library.yaml", lambda library: library.roles),
    "urgency": ("library.yaml", lambda library: library.urgencies),
    "access": ("library.yaml", lambda library: library.accesses),
    "open item": ("library.yaml", lambda library: library.open_items),
    "document": ("library.yaml", lambda library: library.documents),
    "notice": ("notices.yaml", lambda library: library.notices),
    "limit": ("limits.yaml", lambda library: library.limits),
    "part": ("parts.yaml", lambda library: library.parts),
    "consumable": ("parts.yaml", lambda library: library.consumables),
    "tool": ("tools.yaml", lambda library: library.tools),
    "operational check": ("operational-checks.yaml", lambda library: library.operational_checks),
    "inspection item": ("inspection.yaml", lambda library: library.inspection),
}
"""Kind of name to the file that has its entries, and to the entries."""

PART_ADVICE = "correct the number from the parts list, or add it to parts.yaml"
"""No guess: a number that is like another is another part."""

WORK_NAMES = (
    ("tool", "tools", "tools"),
    ("consumable", "consumables", "consumables"),
    ("access", "accesses", "access"),
    ("open item", "opens", "opens"),
    ("open item", "closes", "closes"),
    ("document", "data", "data"),
)
"""Names of checks and fixes: kind, attribute of the model, key of the file."""
ACTION_NAMES = (("notice", "notices"), ("open item", "opens"), ("open item", "closes"))


def check(context: Context) -> Iterator[Hit]:
    """One hit for each name in the tree; what a repeating step has from its base is reported there."""
    known = {kind: entries(context.library) for kind, (_, entries) in HOMES.items()}
    yield from _header(context, known)
    yield from _causes(context, known)
    yield from _own_work(context, known)
    for step in context.variant.steps.values():
        if isinstance(step, Check) and step.base == step.id:
            yield from _check_step(step, known)
        elif isinstance(step, Fix) and step.base == step.id:
            yield from _fix_step(context, step, known)
        elif isinstance(step, End):
            yield from _end_step(context, step, known)
    yield from _cases(context, known)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each name in the shared entries."""
    library = shared.library
    known = {kind: entries(library) for kind, (_, entries) in HOMES.items()}
    for role in library.roles.values():
        yield from _unknown("role", sorted(role.covers), known, ("roles", role.id, "includes"))
    tables = (
        ("accesses", library.accesses, ("tools", "notices", "opens", "closes")),
        ("operational_checks", library.operational_checks, ("tools", "notices", "limits")),
        ("inspection", library.inspection, ()),
    )
    for key, entries, lists in tables:
        for name, entry in entries.items():
            yield from _entry(entry, (key, name), lists, known)
    for tool in library.tools.values():
        yield from _unknown("role", (tool.who,), known, ("tools", tool.id, "who"), in_list=False)
    for limit in library.limits.values():
        yield from _data(limit.data, known, ("limits", limit.id, "data"))
    for item in library.inspection.values():
        yield from _unknown("limit", (item.limit,), known, ("inspection", item.id, "limit"), in_list=False)
        yield from _tree(item.tree, shared.tree_names, ("inspection", item.id, "tree"))


def _entry(entry: Any, path: Path, lists: Iterable[str], known: Known) -> Iterator[Hit]:
    """The names of an access, an operational check or an inspection item."""
    kinds = {"tools": "tool", "notices": "notice", "opens": "open item", "closes": "open item", "limits": "limit"}
    yield from _unknown("role", (entry.who,), known, (*path, "who"), in_list=False)
    for key in lists:
        yield from _unknown(kinds[key], getattr(entry, key), known, (*path, key))
    yield from _data(getattr(entry, "data", {}), known, (*path, "data"))


def _data(data: Mapping[str, Mapping[str, str]], known: Known, path: Path) -> Iterator[Hit]:
    """The documents of data by model, each once."""
    yield from _unknown("document", dict.fromkeys(name for each in data.values() for name in each), known, path)


def _unknown(kind: str, names: Iterable[str], known: Known, path: Path, in_list: bool = True) -> Iterator[Hit]:
    """The names that ``known`` does not have. In a list or mapping each stands at itself, else at ``path``."""
    have = known[kind]
    for name in names:
        if name and name not in have:
            advice = (
                PART_ADVICE if kind == "part" else instead(name, have, f"correct the name, or add it to {_home(kind)}")
            )
            yield Hit((*path, name, "~") if in_list else path, f'there is no {kind} "{name}"', advice)


def _home(kind: str) -> str:
    return HOMES[kind][0] if kind in HOMES else "the tree"


def _tree(name: str, trees: Collection[str] | None, path: Path) -> Iterator[Hit]:
    if name and trees is not None and name not in trees:
        advice = instead(name, trees, "write the name of a tree of this library")
        yield Hit(path, f'there is no tree "{name}"', advice)


# -- the header, the causes, the cases


def _header(context: Context, known: Known) -> Iterator[Hit]:
    tree = context.tree
    yield from _unknown("urgency", (tree.urgency,), known, ("urgency",), in_list=False)
    yield from _unknown("document", tree.written_against, known, ("written_against",))
    yield from _actions(tree.first_actions, known, "first_actions")
    yield from _actions(tree.fallback, known, "fallback")


def _actions(actions: Iterable[Action], known: Known, key: str) -> Iterator[Hit]:
    for at, action in enumerate(actions):
        yield from _unknown("role", (action.who,), known, (key, at, "who"), in_list=False)
        for kind, names in ACTION_NAMES:
            yield from _unknown(kind, getattr(action, names), known, (key, at, names))


def _causes(context: Context, known: Known) -> Iterator[Hit]:
    for cause in context.variant.causes.values():
        if cause.watch:
            yield from _unknown("inspection item", cause.watch, known, ("causes", cause.id, "watch"))


def _cases(context: Context, known: Known) -> Iterator[Hit]:
    variants = context.tree.variants
    names = {
        "model": variants,
        "cause": {name for variant in variants.values() for name in variant.causes},
        "step": {name for variant in variants.values() for name in variant.steps},
    }
    for at, case in enumerate(context.tree.cases):
        path = ("cases", at)
        yield from _unknown("role", (case.role,), known, (*path, "role"), in_list=False)
        for kind, name, key in (("model", case.model, "model"), ("cause", case.cause, "cause")):
            yield from _unknown(kind, (name,), names, (*path, key), in_list=False)
        yield from _unknown("step", (case.arrives,), names, (*path, "arrives"), in_list=False)


# -- the steps


def _own_work(context: Context, known: Known) -> Iterator[Hit]:
    roles, notices = known["role"], known["notice"]
    for step in context.own_work:
        if step.who and step.who not in roles:
            yield from _unknown("role", (step.who,), known, ("steps", step.id, "who"), in_list=False)
        for name in step.notices:
            if name not in notices and not _from_access(context.library, step, name):
                yield from _unknown("notice", (name,), known, ("steps", step.id, "notices"))
    for kind, attribute, key in WORK_NAMES:
        have = known[kind]
        for step in context.own_work:
            for name in getattr(step, attribute):
                if name not in have:
                    yield from _unknown(kind, (name,), known, ("steps", step.id, key))


def _from_access(library: Library, step: Work, notice: str) -> bool:
    """Whether the notice comes from an access, where it is reported."""
    return any(notice in library.accesses[name].notices for name in step.accesses if name in library.accesses)


def _check_step(step: Check, known: Known) -> Iterator[Hit]:
    path = ("steps", step.id)
    if step.measure and step.measure not in known["limit"]:
        yield from _unknown("limit", (step.measure,), known, (*path, "measure"), in_list=False)
    for finding in step.findings:
        if finding.opens or finding.closes:
            place = (*path, "findings", finding.label)
            yield from _unknown("open item", finding.opens, known, (*place, "opens"))
            yield from _unknown("open item", finding.closes, known, (*place, "closes"))


def _fix_step(context: Context, step: Fix, known: Known) -> Iterator[Hit]:
    path = ("steps", step.id)
    if step.parts:
        yield from _unknown("part", step.parts, known, (*path, "parts"))
    yield from _limits(context, step, known)
    if step.operational_check not in known["operational check"]:
        place = (*path, "operational_check")
        yield from _unknown("operational check", (step.operational_check,), known, place, in_list=False)
    if step.second_inspection:
        yield from _unknown(
            "role", (step.second_inspection.who,), known, (*path, "second_inspection", "who"), in_list=False
        )
    if step.recheck:
        yield from _recheck(step.recheck, known, path)
    if step.then:
        yield from _tree(step.then, context.known_trees, (*path, "then", "tree"))


def _limits(context: Context, step: Fix, known: Known) -> Iterator[Hit]:
    """The limits of a fix, and those of it and of its operational check that have no value for a model."""
    yield from _unknown("limit", step.limits, known, ("steps", step.id, "limits"))
    check = context.library.operational_checks.get(step.operational_check)
    places: dict[str, Path] = dict.fromkeys(check.limits if check else (), ("steps", step.id, "operational_check"))
    places |= {name: ("steps", step.id, "limits", name, "~") for name in step.limits}
    for name, place in places.items():
        limit = context.library.limits.get(name)
        if limit and context.variant.model not in limit.scales:
            yield Hit(place, f'the limit "{name}" has no value for the model', "give it one, or name another limit")


def _recheck(recheck: Recheck | None, known: Known, path: Path) -> Iterator[Hit]:
    if recheck:
        yield from _unknown("role", (recheck.who,), known, (*path, "recheck", "who"), in_list=False)


def _end_step(context: Context, end: End, known: Known) -> Iterator[Hit]:
    path = ("steps", end.id)
    for role, key in ((end.who, "who"), (end.to, "to")):
        yield from _unknown("role", (role,), known, (*path, key), in_list=False)
    yield from _recheck(end.recheck, known, path)
    yield from _unknown("document", end.under, known, (*path, "under"))
    yield from _unknown("document", end.data, known, (*path, "data"))
    yield from _tree(end.tree, context.known_trees, (*path, "tree"))
    if other := context.trees.get(end.tree):
        yield from _there(context, end, other)


def _there(context: Context, end: End, other: Tree) -> Iterator[Hit]:
    """The causes of the other tree that stand for those here, on every model."""
    path = ("steps", end.id)
    for model in context.models:
        variant = other.variants.get(model)
        if variant is None:
            message = f'the tree "{other.id}" is not for model "{model}"'
            yield Hit((*path, "tree"), message, "send to a tree that is, or keep the step from the model by `models`")
            continue
        for cause, there in end.named.items():
            for name in there:
                if name not in variant.causes:
                    advice = instead(name, variant.causes, "write the name of a cause there")
                    place = (*path, "for", cause, name, "~")
                    yield Hit(place, f'there is no cause "{name}" in the tree "{other.id}"', advice)
