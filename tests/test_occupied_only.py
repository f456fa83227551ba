"""A notice that is of use only while the occupant is on, or may be: shown then, and not with the occupant off."""

from __future__ import annotations

from shipped import shipped
from test_present_after import rel

from faulttree.compare import WEAKER, Side, compare
from faulttree.keys import OFF, ON, UNANSWERED, Gate, Kind, Move
from faulttree.present import screen
from faulttree.value import replace
from faulttree.walk import Walk, apply, begin

PATIENT = "patient-on-cot"


def at_the_warnings(occupant: str) -> Walk:
    walk = begin(shipped().trees["cot-will-not-release"], shipped().library, Move(Kind.BEGIN, occupant=occupant))
    return apply(walk, Move(Kind.PEOPLE_HERE))


def told(walk: Walk) -> set[str]:
    return {notice.id for notice in walk.site.pending(walk.key)}


def test_it_is_asked_for_only_while_somebody_is_or_may_be_on() -> None:
    on, unanswered, off = (told(at_the_warnings(occupant)) for occupant in (ON, UNANSWERED, OFF))
    assert PATIENT in on
    assert on == unanswered
    assert off == on - {PATIENT} != set()


def test_with_the_occupant_back_on_it_is_read_before_anything_is_answered() -> None:
    walk = apply(at_the_warnings(OFF), Move(Kind.ACKNOWLEDGE))
    assert walk.site.gate(walk.key) is None
    walk = apply(walk, Move(Kind.OCCUPANT_ON))
    assert (walk.site.gate(walk.key), told(walk)) == (Gate.WARNINGS, {PATIENT})
    walk = apply(walk, Move(Kind.ACKNOWLEDGE))
    assert walk.site.gate(walk.key) is None
    again = apply(apply(walk, Move(Kind.OCCUPANT_OFF)), Move(Kind.OCCUPANT_ON))
    assert told(again) == set(), "read once is enough, as for every warning"


def test_the_page_has_no_line_of_it_with_the_occupant_off() -> None:
    def words(walk: Walk) -> str:
        return " ".join(line for block in screen(walk) for line in block.lines)

    hazard = shipped().library.notices[PATIENT].hazard
    read = apply(at_the_warnings(ON), Move(Kind.ACKNOWLEDGE))
    assert hazard in words(read)
    assert hazard not in words(apply(read, Move(Kind.OCCUPANT_OFF)))


def test_without_the_question_for_an_occupant_it_is_always_shown() -> None:
    walk = rel()
    site = replace(walk.site, library=replace(walk.library, occupant=None))
    key = walk.key._replace(phase=walk.key.phase._replace(people=True), acknowledged=frozenset())
    assert PATIENT in {notice.id for notice in site.pending(key)}


def test_a_warning_that_becomes_one_protects_less() -> None:
    library = shipped().library
    pinch = replace(library.notices["pinch-points"], occupied_only=True)
    less = replace(library, notices={**library.notices, pinch.id: pinch})
    [change] = compare(Side(library, {}), Side(less, {})).changes
    assert (change.weight, change.kind) == (WEAKER, "occupied-only")
