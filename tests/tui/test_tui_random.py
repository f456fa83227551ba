"""Anything at random: whatever is done to the screen, it goes on, the rules hold after each move, the journal has it.

Keys, taps, turns of the wheel, pastes and other sizes of the terminal come in any order, chosen by a seed that is the
name of the case. Where something breaks, the last of what was done stands with the failure.
"""

from __future__ import annotations

import asyncio
import random
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from textual import events
from textual.geometry import Size
from tui_runs import LAMP, LEG, PHONE, REL, TINY, USUAL, WHEEL, WIDE, Ramp, plain_keys, running

from faulttree.explore import broken_in, failed_but_passed
from faulttree.journal import read_journal
from faulttree.journal.lines import entry_of
from faulttree.keys import Kind
from faulttree.sessions import shown
from faulttree.tui.looks import Looks
from faulttree.tui.screens.paged import PagedScreen
from faulttree.tui.session import Session
from faulttree.tui.widgets.paper import Paper
from faulttree.visible import visible
from faulttree.walk import Walk

ONWARD = ("enter", "enter", "enter", "a", "a", "a", "1", "1", "2", "3")
MOVES = (*"ucibwnlhotdkefrygmpxv0", "ctrl+p", "f3")
NAMED = (
    *("escape", "down", "up", "left", "right", "pagedown", "pageup", "home", "end", "space", "tab", "shift+tab"),
    *("backspace", "delete", "insert", "ctrl+down", "alt+a", "shift+enter"),
    *(f"f{number}" for number in range(1, 13)),
    *(f"ctrl+{letter}" for letter in "abdefghijklmnoprstuvwxyz@"),
    *(f"ctrl+{sign}" for sign in ("backslash", "right_square_bracket", "underscore")),
)
SIGNS = (*plain_keys(), "\xe9", "\u97f3", "\U0001f681", "\u05e9", "\u0301", "\u202e", "\x9b")
WORDS = ("1 V", "0.4 mm", "12 N", "no", "[red]x[/red]", "\u97f3", "x" * 90, "-", "0", "../x", "\x1b[2J", "")
PASTES = (*WORDS, "1\n2\n3\n", "a\r\n\r\na", "y" * 5000, "\u202e\u2028\ud800", "1", "a", "\r")
SIZES = (PHONE, USUAL, WIDE, TINY, (1, 1), (10, 3), (300, 5), (5, 100))
LEAVE = ("ctrl+q", "ctrl+c")


# -- what must hold


class Watch:
    """Looks at each move right after it was recorded, and at each walk that is shown."""

    def __init__(self) -> None:
        self.moves: Counter[Kind] = Counter()
        self.walks: set[str] = set()
        self.last: Walk | None = None

    def moved(self, session: Session, before: Walk) -> None:
        """After a move: the log has grown by it, no rule is broken, and the disk has it."""
        after = session.walk
        move = after.log[-1].move
        assert after.log[:-1] == before.log
        assert not list(broken_in(after.site, after.key))
        assert not failed_but_passed(after.site, before.key, move, after.key)
        recorded = read_journal(session.journal.recorded.path)
        assert recorded.torn == b""
        assert recorded.entries[-1] == entry_of(after, move, recorded.entries[-1].at)
        self.moves[move.kind] += 1

    def at(self, ramp: Ramp) -> None:
        """After a key: the walk that is shown is one in which no rule is broken; a new one is on the disk."""
        if ramp.app.session is None or ramp.walk is self.last:
            return
        assert not list(broken_in(ramp.walk.site, ramp.walk.key))
        if ramp.session.id not in self.walks:
            self.walks.add(ramp.session.id)
            check_journal(ramp.session)
        self.last = ramp.walk


def check_journal(session: Session) -> None:
    """The journal on the disk, moved again from its beginning, is the walk."""
    recorded, again = shown(session.journal.recorded.path.parent, session.id)
    walk = session.walk
    assert (again.key, again.log, again.way, again.state) == (walk.key, walk.log, walk.way, walk.state)
    assert recorded.entries == session.journal.recorded.entries


@pytest.fixture
def watch(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, quick_keys: None) -> Watch:
    """Every move of every session is looked at; what is put into files lands in a folder of its own."""
    seen, record = Watch(), Session.retry

    def watched(session: Session) -> None:
        before = session.walk
        record(session)
        seen.moved(session, before)

    monkeypatch.setattr(Session, "retry", watched)
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    return seen


def check_terminal(ramp: Ramp) -> None:
    """The terminal is full of rows of its own width, and nothing in them acts on it."""
    width, height = ramp.app.size
    assert len(ramp.strips) == height
    for strip in ramp.app.screen._compositor.render_strips():
        assert strip.cell_length == width
        assert visible(strip.text) == strip.text


# -- what is done


Deed = tuple[str, object]


def any_key(chance: random.Random) -> str:
    """A key: mostly one that goes on, often one that does something, now and then anything else."""
    kind = chance.random()
    if kind < 0.6:
        return chance.choice(ONWARD)
    if kind < 0.85:
        return chance.choice(MOVES)
    return chance.choice(NAMED) if kind < 0.93 else chance.choice(SIGNS)


def any_deed(ramp: Ramp, chance: random.Random) -> Deed:
    """What is done next; mostly something that leads on from where a key at random would stay for long.

    That is: words where a line is asked for, a number on the first page, out of the pages that few keys leave, down
    where rows are not seen yet, and a larger window where hardly anything can be seen.
    """
    kind = chance.random()
    if ramp.name == "AskScreen":
        return ("words", chance.choice(WORDS)) if kind < 0.6 else ("key", any_key(chance))
    if ramp.name == "ActionsScreen" and kind < 0.5:
        return "key", chance.choice(("escape", "1", "2", "3"))
    if ramp.name in ("FallbackScreen", "WholeScreen") and kind < 0.2:
        return "key", chance.choice(("escape", "enter"))
    if ramp.name == "FindScreen" and kind < 0.4:
        return "key", chance.choice("0123")
    if ramp.app.size.height < PHONE[1] and kind > 0.9:
        return "size", USUAL
    if not ramp.screen.query(Paper).first().is_seen and kind > 0.5:
        return "key", "space"
    if kind < 0.08:
        width, height = ramp.app.size
        return "tap", (chance.randrange(max(width, 1)), chance.randrange(max(height, 1)))
    if kind < 0.1:
        return "wheel", chance.random() < 0.5
    if kind < 0.12:
        return "paste", chance.choice(PASTES)
    return ("size", chance.choice(SIZES)) if kind < 0.14 else ("key", any_key(chance))


async def do(ramp: Ramp, deed: Deed) -> None:
    """Do it, and wait until the page that it leads to is drawn."""
    for event in as_events(ramp, *deed):
        driver = ramp.app._driver
        assert driver is not None
        driver.send_message(event)
    if deed[0] == "key":
        ramp.post(str(deed[1]))
    await ramp.settle()
    if deed[0] == "size":
        await resized(ramp)


async def resized(ramp: Ramp) -> None:
    """Wait until the new size has reached the page; the library waits for further ones a moment."""
    for _ in range(200):
        if ramp.app._resize_event is None:
            break
        await asyncio.sleep(0.005)
    await ramp.settle()


def as_events(ramp: Ramp, kind: str, what: object) -> Iterator[events.Event]:
    """What the terminal sends for it, but for keys."""
    if kind == "tap" and isinstance(what, tuple):
        yield mouse(events.MouseDown, *what)
        yield mouse(events.MouseUp, *what)
    elif kind == "wheel":
        yield mouse(events.MouseScrollDown if what else events.MouseScrollUp, 1, 1)
    elif kind == "paste":
        yield events.Paste(str(what))
    elif kind == "size" and isinstance(what, tuple):
        size = Size(*what)
        driver = ramp.app._driver
        assert driver is not None
        driver._size = size  # type: ignore[attr-defined]
        yield events.Resize(size, size)


def mouse(kind: Callable[..., events.MouseEvent], x: int, y: int) -> events.MouseEvent:
    return kind(None, x, y, 0, 0, 1, False, False, False, screen_x=x, screen_y=y)


async def do_all(ramp: Ramp, watch: Watch, chance: random.Random, count: int) -> int:
    """Do so much at random, or until the program is left; how much was done."""
    done: list[Deed] = []
    try:
        while len(done) < count and not ramp.is_left:
            deed = any_deed(ramp, chance)
            done.append(deed)
            if deed[0] == "words":
                await ramp.enter(str(deed[1]))
            else:
                await do(ramp, deed)
            check_shown(ramp, watch, whole=len(done) % 10 == 0)
    except BaseException as error:
        error.add_note(f"after {len(done)}, the last of them: {done[-12:]}")
        raise
    return len(done)


def check_shown(ramp: Ramp, watch: Watch, whole: bool) -> None:
    """The page is one of ours and the walk is in order; sometimes the whole terminal is looked at."""
    watch.at(ramp)
    if not ramp.is_left:
        assert isinstance(ramp.app.screen, PagedScreen)
        assert ramp.app.broken is None
        if whole:
            check_terminal(ramp)


# -- tests


async def check_case(walks: Path, watch: Watch, case: tuple[str, str, tuple[int, int]], seed: int, count: int) -> None:
    """So much that the walk is left, begun anew and taken up again."""
    chance = random.Random(f"{case} {seed}")
    while count > 0:
        looks = Looks(ascii=chance.random() < 0.3, day=chance.random() < 0.3, colour=chance.random() < 0.7)
        async with running(walks, *case, looks) as ramp:
            count -= await do_all(ramp, watch, chance, min(count, 200))
            if ramp.app.session is not None:
                check_journal(ramp.session)
    assert watch.walks, "otherwise nothing was begun"
    assert sum(watch.moves.values()) > 5, "otherwise nothing was walked"


CASES = [
    (REL, "", USUAL),
    (LEG, "mechanic", PHONE),
    (LAMP, "repairer", TINY),
    ("", "inspector", USUAL),
    (WHEEL, "mechanic", USUAL),
    (LAMP, "", WIDE),
]


@pytest.mark.parametrize("case", CASES[:4], ids=str)
async def test_anything_at_random_breaks_nothing(
    walks: Path, watch: Watch, case: tuple[str, str, tuple[int, int]]
) -> None:
    await check_case(walks, watch, case, seed=0, count=180)


@pytest.mark.long
@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("case", CASES, ids=str)
async def test_much_at_random_breaks_nothing(
    walks: Path, watch: Watch, case: tuple[str, str, tuple[int, int]], seed: int
) -> None:
    await check_case(walks, watch, case, seed, count=250)


@pytest.mark.parametrize("key", LEAVE)
async def test_keys_that_leave_do_so_from_anywhere(walks: Path, watch: Watch, key: str) -> None:
    chance = random.Random(key)
    for count in (2, 8, 20):
        async with running(walks, LAMP, "repairer") as ramp:
            await do_all(ramp, watch, chance, count)
            await ramp.press(key)
            assert ramp.is_left
            if ramp.app.session is not None:
                check_journal(ramp.session)


async def test_keys_that_come_faster_than_pages_are_drawn_break_nothing(walks: Path, watch: Watch) -> None:
    """None is waited for: most come too early, and are dropped."""
    chance = random.Random(3)
    async with running(walks, LAMP, "repairer") as ramp:
        for at in range(60):
            for _ in range(12):
                ramp.post(any_key(chance))
            await ramp.settle()
            check_shown(ramp, watch, whole=at % 10 == 0)
            if ramp.is_left:
                break
        if ramp.app.session is not None:
            check_journal(ramp.session)
    assert watch.moves, "otherwise nothing was walked"


async def test_what_is_made_at_random_is_nearly_all_that_can_be_made(walks: Path, watch: Watch) -> None:
    """The keys reach what they are meant to try: without this, a page that none of them leaves would go unseen."""
    chance = random.Random(11)
    for tree, role in ((LAMP, "repairer"), (REL, "mechanic"), (LAMP, "repairer")):
        async with running(walks, tree, role) as ramp:
            await do_all(ramp, watch, chance, 110)
    assert len(watch.moves) >= 8, watch.moves


async def tap_key(ramp: Ramp, name: str) -> None:
    """Tap on a name in the row of keys."""
    await do(ramp, ("tap", (ramp.strips[-1].index(name), len(ramp.strips) - 1)))


async def test_every_name_in_the_first_page_s_row_of_keys_can_be_tapped(walks: Path, watch: Watch) -> None:
    async with running(walks) as ramp:
        await tap_key(ramp, "1-9")
        await ramp.press("1")
        assert ramp.name != "FindScreen", "the digits count after a tap on their name as before"
        await ramp.press("b")
        await ramp.type("wh")
        await tap_key(ramp, "Backspace")
        assert ramp.shows("Looking for: w_")
        await tap_key(ramp, "Backspace")
        await tap_key(ramp, "ctrl+q")
        assert ramp.is_left


async def test_the_rubbing_out_of_words_can_be_tapped(walks: Path, watch: Watch) -> None:
    async with running(walks, LAMP, "repairer", model="Finch") as ramp:
        await ramp.press("ctrl+p", "n", "o")
        await tap_key(ramp, "Backspace")
        assert ramp.shows("Looking for: n_")
        await tap_key(ramp, "Esc")
        assert ramp.name == "WalkScreen"
