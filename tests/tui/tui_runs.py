"""What tests of the ramp screen share: the running screen driven key by key, walks made for a page, and text compared.

The screen is driven without waiting by the clock: a key counts as handled once nothing of the program is left to be
run and the page that it led to is drawn.
"""

from __future__ import annotations

import asyncio
import unicodedata
from collections import deque
from collections.abc import AsyncIterator, Iterable, Iterator, Sequence
from contextlib import asynccontextmanager
from functools import cache
from pathlib import Path
from typing import Any

from shipped import SAMPLE, sample, shipped
from textual import events
from textual.keys import _character_to_key
from textual.widgets import Input

from faulttree.keys import OFF, ON, UNANSWERED, Gate, Key, Kind, Move
from faulttree.library import shipped_library
from faulttree.model import Check, Library, Tree, Variant
from faulttree.moves import allowed, routes
from faulttree.site import Site
from faulttree.tui.app import RampApp
from faulttree.tui.canvas import Canvas
from faulttree.tui.looks import Looks
from faulttree.tui.page import is_warned, walk_page, warning_pages
from faulttree.tui.rows import Row
from faulttree.tui.screens.paged import PagedScreen
from faulttree.tui.session import Session
from faulttree.tui.wanted import Wanted
from faulttree.value import replace
from faulttree.visible import one_line
from faulttree.walk import Visit, Walk, apply, begin, possible_moves

SHIPPED = shipped_library()
REL, LEG, WHEEL = "cot-will-not-release", "legs-do-not-drop", "wheel-thumps"
LAMP = "lamp-does-not-light"
TREES = (*shipped().trees, LAMP)
"""Every shipped tree, and that of the sample."""

PHONE, USUAL, WIDE, TINY = (40, 20), (80, 24), (120, 40), (20, 8)
"""Sizes of a terminal, columns and rows."""

FULL = Canvas(80, 23)
"""The page of a usual terminal: one row of it is the row of keys."""

LONGEST_WAIT = 20.0

CHARACTERS = {"enter": "\r", "tab": "\t", "space": " ", "backspace": "\x7f", "escape": "\x1b", "question_mark": "?"}


# -- text


def letters(text: str) -> str:
    """The text without blanks, with control characters in their visible forms, as pages show it."""
    return "".join(one_line(text).split())


def shown_in(rows: Iterable[Row]) -> str:
    """The letters of rows, without blanks and hanging indents."""
    return letters("".join(row.text for row in rows))


# -- walks that are made for a page


def loaded(tree: str) -> tuple[Library, Tree]:
    """The library and a tree of it."""
    where = sample() if tree == LAMP else shipped()
    assert where.library is not None
    return where.library, where.trees[tree]


def folder_of(tree: str) -> Path:
    return SAMPLE if tree == LAMP else SHIPPED


def variants_of(tree: str) -> tuple[Variant, ...]:
    """The variants of a tree that differ."""
    return loaded(tree)[1].distinct_variants()


@cache
def forward_keys(tree: str, model: str) -> tuple[Key, ...]:
    """Every key that forward moves lead to, for each role and occupant state, with a step's notices new and known."""
    library, whole = loaded(tree)
    site = Site(library, whole.variants[model])
    waiting = deque(_first_keys(site))
    seen = dict.fromkeys(waiting)
    while waiting:
        key = waiting.popleft()
        for move in allowed(site, key):
            for following in _after(site, key, move):
                if following not in seen:
                    seen[following] = None
                    waiting.append(following)
    return tuple(seen)


def _first_keys(site: Site) -> Iterator[Key]:
    for role in site.library.roles:
        for occupant in (ON, OFF, UNANSWERED) if site.library.occupant else (OFF,):
            for known in (frozenset[str](), frozenset(site.library.notices)):
                yield site.settle(site.before_start(role, occupant)._replace(acknowledged=known))


def _after(site: Site, key: Key, move: Move) -> Iterator[Key]:
    from faulttree.explore import successors

    return successors(site, key, move)


def walk_at(tree: str, key: Key) -> Walk:
    """A walk that stands at a key, with nothing done so far."""
    library, whole = loaded(tree)
    return Walk(whole, Site(library, whole.variants[key.model]), key, (Visit(key.step),), ())


def begun(tree: str, role: str = "", occupant: str = "", model: str = "") -> Walk:
    library, whole = loaded(tree)
    return begin(whole, library, Move(Kind.BEGIN, role=role, model=model or whole.models[0], occupant=occupant))


def pages_of(walk: Walk, canvas: Canvas = FULL) -> tuple[tuple[Row, ...], ...]:
    """The pages that are shown one after another where a walk stands: several where there are new warnings."""
    return warning_pages(walk, canvas) if is_warned(walk) else (walk_page(walk, canvas),)


def reading_for(walk: Walk, label: str) -> str:
    """A reading in the middle of the band of that label; empty where the check is not measured or has no such band."""
    step = walk.step
    if not isinstance(step, Check) or not step.measure:
        return ""
    limit = walk.library.limits[step.measure]
    scale = limit.scales[walk.key.model]
    low = scale.low
    for band in scale.bands:
        high = scale.high if band.limit is None else band.limit
        if band.label == label:
            return f"{(low + high) / 2:.6g} {limit.unit}"
        low = high
    return ""


def filled(walk: Walk, move: Move, words: str = "no light") -> Move:
    """A possible move with what a person would say; a finding of a band as a reading."""
    if move.kind == Kind.FINDING and (value := reading_for(walk, move.label)):
        return Move(Kind.READING, value=value)
    if move.kind in (Kind.UNABLE, Kind.CANNOT, Kind.NOTE, Kind.ALSO_FOUND):
        return replace(move, text=words)
    return replace(move, text="AB") if move.kind == Kind.INSPECTED else move


def ways_on(walk: Walk) -> tuple[Move, ...]:
    """The forward moves of a walk, without an occupant who comes or goes."""
    return tuple(move for move in allowed(walk.site, walk.key) if not move.kind.startswith("occupant"))


WORK = (Kind.DONE, Kind.WAITED, Kind.INSPECTED, Kind.CLOSED)


def next_move(walk: Walk, answer: str) -> Move:
    """What brings a walk nearer to ``answer``, a finding's label or the word of a move, at the step where it is."""
    gate = walk.site.gate(walk.key)
    if gate == Gate.OCCUPANT:
        return Move(Kind.OCCUPANT_OFF)
    if gate == Gate.ROLE:
        return Move(Kind.TAKE_OVER, role=walk.site.needs(walk.key).who, occupant=OFF)
    if gate in (Gate.PEOPLE, Gate.WARNINGS):
        return Move(Kind.PEOPLE_HERE if gate == Gate.PEOPLE else Kind.ACKNOWLEDGE)
    moves = ways_on(walk)
    wanted = [move for move in moves if answer in (move.label, str(move.kind))]
    return filled(walk, (wanted or [move for move in moves if move.kind in WORK])[0])


def way_to(variant: Variant, target: str) -> tuple[tuple[str, str], ...]:
    """The shortest way from the start to a step: the steps left, each with its answer."""
    came: dict[str, tuple[tuple[str, str], ...]] = {variant.start: ()}
    waiting = deque([variant.start])
    while waiting:
        name = waiting.popleft()
        for answer, to in routes(variant.steps[name]):
            if to not in came:
                came[to] = (*came[name], (name, answer))
                waiting.append(to)
    return came[target]


def led_to(walk: Walk, target: str) -> Walk:
    """The walk from its start to a step on the shortest way, its roles taking over from each other."""
    for step, answer in way_to(walk.site.variant, target):
        while walk.key.step == step:
            walk = apply(walk, next_move(walk, answer))
    return walk


def ended_at(tree: str, model: str, target: str) -> Walk:
    """A walk that was brought to its end at a fix that passed, or at an end."""
    walk = led_to(begun(tree, list(loaded(tree)[0].roles)[1], OFF, model), target)
    while not walk.ended:
        walk = apply(walk, next_move(walk, str(Kind.PASSED)))
    return walk


def gone(walk: Walk, *moves: Move) -> Walk:
    """The walk after moves."""
    for move in moves:
        walk = apply(walk, move)
    return walk


def can(walk: Walk, kind: Kind) -> bool:
    return any(move.kind == kind for move in possible_moves(walk))


# -- the running screen


class Ramp:
    """The running screen: keys go in one by one, what is drawn comes out."""

    def __init__(self, app: RampApp, pilot: Any) -> None:
        self.app = app
        self.pilot = pilot

    @property
    def screen(self) -> PagedScreen[Any]:
        screen = self.app.screen
        assert isinstance(screen, PagedScreen)
        return screen

    @property
    def name(self) -> str:
        """Which screen is shown, by its class."""
        return type(self.app.screen).__name__

    @property
    def session(self) -> Session:
        assert self.app.session is not None
        return self.app.session

    @property
    def walk(self) -> Walk:
        return self.session.walk

    @property
    def kinds(self) -> list[Kind]:
        """The moves that were recorded, by their kinds."""
        return [line.move.kind for line in self.walk.log]

    @property
    def last(self) -> Move:
        """The move that was recorded last."""
        return self.walk.log[-1].move

    @property
    def strips(self) -> list[str]:
        """The rows of the terminal as they are drawn."""
        return [strip.text for strip in self.app.screen._compositor.render_strips()]

    @property
    def text(self) -> str:
        return "\n".join(line.rstrip() for line in self.strips)

    def shows(self, text: str) -> bool:
        """Whether the text stands on the terminal, over line ends and indents."""
        return letters(text) in letters("".join(self.strips))

    @property
    def typed(self) -> str:
        """What stands in the line of input."""
        return self.app.screen.query_one(Input).value

    async def press(self, *keys: str) -> None:
        """Press keys, each once the page of the one before is drawn. A single character is its own key."""
        for key in keys:
            self.post(key)
            await self.settle()

    async def type(self, text: str) -> None:
        """Type the characters of a text."""
        await self.press(*text)

    async def enter(self, text: str) -> None:
        """Put the text into the line in place of what stands there, and take it."""
        self.app.screen.query_one(Input).value = ""
        for character in text:
            self.post(character)
        await self.settle()
        await self.press("enter")

    def post(self, key: str, at: float | None = None) -> None:
        """Send a key, pressed at the time ``at`` or now, without waiting for what it does."""
        event = key_event(key)
        if at is not None:
            event.time = at
        driver = self.app._driver
        assert driver is not None
        driver.send_message(event)

    async def tap(self, text: str) -> None:
        """Tap on the row that holds the text."""
        row = next(at for at, line in enumerate(self.strips) if text in line)
        await self.pilot.click(offset=(2, row))
        await self.settle()

    async def resize(self, width: int, height: int) -> None:
        await self.pilot.resize_terminal(width, height)
        await self.settle()

    async def settle(self) -> None:
        """Wait until nothing is left to be run and the page is drawn; raises what went wrong in the program."""
        loop = asyncio.get_running_loop()
        end = loop.time() + LONGEST_WAIT
        while not self._is_settled(loop):
            assert loop.time() < end, f"the page is not drawn: {self.name}"
            await asyncio.sleep(0 if loop._ready else 0.0005)
        if self.app._exception:
            raise self.app._exception

    def _is_settled(self, loop: Any) -> bool:
        if self.app._exception or not self.app.is_running or self.app._exit:
            return True
        if loop._ready:
            return False
        screen = self.app.screen
        # Before its page is drawn a screen counts no key: nothing is at or after no time.
        return not isinstance(screen, PagedScreen) or screen.guard.is_drawn(float("inf"))

    @property
    def is_left(self) -> bool:
        """Whether the program was left."""
        return self.app._exit or not self.app.is_running


def key_event(key: str) -> events.Key:
    """A key as the terminal would send it: a character, or a key by its name."""
    if len(key) > 1:
        return events.Key(key, CHARACTERS.get(key))
    return events.Key(key if key.isalnum() else _character_to_key(key), key)


@asynccontextmanager
async def running(
    walks: Path,
    tree: str = "",
    role: str = "",
    size: tuple[int, int] = USUAL,
    looks: Looks | None = None,
    library: Path | None = None,
    **wanted: Any,
) -> AsyncIterator[Ramp]:
    """The program on a terminal of ``size``, started with these words, its walks kept in ``walks``."""
    library = library or folder_of(tree)
    app = RampApp(Wanted(library, walks, tree, role, cwd=walks, **wanted), looks or Looks())
    async with app.run_test(size=size) as pilot:
        ramp = Ramp(app, pilot)
        await ramp.settle()
        yield ramp


OCCUPIED, FREE = "Yes", "No"
MOST_ASKED = 12
"""Presses until all is answered; on a small screen a press may only move the question on."""


async def answer_begin(ramp: Ramp, occupant: str = FREE, model: str = "") -> None:
    """Answer what is asked before a walk begins: whether somebody is on it, and which model where both are asked."""
    for _ in range(MOST_ASKED):
        if ramp.name == "ChooseScreen":
            options = ramp.screen.options  # type: ignore[attr-defined]
            await ramp.press(str(1 + _place_of(options, occupant, model)))
    assert ramp.name != "ChooseScreen", "more is asked than is known here"


def _place_of(options: Sequence[str], occupant: str, model: str) -> int:
    """Where the answer stands: Yes or No, the model alone, or both by one digit."""
    both = [at for at, option in enumerate(options) if option == f"{occupant}, and it is {model}"]
    alone = [at for at, option in enumerate(options) if option in (occupant, model)]
    return (both or alone or [0])[0]


def plain_keys() -> str:
    """Every printable ASCII character, for keys at random."""
    return "".join(chr(code) for code in range(0x21, 0x7F) if unicodedata.category(chr(code)) != "Cc")
