"""Parts of work that need more than a word before and after: lifts, torques, second looks, the operational check."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import zip_longest

from faulttree.compare.changes import JUDGE, WEAKER, Found, told
from faulttree.compare.entries import ENTRIES
from faulttree.compare.gates import ROLE
from faulttree.compare.intervals import interval
from faulttree.compare.judges import Judge, Sides, differences, judging, kinds_of, reworded
from faulttree.model import Lift, OperationalCheck, Recheck, SecondInspection, Torque
from faulttree.value import EMPTY, replace


@judging("lift")
def lift(sides: Sides, before: Lift | None, after: Lift | None) -> Iterator[Found]:
    """A manual lift: weaker where it is no longer stated, or where a person has more to lift."""
    heavier = before and after and after.mass / after.people > before.mass / before.people
    weight = WEAKER if after is None or heavier else JUDGE
    yield Found(weight, "lift", "the lift changed", before=told(before), after=told(after))


@judging("torque-dropped", "torque-added", "torque-changed", "torque-order")
def torques(sides: Sides, before: Sequence[Torque], after: Sequence[Torque]) -> Iterator[Found]:
    """Torques by fastener; several fasteners may have one name."""
    gone, came = Counter(before) - Counter(after), Counter(after) - Counter(before)
    by_place: dict[str, tuple[list[float], list[float]]] = {}
    for at, side in enumerate((gone, came)):
        for each in side.elements():
            by_place.setdefault(each.where, ([], []))[at].append(each.value)
    for where, values in by_place.items():
        for old, new in zip_longest(*values):
            if new is None:
                yield Found(WEAKER, "torque-dropped", "torque {} is dropped", (where,), before=told(old))
            elif old is None:
                yield Found(JUDGE, "torque-added", "torque {} is new", (where,), after=told(new))
            else:
                yield Found(JUDGE, "torque-changed", "torque {} changed", (where,), told(old), told(new))
    if not gone and not came:
        yield Found(JUDGE, "torque-order", "the order of the torques changed", before=told(before), after=told(after))


SECOND_INSPECTION: dict[str, Judge] = {"look": reworded("what is looked at", "look", JUDGE), "who": ROLE}


@judging("second-inspection-dropped", "second-inspection-new", *kinds_of(*SECOND_INSPECTION.values()))
def second_inspection(sides: Sides, before: SecondInspection | None, after: SecondInspection | None) -> Iterator[Found]:
    """The hold point."""
    if before and after:
        for found in differences(sides, before, after, SECOND_INSPECTION):
            yield found._replace(says=f"second inspection: {found.says}")
    elif before:
        yield Found(WEAKER, "second-inspection-dropped", "the second inspection is dropped", before=before.look)
    elif after:
        yield Found(JUDGE, "second-inspection-new", "a second inspection is new", after=after.look)


RECHECK: dict[str, Judge] = {
    "after": interval("when it is due", "recheck-interval"),
    "who": ROLE,
    "look": reworded("what is looked at", "look", JUDGE),
}


@judging("recheck-dropped", "recheck-new", *kinds_of(*RECHECK.values()))
def recheck(sides: Sides, before: Recheck | None, after: Recheck | None) -> Iterator[Found]:
    """The look that is due later."""
    if before and after:
        for found in differences(sides, before, after, RECHECK):
            yield found._replace(says=f"recheck: {found.says}")
    elif before:
        yield Found(WEAKER, "recheck-dropped", "the recheck is dropped", before=told(before))
    else:
        yield Found(JUDGE, "recheck-new", "a recheck is new", after=told(after))


GUARDS = ("who", "data", "people", "notices", "occupied", "limits")
"""What protects at an operational check, whichever it is; what is done at it differs by its nature."""

PROOF: dict[str, Judge] = {name: ENTRIES["operational_checks"][2][name] for name in GUARDS}
ASKED = reworded("the operational check", "operational-check", JUDGE, lost=WEAKER)


@judging(*ASKED.kinds, *kinds_of(*PROOF.values()))
def operational_check(sides: Sides, before: str, after: str) -> Iterator[Found]:
    """Another operational check: whether it has fewer gates than the one before."""
    yield from ASKED(sides, before, after)
    old = sides.old_library.operational_checks.get(before)
    new = sides.new_library.operational_checks.get(after)
    if old and new:
        model = sides.new.model if sides.new else ""
        for found in differences(sides, _guards(old, model), _guards(new, model), PROOF):
            yield found._replace(says=f"operational check {{}}: {found.says}", names=(after, *found.names))


def _guards(check: OperationalCheck, model: str) -> OperationalCheck:
    """The check with its guards on this model, and nothing else."""
    guards = {name: getattr(check, name) for name in GUARDS}
    return replace(NONE, **{**guards, "data": check.data.get(model, EMPTY)})


NONE = OperationalCheck("", "", (), "", "", "")
