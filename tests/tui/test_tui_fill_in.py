"""The blanks of a walk's end on the screen, and the page of a walk that is over: nothing stands on it twice."""

from __future__ import annotations

from pathlib import Path

import pytest
from tui_hands import lead_to, make, to_the_work, until
from tui_runs import FREE, FULL, LAMP, PHONE, REL, USUAL, Ramp, answer_begin, next_move, running

from faulttree.keys import Kind, Move
from faulttree.present.blocks import open_lines
from faulttree.tui.drafts import NO_LIMITS, NOTHING_BESIDE, draft_forms
from faulttree.tui.endings import over

pytestmark = pytest.mark.usefixtures("quick_keys")

FLAT = (Move(Kind.ACKNOWLEDGE), Move(Kind.FINDING, label="Lights"), Move(Kind.FINDING, label="Flat"))
KNEE = (Move(Kind.PEOPLE_HERE), Move(Kind.ACKNOWLEDGE))
NEW_CELL = (*FLAT, Move(Kind.DONE), Move(Kind.PASSED))


async def at_the_end(ramp: Ramp) -> None:
    """A new cell was fitted, and its voltage before was not read."""
    await answer_begin(ramp, model="Finch")
    for move in NEW_CELL:
        await make(ramp, move)
    assert ramp.walk.passed


def notes(ramp: Ramp) -> list[str]:
    return [line.move.text for line in ramp.walk.log if line.move.kind == Kind.NOTE]


@pytest.mark.parametrize("size", [PHONE, USUAL])
async def test_one_key_opens_the_blanks_and_each_is_asked_for_in_turn(walks: Path, size: tuple[int, int]) -> None:
    async with running(walks, LAMP, "repairer", size=size) as ramp:
        await at_the_end(ramp)
        await ramp.press("i")
        assert ramp.shows("Cell voltage under load [___] V.")
        assert ramp.shows("1 of 2. What stands in [___] (no patient data), Enter leaves it:")
        assert ramp.shows("Enter take it  Esc back")
        await ramp.enter("0.9")
        assert ramp.shows("Lights [___] of 10.")
        await ramp.enter("10")
        assert ramp.name == "WalkScreen"
        assert ramp.shows("FOUND: Cell voltage under load 0.9 V.")
        assert not ramp.shows("INCOMPLETE")
        assert notes(ramp) == ["0.9", "10"]


async def test_an_empty_line_leaves_a_blank_and_escape_all_that_are_left(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_the_end(ramp)
        await ramp.press("i", "enter")
        assert ramp.shows("2 of 2.")
        await ramp.press("escape")
        assert (ramp.name, notes(ramp)) == ("WalkScreen", [])
        assert ramp.shows("INCOMPLETE: 2 blanks are left.")


async def test_what_was_filled_in_can_be_put_right(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_the_end(ramp)
        for typed in ("0.9", "0.8"):
            await ramp.press("i")
            await ramp.enter(typed)
            await ramp.press("escape")
        assert ramp.shows("FOUND: Cell voltage under load 0.8 V.")


async def test_where_nothing_is_to_be_filled_in_there_is_no_key(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await answer_begin(ramp, model="Finch")
        await ramp.press("question_mark")
        assert not ramp.shows("fill in")


async def test_what_was_filled_in_before_stands_in_the_sentence_of_the_next(walks: Path) -> None:
    async with running(walks, "strap-or-buckle", "mechanic") as ramp:
        await answer_begin(ramp, FREE)
        await lead_to(ramp, "replace-set")
        await until(lambda: ramp.walk.ended, lambda: make(ramp, next_move(ramp.walk, "passed")))
        await ramp.press("i")
        await ramp.enter("3")
        assert ramp.shows("Own tongue latches 3 of 10, known good tongue [___] of 10.")


# -- a walk that is over


def lines_of(blocks) -> list[str]:
    return [line for block in blocks for line in block.lines]


async def test_nothing_stands_twice_on_the_page_of_a_walk_that_is_over(walks: Path) -> None:
    async with running(walks, REL, "mechanic") as ramp:
        await answer_begin(ramp, FREE)
        await to_the_work(ramp)
        for move in (Move(Kind.ACKNOWLEDGE), Move(Kind.FINDING, label="Still held"), *KNEE):
            await make(ramp, move)
        session = ramp.session
        await ramp.press("x")
        await ramp.enter("wrong cot")
        walk = session.walk
        lines = lines_of(over(walk, False, session.times()))
    assert walk.given_up
    assert [line for line in lines if "Tag on the mount" in line or "TAG" in line] == list(open_lines(walk))
    assert len(lines) == len(set(lines))
    said = "The walk was given up (wrong cot) before its end: the fault is not confirmed as corrected."
    assert lines[:2] == ["NOT AVAILABLE.", said]


@pytest.mark.parametrize("moves", [NEW_CELL, (*FLAT, Move(Kind.CANNOT, text="no cell"))])
async def test_nor_where_it_has_ended(walks: Path, moves: tuple[Move, ...]) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await answer_begin(ramp, model="Finch")
        for move in moves:
            await make(ramp, move)
        lines = lines_of(over(ramp.walk, False, ramp.session.times()))
    assert ramp.walk.ended
    assert len(lines) == len(set(lines))


# -- the draft where there is little room


LINES = (
    "ENTRY DRAFT, not signed:",
    "FOUND: Knee springs too short.",
    "READ: Length: 57 mm (Too short). Limit: Too short below 60 mm (SKM-MNT-01).",
    "DID: Knee spring pair replaced.",
    "PARTS: SKM-0421 Knee spring pair (1).",
    "LIMIT: Depth of wear: In limits up to 0.5 mm.",
    "LIMIT: Free play: In limits up to 6 mm.",
    "REF: SKM-MNT-01 revision B, section 3.",
    "PROVED: answered as passed, 1 of 1.",
)


def test_shorter_forms_of_a_draft_say_what_they_leave_out() -> None:
    full, no_limits, work, rows, least = ([row.text for row in form] for form in draft_forms(LINES, FULL))
    assert full == list(LINES)
    short = "READ: Length: 57 mm (Too short)."
    assert no_limits == [*LINES[:2], short, *LINES[3:5], *LINES[7:], NO_LIMITS]
    assert work == [*LINES[:2], short, LINES[3], LINES[8], NOTHING_BESIDE]
    assert rows == [*LINES[:2], LINES[3], LINES[8], "9 lines in full: key e."]
    assert least == ["ENTRY DRAFT, not signed: 9 lines, key e."]


def test_on_a_narrow_page_nothing_is_left_out_of_a_draft() -> None:
    assert len(draft_forms(LINES, FULL._replace(width=40))) == 1
