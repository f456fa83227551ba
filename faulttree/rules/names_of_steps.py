"""Names that steps have and the library does not, for the rule name-unknown."""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Check, End, Fix, Library, Recheck, Tree, Work
from faulttree.rules.advice import instead
from faulttree.rules.context import Context, Hit, Path
from faulttree.rules.known_names import Known, tree_unknown, unknown

WORK_NAMES = (
    ("tool", "tools", "tools"),
    ("consumable", "consumables", "consumables"),
    ("access", "accesses", "access"),
    ("open item", "opens", "opens"),
    ("open item", "closes", "closes"),
    ("document", "data", "data"),
)
"""Names of checks and fixes: kind, attribute of the model, key of the file."""


def in_steps(context: Context, known: Known) -> Iterator[Hit]:
    """One hit for each name; what a repeating step has from its base is reported there."""
    yield from _own_work(context, known)
    for step in context.variant.steps.values():
        if isinstance(step, Check) and step.base == step.id:
            yield from _check_step(step, known)
        elif isinstance(step, Fix) and step.base == step.id:
            yield from _fix_step(context, step, known)
        elif isinstance(step, End):
            yield from _end_step(context, step, known)


def _own_work(context: Context, known: Known) -> Iterator[Hit]:
    roles, notices = known["role"], known["notice"]
    for step in context.own_work:
        if step.who and step.who not in roles:
            yield from unknown("role", (step.who,), known, ("steps", step.id, "who"), in_list=False)
        for name in step.notices:
            if name not in notices and not _from_access(context.library, step, name):
                yield from unknown("notice", (name,), known, ("steps", step.id, "notices"))
    for kind, attribute, key in WORK_NAMES:
        have = known[kind]
        for step in context.own_work:
            for name in getattr(step, attribute):
                if name not in have:
                    yield from unknown(kind, (name,), known, ("steps", step.id, key))


def _from_access(library: Library, step: Work, notice: str) -> bool:
    """Whether the notice comes from an access, where it is reported."""
    return any(notice in library.accesses[name].notices for name in step.accesses if name in library.accesses)


def _check_step(step: Check, known: Known) -> Iterator[Hit]:
    path = ("steps", step.id)
    if step.measure and step.measure not in known["limit"]:
        yield from unknown("limit", (step.measure,), known, (*path, "measure"), in_list=False)
    for finding in step.findings:
        if finding.opens or finding.closes:
            place = (*path, "findings", finding.label)
            yield from unknown("open item", finding.opens, known, (*place, "opens"))
            yield from unknown("open item", finding.closes, known, (*place, "closes"))


def _fix_step(context: Context, step: Fix, known: Known) -> Iterator[Hit]:
    path = ("steps", step.id)
    if step.parts:
        yield from unknown("part", step.parts, known, (*path, "parts"))
    yield from _limits(context, step, known)
    if step.operational_check not in known["operational check"]:
        place = (*path, "operational_check")
        yield from unknown("operational check", (step.operational_check,), known, place, in_list=False)
    if step.second_inspection:
        yield from unknown(
            "role", (step.second_inspection.who,), known, (*path, "second_inspection", "who"), in_list=False
        )
    if step.recheck:
        yield from _recheck(step.recheck, known, path)
    if step.then:
        yield from tree_unknown(step.then, context.known_trees, (*path, "then", "tree"))


def _limits(context: Context, step: Fix, known: Known) -> Iterator[Hit]:
    """The limits of a fix, and those of it and of its operational check that have no value for a model."""
    yield from unknown("limit", step.limits, known, ("steps", step.id, "limits"))
    check = context.library.operational_checks.get(step.operational_check)
    places: dict[str, Path] = dict.fromkeys(check.limits if check else (), ("steps", step.id, "operational_check"))
    places |= {name: ("steps", step.id, "limits", name, "~") for name in step.limits}
    for name, place in places.items():
        limit = context.library.limits.get(name)
        if limit and context.variant.model not in limit.scales:
            yield Hit(place, f'the limit "{name}" has no value for the model', "give it one, or name another limit")


def _recheck(recheck: Recheck | None, known: Known, path: Path) -> Iterator[Hit]:
    if recheck:
        yield from unknown("role", (recheck.who,), known, (*path, "recheck", "who"), in_list=False)


def _end_step(context: Context, end: End, known: Known) -> Iterator[Hit]:
    path = ("steps", end.id)
    for role, key in ((end.who, "who"), (end.to, "to")):
        yield from unknown("role", (role,), known, (*path, key), in_list=False)
    yield from unknown("open item", end.opens, known, (*path, "opens"))
    yield from _recheck(end.recheck, known, path)
    yield from unknown("document", end.under, known, (*path, "under"))
    yield from unknown("document", end.data, known, (*path, "data"))
    yield from tree_unknown(end.tree, context.known_trees, (*path, "tree"))
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
