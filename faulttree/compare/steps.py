"""Steps and causes: checks, fixes and ends with everything that they say, and what causes show."""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.compare.answers import STRICTNESS, findings, is_opened, route, strictness
from faulttree.compare.changes import JUDGE, OTHER, WEAKER, Found, told
from faulttree.compare.gates import CLOSES, OCCUPIED, OPENS, PEOPLE, ROLE, cited, notices, role_of, signal_of
from faulttree.compare.intervals import interval
from faulttree.compare.judges import (
    Judge,
    Sides,
    differences,
    flag,
    judging,
    lines,
    named,
    number,
    reworded,
    table,
)
from faulttree.compare.work import lift, operational_check, recheck, second_inspection, torques
from faulttree.model import Check, End, Fix, Step, Work
from faulttree.value import replace


@judging("end-kind")
def end_kind(sides: Sides, before: str, after: str) -> Iterator[Found]:
    """The word of an end."""
    weight = WEAKER if STRICTNESS[after] < STRICTNESS[before] else JUDGE
    yield Found(weight, "end-kind", "the kind of end changed", before=before, after=after)


ANSWERED_FOR = table("the cause", "answers-for", JUDGE, JUDGE, JUDGE)
"""The causes that an end answers for. One more of them is a claim that nothing here can test."""

ACCEPTED = table("the accepted cause", "accepted-cause", JUDGE, WEAKER, JUDGE)
"""The causes with which a deferral lets the equipment be used."""

WORK: dict[str, Judge] = {
    "text": reworded("the title", "title", JUDGE),
    "who": ROLE,
    "do": lines("a line of what to do", "do", JUDGE),
    "minutes": reworded("the minutes", "minutes"),
    "people": PEOPLE,
    "lift": lift,
    "tools": named("tool", "tool", JUDGE, JUDGE),
    "consumables": named("consumable", "consumable", JUDGE, JUDGE),
    "notices": notices,
    "accesses": named("access", "access", JUDGE, JUDGE),
    "opens": OPENS,
    "closes": CLOSES,
    "occupied": OCCUPIED,
    "data": cited,
    "picture": reworded("the picture", "picture", JUDGE),
}
CHECK: dict[str, Judge] = {
    **WORK,
    "text": reworded("the question", "question", JUDGE),
    "findings": findings,
    "unable": route("unable"),
    "measure": reworded("what is measured", "measure", JUDGE, lost=WEAKER),
    "sure": number("the sureness of the reading", "sure", JUDGE, WEAKER),
    "usual": named("the usual finding", "usual", JUDGE, JUDGE),
    "table_only": reworded("whether it is asked at all", "asked", JUDGE),
}
FIX: dict[str, Judge] = {
    **WORK,
    "clears": named(
        "the cause", "clears", JUDGE, JUDGE, "is no longer cleared by it", "is said to be cleared by it now"
    ),
    "parts": table("part", "part", JUDGE, JUDGE, JUDGE),
    "torques": torques,
    "limits": named("limit", "limit", WEAKER, JUDGE, "no longer judges it", "judges it now"),
    "wait": number("the wait before the operational check", "wait", WEAKER, JUDGE),
    "second_inspection": second_inspection,
    "operational_check": operational_check,
    "did": reworded("the wording for the entry", "entry-wording"),
    "recheck": recheck,
    "failed": route("failed"),
    "cannot": route("cannot"),
    "misses": named(
        "the cause",
        "misses",
        WEAKER,
        JUDGE,
        "is said to be found by its operational check now",
        "can remain unseen now",
    ),
    "try_early": reworded("whether it may be tried early", "try-early", JUDGE),
    "then": reworded("the tree that is offered next", "next-tree", JUDGE),
}
END: dict[str, Judge] = {
    "kind": end_kind,
    "who": ROLE,
    "do": lines("a line of what to do", "do", JUDGE),
    "report": reworded("the report", "report", OTHER, lost=JUDGE),
    "recheck": recheck,
    "opens": OPENS,
    "under": cited,
    "until": interval("how long it is deferred", "deferral-interval"),
    "when": lines("a condition of the deferral", "condition", WEAKER),
    "cannot": route("cannot"),
    "to": role_of("who it is handed over to changed", "hand-over"),
    "data": cited,
    "tree": reworded("the other tree", "other-tree", JUDGE),
    "named": ANSWERED_FOR,
    "reportable": flag("reportable", JUDGE, "is reportable now", WEAKER, "is no longer reportable"),
}
CAUSE: dict[str, Judge] = {
    "text": reworded("its name", "name", JUDGE),
    "why": reworded("the reason for it", "reason"),
    "weight": reworded("the weight", "weight"),
    "shows": table("what it shows at", "shows", JUDGE, JUDGE, JUDGE),
    "found": reworded("the wording for the entry", "entry-wording"),
    "watch": named("inspection item", "watch", JUDGE, JUDGE),
    "by_elimination": flag(
        "by-elimination", JUDGE, "is fixed by elimination now", WEAKER, "no longer has to be the last that is left"
    ),
    "also_look": lines("a look at other equipment", "also-look", WEAKER),
    "reportable": flag("reportable", JUDGE, "is reportable now", WEAKER, "is no longer reportable"),
    "note": reworded("the note", "note", JUDGE),
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


def _in_full(fix: Fix) -> Fix:
    """The fix with the role of its second inspection stated."""
    look = fix.second_inspection
    return replace(fix, second_inspection=replace(look, who=fix.inspector)) if look else fix


def _step_differences(sides: Sides, old: Step, new: Step) -> Iterator[Found]:
    if isinstance(old, Check) and isinstance(new, Check):
        yield from differences(sides, old, new, CHECK)
    elif isinstance(old, Fix) and isinstance(new, Fix):
        yield from differences(sides, _in_full(old), _in_full(new), FIX)
    elif isinstance(old, End) and isinstance(new, End):
        judges = {**END, "named": ACCEPTED} if new.kind == "deferred" else END
        yield from differences(sides, old, new, judges)
    else:
        weight = WEAKER if is_opened(strictness(sides.old, old.id), strictness(sides.new, new.id)) else JUDGE
        says = f"was {_sort(old)} and is {_sort(new)} now"
        yield Found(weight, "step-kind", says, before=title(old), after=title(new))
        if isinstance(old, Work) and isinstance(new, Work):
            for name, judge in WORK.items():
                if getattr(old, name) != getattr(new, name):
                    yield from judge(sides, getattr(old, name), getattr(new, name))


def _sort(step: Step) -> str:
    return "an end" if isinstance(step, End) else f"a {type(step).__name__.lower()}"


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
