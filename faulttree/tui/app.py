"""The program on a whole terminal: its screens, its looks, how it is left, and what it says last."""

from __future__ import annotations

import signal
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

from textual.app import App, SystemCommand
from textual.binding import Binding
from textual.screen import Screen
from textual.theme import Theme

from faulttree.journal import Facts
from faulttree.keys import Kind, Move
from faulttree.model import Library, Tree
from faulttree.present.blocks import open_lines
from faulttree.problems import FaulttreeError
from faulttree.sessions import Ready, changed_since, opened, ready, started, waiting, waiting_words
from faulttree.tui.looks import DAY, NIGHT, Colours, Looks
from faulttree.tui.screens.asking import ask_occupant, ask_occupant_and_model, take_over_move
from faulttree.tui.screens.choose import MOST, ChooseScreen
from faulttree.tui.screens.find import FindScreen
from faulttree.tui.screens.paged import PagedScreen
from faulttree.tui.screens.text import TextScreen
from faulttree.tui.screens.walk import WalkScreen
from faulttree.tui.session import Session

ENDED, UNFINISHED = 0, 3
"""Exit codes: whatever has ended, and what waits to be gone on with."""


class Wanted(NamedTuple):
    """What the person asked for when the program was started."""

    library: Path
    walks: Path
    tree: str = ""
    role: str = ""
    model: str = ""
    facts: Facts = Facts()
    resume: str = ""
    cwd: Path | None = None


class RampApp(App[None]):
    """Find, walk, end; one page at a time."""

    CSS_PATH = "app.tcss"
    TITLE = "faulttree"
    ENABLE_COMMAND_PALETTE = True
    BINDINGS = [  # noqa: RUF012
        Binding("ctrl+q", "leave", "save and leave", show=False, priority=True),
        Binding("ctrl+c", "leave", "save and leave", show=False, priority=True),
        Binding("v", "view", "day or night", show=False),
    ]

    def __init__(self, wanted: Wanted, looks: Looks) -> None:
        super().__init__()
        self.wanted = wanted
        self.looks = looks
        self.session: Session | None = None
        self.last_words: tuple[str, ...] = ()
        self.animation_level = "none"

    @property
    def practice(self) -> bool:
        """Whether walks that are begun are practice."""
        return self.wanted.facts.practice

    # -- coming and going

    def on_mount(self) -> None:
        for theme in (_theme("night", NIGHT, dark=True), _theme("day", DAY, dark=False)):
            self.register_theme(theme)
        self._dress()
        self._watch_signals()
        self.push_screen(FindScreen(self.wanted.library, self.wanted.walks))
        if self.wanted.resume:
            self.take_up(self.wanted.resume)
        elif self.wanted.tree:
            self.begin(self.wanted.tree)

    def _dress(self) -> None:
        self.theme = "day" if self.looks.day else "night"

    def _watch_signals(self) -> None:
        """A closed line or a request to end saves and leaves, so that no terminal is left behind in disorder."""
        import asyncio

        loop = asyncio.get_running_loop()
        for name in ("SIGTERM", "SIGHUP"):
            number = getattr(signal, name, None)
            if number is not None:
                try:
                    loop.add_signal_handler(number, self._signalled)
                except (NotImplementedError, RuntimeError, ValueError):
                    return

    def _signalled(self) -> None:
        self._remember()
        self.exit(return_code=UNFINISHED if self._waits() else ENDED)

    def action_leave(self) -> None:
        """Save and leave. Every move is recorded already; the walk waits."""
        if self._waits() and self.session is not None:
            try:
                self.session.make(Move(Kind.STOP))
            except FaulttreeError:
                self.session.drop()
        self._remember()
        self.exit(return_code=UNFINISHED if self._waits() else ENDED)

    def _waits(self) -> bool:
        return self.session is not None and not self.session.walk.ended

    def _remember(self) -> None:
        """What is said last, on the plain terminal: what stays open, and how to go on."""
        if self.session is None:
            return
        walk = self.session.walk
        left = tuple(f"STILL {line}" for line in open_lines(walk))
        if self._waits():
            left += ("The walk is saved and unfinished. NOT APPROVED FOR RETURN TO SERVICE.",)
            left += (f"Go on with it by: faulttree walk --resume {self.session.id}",)
        self.last_words = left

    def on_unmount(self) -> None:
        self._remember()
        if self.session is not None:
            self.session.close()

    # -- looks

    def action_view(self) -> None:
        """Day becomes night, night day."""
        self.looks = self.looks._replace(day=not self.looks.day)
        self._dress()
        for screen in self.screen_stack:
            if isinstance(screen, PagedScreen):
                screen.draw()

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """What can be done here, in words; nothing but what the screen's own keys do."""
        if isinstance(screen, PagedScreen):
            for key in screen.keys():  # noqa: SIM118
                if key.does:
                    yield SystemCommand(key.does[:1].upper() + key.does[1:], f"key {key.key}", _press(screen, key.key))
        yield SystemCommand("Day or night", "key v", self.action_view)
        yield SystemCommand("Save and leave", "key ctrl+q", self.action_leave)

    # -- beginning

    def begin(self, tree: str) -> None:
        """Begin a walk of that tree, after what has to be asked first."""
        self.run_worker(self._begin(tree), exclusive=True)

    async def _begin(self, name: str) -> None:
        try:
            what = ready(self.wanted.library, name, self.wanted.cwd)
            move = await self._first_move(what.library, what.tree)
            if move is not None:
                self._walk(*self._started(what, move), begins=True)
        except FaulttreeError as error:
            await self._say(error)

    async def _first_move(self, library: Library, tree: Tree) -> Move | None:
        """Only what matters now: the occupant; the model where ways differ. The role starts as the first."""
        model = self._known_model(tree)
        if model is None and library.occupant and 2 * len(tree.models) <= MOST:
            both = await ask_occupant_and_model(self, library.occupant, tree.models)
        else:
            both = await self._one_by_one(library, tree, model)
        if both is None:
            return None
        return Move(Kind.BEGIN, role=self.wanted.role or library.first_role, occupant=both[0], model=both[1])

    async def _one_by_one(self, library: Library, tree: Tree, model: str | None) -> tuple[str, str] | None:
        occupant = await ask_occupant(self, library, leave="another symptom")
        if occupant is None:
            return None
        if model is None:
            answer: int | None = await self.push_screen_wait(ChooseScreen("Which one is it?", tree.models))
            if answer is None:
                return None
            model = tree.models[answer]
        return occupant, model

    def _known_model(self, tree: Tree) -> str | None:
        """The model where it was said or makes no difference; None where it has to be asked for."""
        given = [model for model in tree.models if model.casefold() == self.wanted.model.casefold()]
        if given or tree.alike or len(tree.models) == 1:
            return given[0] if given else tree.models[0] if len(tree.models) == 1 else ""
        return None

    def _started(self, what: Ready, move: Move) -> tuple[Session, Sequence[str]]:
        journal, walk = started(self.wanted.walks, what, move, self.wanted.facts)
        return Session(journal, walk), ()

    def _walk(self, session: Session, told: Sequence[str], begins: bool) -> None:
        self.session = session
        screen = WalkScreen(session, begins)
        screen.told = tuple(told)
        self.push_screen(screen, self._walked)

    def _walked(self, result: object) -> None:
        """A walk was left at its end: back to the first page."""
        if self.session is not None:
            self.session.close()
        self.session = None

    # -- taking up again

    def take_up(self, said: str = "") -> None:
        """Go on with a walk that waits: the one that was said, or one that is chosen."""
        self.run_worker(self._take_up(said), exclusive=True)

    async def _take_up(self, said: str) -> None:
        try:
            chosen = said or await self._chosen_walk()
            if chosen:
                await self._taken_up(chosen)
        except FaulttreeError as error:
            await self._say(error)

    async def _chosen_walk(self) -> str:
        found = waiting(self.wanted.walks)
        asked = ChooseScreen("Go on with which walk?", [waiting_words(each) for each in found])
        answer: int | None = await self.push_screen_wait(asked)
        return "" if answer is None else found[answer].id

    async def _taken_up(self, said: str) -> None:
        journal, walk = opened(self.wanted.walks, said)
        session = Session(journal, walk)
        try:
            told = changed_since(self.wanted.library, journal.recorded)
            move = await take_over_move(self, walk, self.wanted.role)
            if move is None:
                session.close()
                return
            session.make(move)
        except BaseException:
            session.close()
            raise
        self._walk(session, [*told, journal.torn] if journal.torn else told, begins=True)

    async def _say(self, error: FaulttreeError) -> None:
        """An expected failure, in words."""
        await self.push_screen_wait(TextScreen(f"{error.what}.", (f"{error.advice}.",)))


def _press(screen: PagedScreen[object], key: str):  # type: ignore[no-untyped-def]
    return lambda: screen.pressed(key)


def _theme(name: str, colours: Colours, dark: bool) -> Theme:
    return Theme(
        name=name,
        primary=colours.ink,
        foreground=colours.ink,
        background=colours.paper,
        surface=colours.paper,
        panel=colours.paper,
        dark=dark,
    )
