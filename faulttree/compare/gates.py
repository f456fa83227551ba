"""What protects by itself: who may do something, how many, what stands before it, by which data, with an occupant."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from faulttree.compare.changes import JUDGE, OTHER, WEAKER, Found, told
from faulttree.compare.judges import Judge, Sides, flag, judging, named, number
from faulttree.model import Library


def role_of(says: str, kind: str) -> Judge:
    """A judge of a role: lower where more roles may, or, where neither has all of the other, an earlier one."""

    @judging(f"{kind}-lowered", f"{kind}-changed")
    def judge(sides: Sides, before: str, after: str) -> Iterator[Found]:
        lower = is_lower(sides.new_library, before, after)
        weight, which = (WEAKER, f"{kind}-lowered") if lower else (JUDGE, f"{kind}-changed")
        yield Found(weight, which, says, before=before or "anybody", after=after or "anybody")

    return judge


def is_lower(library: Library, before: str, after: str) -> bool:
    """Whether a step for ``after`` may be done by those for whom one for ``before`` is not."""
    might = {name for name in library.roles if library.may(name, before)}
    may = {name for name in library.roles if library.may(name, after)}
    if may >= might or may <= might:
        return may > might
    order = list(library.roles)
    known = [order.index(name) if name in order else len(order) for name in (before, after)]
    return known[1] < known[0]


@judging("tool-role-lowered", "tool-role-changed")
def tool_role(sides: Sides, before: str, after: str) -> Iterator[Found]:
    """Who may use a tool: weaker where one role more may. Without ``who`` a tool is for all but the first role."""
    might, may = _users(sides.new_library, before), _users(sides.new_library, after)
    weight, kind = (WEAKER, "tool-role-lowered") if may - might else (JUDGE, "tool-role-changed")
    values = [who or "all but the first role" for who in (before, after)]
    yield Found(weight, kind, "who may use it changed", (), *values)


def _users(library: Library, who: str) -> set[str]:
    if not who:
        return set(library.roles) - {library.first_role}
    return {name for name in library.roles if library.may(name, who)}


@judging("warning-removed", "warning-new", "order")
def notices(sides: Sides, before: Sequence[str], after: Sequence[str]) -> Iterator[Found]:
    """Warnings, cautions and notes before something: dropped, new, or in another order."""
    for name in before:
        if name not in after:
            signal = signal_of(sides.old_library, name)
            weight = JUDGE if signal == "note" else WEAKER
            yield Found(weight, "warning-removed", f"{signal} {{}} no longer stands before it", (name,))
    for name in after:
        if name not in before:
            yield Found(JUDGE, "warning-new", f"{signal_of(sides.new_library, name)} {{}} is new before it", (name,))
    if set(before) == set(after):
        says = "the order of the notices changed"
        yield Found(JUDGE, "order", says, before=told(before), after=told(after))


def signal_of(library: Library, name: str) -> str:
    """The word of a notice; one that is not known counts as a warning."""
    return library.notices[name].signal if name in library.notices else "warning"


@judging("data-dropped", "data-changed")
def cited(sides: Sides, before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Found]:
    """The approved data that work rests on; for each model, where it is by model."""
    fewer = not after or any(not after.get(name) for name, each in before.items() if isinstance(each, Mapping) and each)
    weight, kind = (WEAKER, "data-dropped") if fewer and before else (JUDGE, "data-changed")
    says = "the approved data is dropped" if weight == WEAKER else "the approved data changed"
    yield Found(weight, kind, says, before=told(before), after=told(after))


def for_models(lost: str) -> Judge:
    """A judge of the models that something is for, where none named means all; ``lost`` weighs one less."""

    @judging("model-dropped", "model-new", "models-stated")
    def judge(sides: Sides, before: Sequence[str], after: Sequence[str]) -> Iterator[Found]:
        was, now = before or tuple(sides.old_library.models), after or tuple(sides.new_library.models)
        # A model that the library itself gained or lost is told there.
        gone = [name for name in was if name not in now and name in sides.new_library.models]
        came = [name for name in now if name not in was and name in sides.old_library.models]
        for name in gone:
            yield Found(lost, "model-dropped", "is no longer for model {}", (name,))
        for name in came:
            yield Found(JUDGE, "model-new", "is for model {} too", (name,))
        if not gone and not came:
            values = [told(side) if side else "all models" for side in (before, after)]
            yield Found(OTHER, "models-stated", "is for the same models, told otherwise", (), *values)

    return judge


ROLE = role_of("who does it changed", "role")
OPENS = named("open item", "opens", WEAKER, JUDGE, "is no longer opened", "is opened now")
CLOSES = named("open item", "closes", JUDGE, WEAKER, "is no longer closed", "counts as closed now")
PEOPLE = number("the number of people", "people", WEAKER, JUDGE)
OCCUPIED = flag(
    "occupant-gate", WEAKER, "may now be done with an occupant", JUDGE, "may no longer be done with an occupant"
)
"""The judges that steps and shared entries have in common."""
