"""Steps and causes: checks, fixes and ends with everything that they say, and what causes show."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from faulttree.compare.answers import STRICTNESS, findings, route
from faulttree.compare.changes import JUDGE, OTHER, WEAKER, Found, told
from faulttree.compare.judges import (
    CLOSES,
    OCCUPIED,
    OPENS,
    PEOPLE,
    Judge,
    Sides,
    cited,
    differences,
    flag,
    lines,
    named,
    notices,
    number,
    reworded,
    role,
    signal_of,
    table,
)
from faulttree.model import (
    Check,
    End,
    Fix,
    Lift,
    Recheck,
    SecondInspection,
    Step,
    Torque,
    Work,
)


def lift(sides: Sides, before: Lift | None, after: Lift | None) -> Iterator[Found]:
    """A manual lift: weaker where it is no longer stated, or where a person has more to lift."""
    heavier = before and after and after.mass / after.people > before.mass / before.people
    weight = WEAKER if after is None or heavier else JUDGE
    yield Found(weight, "lift", "the lift changed", before=told(before), after=told(after))


def torques(sides: Sides, before: Sequence[Torque], after: Sequence[Torque]) -> Iterator[Found]:
    """Torques by fastener."""
    old, new = ({each.where: each.value for each in side} for side in (before, after))
    if old == new:
        yield Found(JUDGE, "torque", "the torques changed", before=told(before), after=told(after))
    yield from table("torque", WEAKER, JUDGE, JUDGE)(sides, old, new)


def second_inspection(sides: Sides, before: SecondInspection | None, after: SecondInspection | None) -> Iterator[Found]:
    """The hold point."""
    if before and after:
        judges: dict[str, Judge] = {"look": reworded("what is looked at", JUDGE), "who": role}
        for found in differences(sides, before, after, judges):
            yield found._replace(says=f"second inspection: {found.says}")
    elif before:
        yield Found(WEAKER, "second-inspection-dropped", "the second inspection is dropped", before=before.look)
    elif after:
        yield Found(JUDGE, "second-inspection-new", "a second inspection is new", after=after.look)


def recheck(sides: Sides, before: Recheck | None, after: Recheck | None) -> Iterator[Found]:
    """The look that is due later."""
    if before and after:
        judges: dict[str, Judge] = {
            "after": reworded("when it is due", JUDGE),
            "who": role,
            "look": reworded("what is looked at", JUDGE),
        }
        for found in differences(sides, before, after, judges):
            yield found._replace(says=f"recheck: {found.says}")
    elif before:
        yield Found(WEAKER, "recheck-dropped", "the recheck is dropped", before=told(before))
    else:
        yield Found(JUDGE, "recheck-new", "a recheck is new", after=told(after))


def end_kind(sides: Sides, before: str, after: str) -> Iterator[Found]:
    """The word of an end."""
    weight = WEAKER if STRICTNESS[after] < STRICTNESS[before] else JUDGE
    yield Found(weight, "end-kind", "the kind of end changed", before=before, after=after)


def answered_for(sides: Sides, before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Found]:
    """The causes that an end answers for. One more of them is a claim that nothing here can test."""
    yield from table("the cause", JUDGE, JUDGE, JUDGE)(sides, before, after)


def accepted(sides: Sides, before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Found]:
    """The causes with which a deferral lets the equipment be used."""
    yield from table("the accepted cause", JUDGE, WEAKER, JUDGE)(sides, before, after)


WORK: dict[str, Judge] = {
    "text": reworded("the title", JUDGE),
    "who": role,
    "do": lines("a line of what to do", JUDGE),
    "minutes": reworded("the minutes"),
    "people": PEOPLE,
    "lift": lift,
    "tools": named("tool", JUDGE, JUDGE),
    "consumables": named("consumable", JUDGE, JUDGE),
    "notices": notices,
    "accesses": named("access", JUDGE, JUDGE),
    "opens": OPENS,
    "closes": CLOSES,
    "occupied": OCCUPIED,
    "data": cited,
    "picture": reworded("the picture", JUDGE),
}
CHECK: dict[str, Judge] = {
    **WORK,
    "text": reworded("the question", JUDGE),
    "findings": findings,
    "unable": route("unable"),
    "measure": reworded("what is measured", JUDGE, lost=WEAKER),
    "sure": number("the sureness of the reading", JUDGE, WEAKER),
    "usual": named("the usual finding", JUDGE, JUDGE),
    "table_only": reworded("whether it is asked at all", JUDGE),
}
FIX: dict[str, Judge] = {
    **WORK,
    "clears": named(
        "the cause", JUDGE, JUDGE, "is no longer cleared by it", "is said to be cleared by it now", "clears"
    ),
    "parts": table("part", JUDGE, JUDGE, JUDGE),
    "torques": torques,
    "limits": named("limit", WEAKER, JUDGE, "no longer judges it", "judges it now"),
    "wait": number("the wait before the operational check", WEAKER, JUDGE),
    "second_inspection": second_inspection,
    "operational_check": reworded("the operational check", JUDGE, lost=WEAKER),
    "did": reworded("the wording for the entry"),
    "recheck": recheck,
    "failed": route("failed"),
    "cannot": route("cannot"),
    "misses": named(
        "the cause",
        WEAKER,
        JUDGE,
        "is said to be found by its operational check now",
        "can remain unseen now",
        "misses",
    ),
    "try_early": reworded("whether it may be tried early", JUDGE),
    "then": reworded("the tree that is offered next", JUDGE),
}
END: dict[str, Judge] = {
    "kind": end_kind,
    "who": role,
    "do": lines("a line of what to do", JUDGE),
    "report": reworded("the report", OTHER, lost=JUDGE),
    "recheck": recheck,
    "under": cited,
    "until": reworded("how long it is deferred", JUDGE),
    "when": lines("a condition of the deferral", WEAKER),
    "cannot": route("cannot"),
    "to": reworded("who it is handed over to", JUDGE),
    "data": cited,
    "tree": reworded("the other tree", JUDGE),
    "named": answered_for,
    "reportable": flag(JUDGE, "is reportable now", WEAKER, "is no longer reportable", "reportable"),
}
CAUSE: dict[str, Judge] = {
    "text": reworded("its name", JUDGE),
    "why": reworded("the reason for it"),
    "weight": reworded("the weight"),
    "shows": table("what it shows at", JUDGE, JUDGE, JUDGE),
    "found": reworded("the wording for the entry"),
    "watch": named("inspection item", JUDGE, JUDGE),
    "by_elimination": flag(
        JUDGE, "is fixed by elimination now", WEAKER, "no longer has to be the last that is left", "by-elimination"
    ),
    "also_look": lines("a look at other equipment", WEAKER),
    "reportable": flag(JUDGE, "is reportable now", WEAKER, "is no longer reportable", "reportable"),
    "note": reworded("the note", JUDGE),
}


def step_differences(sides: Sides, old: Step, new: Step) -> Iterator[Found]:
    """What differs between two steps of one name; a warning that only stands later now is told so."""
    for found in _step_differences(sides, old, new):
        to = sides.later.get((old.id, found.names[0])) if found.kind == "warning-removed" else None
        if to is None:
            yield found
        else:
            says = f"{signal_of(sides.old_library, found.names[0])} {{}} comes later now, at {{}}"
            yield found._replace(kind="warning-later", says=says, names=(found.names[0], to))


def _step_differences(sides: Sides, old: Step, new: Step) -> Iterator[Found]:
    if isinstance(old, Check) and isinstance(new, Check):
        yield from differences(sides, old, new, CHECK)
    elif isinstance(old, Fix) and isinstance(new, Fix):
        yield from differences(sides, old, new, FIX)
    elif isinstance(old, End) and isinstance(new, End):
        judges = {**END, "named": accepted} if new.kind == "deferred" else END
        yield from differences(sides, old, new, judges)
    else:
        words = (type(old).__name__.lower(), type(new).__name__.lower())
        yield Found(
            JUDGE, "step-kind", f"was a {words[0]} and is a {words[1]} now", before=title(old), after=title(new)
        )
        if isinstance(old, Work) and isinstance(new, Work):
            for name, judge in WORK.items():
                if getattr(old, name) != getattr(new, name):
                    yield from judge(sides, getattr(old, name), getattr(new, name))


def title(step: Step) -> str:
    """A step in words."""
    return step.kind if isinstance(step, End) else step.text


def summary(step: Step) -> str:
    """A step in words with its gates: who does it, how many, whether with an occupant, and its notices."""
    if isinstance(step, End):
        return f"{title(step)} ({step.who})" if step.who else title(step)
    gates = [step.who or "anybody"]
    gates += [f"{step.people} people"] if step.people > 1 else []
    gates += ["with an occupant"] if step.occupied else []
    gates += [f"notices {told(step.notices)}"]
    return f"{step.text} ({'; '.join(gates)})"
