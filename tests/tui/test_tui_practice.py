"""In practice the word stands on every page, whatever the size of the terminal and however far the page is moved."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from test_tui_random import any_deed, do, watch  # noqa: F401
from tui_runs import LEG, PHONE, REL, TINY, USUAL, WHEEL, Ramp, answer_begin, running

from faulttree.keys import Kind, Move
from faulttree.tui.canvas import Canvas
from faulttree.tui.practice import PRACTICE, practised
from faulttree.tui.rows import EMPTY_ROW, Row
from faulttree.tui.widgets.paper import Paper

LONG = Canvas(40, 5, practice=True)


async def check_moved(ramp: Ramp) -> None:
    """The word stands on the page from its top to its end; then the page stands at its top again."""
    assert PRACTICE in ramp.text
    for _ in range(100):
        if not ramp.screen.query(Paper).first().below:
            break
        await ramp.press("space")
        assert PRACTICE in ramp.text, ramp.text
    await ramp.press("home")


@pytest.mark.usefixtures("quick_keys")
@pytest.mark.parametrize("size", [TINY, PHONE, USUAL], ids=str)
async def test_the_word_stays_on_pages_that_are_moved(walks: Path, size: tuple[int, int]) -> None:
    async with running(walks, size=size, practice=True) as ramp:
        await check_moved(ramp)
        await ramp.press("question_mark")
        await check_moved(ramp)
    async with running(walks, REL, "mechanic", size, practice=True) as ramp:
        await answer_begin(ramp)
        await ramp.press("f")
        await check_moved(ramp)
        await ramp.press("escape")
        for key in ("question_mark", "l", "w", "k", "e"):
            await ramp.press(key)
            await check_moved(ramp)
            await ramp.press("enter")
        await ramp.press("n")
        assert PRACTICE in ramp.text
        await ramp.press("escape")
        ramp.session.make(Move(Kind.HAND_OVER, to="mechanic"))
        ramp.screen.draw()
        await ramp.settle()
        await check_moved(ramp)


@pytest.mark.usefixtures("watch")
@pytest.mark.parametrize(("tree", "role"), [(LEG, "mechanic"), (WHEEL, ""), ("", "")])
async def test_the_word_stands_on_every_page_that_is_come_to_at_random(walks: Path, tree: str, role: str) -> None:
    chance = random.Random(f"{tree} {role}")
    pages = set()
    for _ in range(2):
        async with running(walks, tree, role, PHONE, practice=True) as ramp:
            for _ in range(90):
                kind, what = any_deed(ramp, chance)
                if kind == "words":
                    await ramp.enter(str(what))
                elif kind != "size":
                    await do(ramp, (kind, what))
                if ramp.is_left:
                    break
                assert PRACTICE in ramp.text, ramp.text
                pages.add(ramp.name)
    assert len(pages) >= 4, "otherwise hardly anything was come to"


def test_a_title_that_says_so_stays_whole_and_is_not_said_again() -> None:
    title = Row(((f"{PRACTICE}. HAND-OVER.", "strong"),)), Row((("  NOT APPROVED.", "strong"),))
    rest = (Row((("Where it is.", "status"),)), *[EMPTY_ROW] * 9)
    assert practised((*title, EMPTY_ROW), LONG) == (*title, EMPTY_ROW)
    assert [row.pinned for row in practised((*title, *rest), LONG)] == [True, True, *[False] * 10]
    assert [row.text for row in practised((*title, *rest), LONG)] == [row.text for row in (*title, *rest)]


def test_where_no_row_that_stays_says_so_one_is_added() -> None:
    below = (EMPTY_ROW, Row(((f"{PRACTICE}.", "plain"),)), *[EMPTY_ROW] * 9)
    assert practised((EMPTY_ROW,), LONG)[0].text == f"{PRACTICE}."
    assert practised(below, LONG)[0].text == f"{PRACTICE}."
    assert practised(below, LONG)[0].pinned
    assert practised((below[1]._replace(pinned=True), *below), LONG)[0] == below[1]._replace(pinned=True)
    assert practised(below, LONG._replace(practice=False)) == below
