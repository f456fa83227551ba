"""The blanks of a walk's end on the screen, and the page of a walk that is over: nothing stands on it twice."""

from __future__ import annotations

from pathlib import Path

import pytest
from tui_hands import make, to_the_work
from tui_runs import FREE, LAMP, PHONE, REL, USUAL, Ramp, answer_begin, running

from faulttree.keys import Kind, Move
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
        assert ramp.shows("1 of 2. What stands in [___] (no patient data):")
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
    assert sum(line.startswith("OPEN") for line in lines) == sum(line.startswith("TAG") for line in lines) == 1
    assert len(lines) == len(set(lines))
    said = "The walk was given up (wrong cot) before its end: the fault is not confirmed as corrected."
    assert lines[:2] == ["NOT AVAILABLE.", said]
