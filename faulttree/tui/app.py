"""The program on a whole terminal: its screens, its looks, how it is left, and what it says last."""

from __future__ import annotations

import gc
import os
from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual.app import App
from textual.binding import Binding
from textual.filter import LineFilter
from textual.theme import Theme
from textual.worker import WorkerFailed

from faulttree.tui.colourless import Colourless
from faulttree.tui.looks import DAY, NIGHT, Colours, Looks
from faulttree.tui.screens.find import FindScreen
from faulttree.tui.screens.paged import PagedScreen
from faulttree.tui.signals import on_signals
from faulttree.tui.wanted import Wanted

if TYPE_CHECKING:
    from faulttree.sessions import Ready
    from faulttree.tui.session import Session
    from faulttree.walk import Walk

ENDED, UNFINISHED = 0, 3
"""Exit codes: whatever has ended, and what waits to be gone on with."""

SECONDS_OF_TERMINAL = 2.0
"""How often it is looked whether the terminal is still there."""


class RampApp(App[None]):
    """Find, walk, end; one page at a time."""

    CSS_PATH = "app.tcss"
    TITLE = "faulttree"
    # What can be done is found by words on a page of our own, whose signs and contrast are known.
    ENABLE_COMMAND_PALETTE = False
    BINDINGS = [  # noqa: RUF012
        Binding("ctrl+q", "leave", "save and leave", show=False, priority=True),
        Binding("ctrl+c", "leave", "save and leave", show=False, priority=True),
        Binding("ctrl+p", "by_words", "what can be done here, by its words", show=False),
        Binding("v", "view", "day or night", show=False),
        Binding("f2", "view", "day or night", show=False),
    ]

    def __init__(self, wanted: Wanted, looks: Looks) -> None:
        super().__init__()
        self.wanted = wanted
        self.looks = looks
        self.session: Session | None = None
        self.taken_up: Walk | None = None
        """The walk that pages stand beside before it is on the screen, or while it is asked about anew."""
        self.taken_name = ""
        """The id of a walk that is being taken up or closed: there may be others of its symptom."""
        self.owes_fallback = False
        """Whether something of the fallback was done, and it was not asked yet which line worked."""
        self.puts_down = False
        """Whether a walk is on the screen that is not walked on: its tree was withdrawn."""
        self.find = FindScreen(wanted.library, wanted.walks, wanted.role)
        self.last_words: tuple[str, ...] = ()
        self.broken: Exception | None = None
        """What nobody expected and what ended the program, if anything did."""
        self._left: dict[str, tuple[str, ...]] = {}
        """The last words of the walks that were left for the first page, by their ids."""
        self.presses: dict[str, float] = {}
        """When each key was pressed last, on whichever page."""
        self.animation_level = "none"

    @property
    def practice(self) -> bool:
        """Whether walks that are begun are practice."""
        return self.wanted.practice

    @property
    def beside(self) -> Walk | None:
        """The walk that a page belongs to: the one that is being taken up, else the one that is walked."""
        return self.taken_up or (self.session.walk if self.session is not None else None)

    @property
    def records_fallback(self) -> bool:
        """Whether it can be recorded now which line of the fallback worked: before the walk is taken up it cannot."""
        return self.puts_down or (self.session is not None and not self.session.is_unrecorded)

    # -- coming and going

    def on_mount(self) -> None:
        """Dress, listen for signals, and show the first page; what comes later is loaded behind it."""
        for theme in (_theme("night", NIGHT, dark=True), _theme("day", DAY, dark=False)):
            self.register_theme(theme)
        self._dress()
        on_signals(self._signalled)
        self._watch_terminal()
        self.push_screen(self.find)
        if self.wanted.resume:
            self.take_up(self.wanted.resume)
        elif self.wanted.what or self.wanted.code or self.wanted.tree:
            self.begin(self.wanted.tree, self.wanted.code, self.wanted.what)
        self.call_after_refresh(self._look_ahead)

    def _look_ahead(self) -> None:
        """Once the first page stands, load what the next ones need; from now on memory is looked after."""
        gc.enable()
        self.run_worker(_load_the_rest, thread=True)

    def _dress(self) -> None:
        self.theme = "day" if self.looks.day else "night"

    def _watch_terminal(self) -> None:
        """A terminal that is not the process's own goes away without a signal: then nobody is there any more."""
        if not self.is_headless:
            self.set_interval(SECONDS_OF_TERMINAL, self._leave_without_terminal)

    def _leave_without_terminal(self) -> None:
        if not os.isatty(0):
            self._signalled()

    def _signalled(self) -> None:
        self._remember()
        self.exit(return_code=self._code())

    def action_leave(self) -> None:
        """Save and leave. Every move is recorded already; the walk waits."""
        if self.session is not None:
            self.session.stop()
        self._remember()
        self.exit(return_code=self._code())

    def _code(self) -> int:
        return UNFINISHED if self.session is not None and self.session.is_unfinished else ENDED

    def _remember(self) -> None:
        """What is said last, on the plain terminal: what stays open, and how to go on."""
        left = [line for words in self._left.values() for line in words]
        left += self.session.last_words() if self.session is not None else ()
        self.last_words = tuple(map(self.looks.fit, left))

    def _handle_exception(self, error: Exception) -> None:
        """What nobody expected ends the program in order: the screen is left, and the command line tells of it."""
        # Named is what went wrong, and not the worker that it went wrong in.
        cause = error.error if isinstance(error, WorkerFailed) else error
        self.broken = self.broken or (cause if isinstance(cause, Exception) else error)
        if self.is_headless:
            super()._handle_exception(error)
            return
        self._remember()
        self.exit(return_code=UNFINISHED)

    def on_unmount(self) -> None:
        """However the program is left, others can open the walk, and what stays open is said."""
        self._remember()
        if self.session is not None:
            self.session.close()

    # -- looks

    def get_line_filters(self) -> Sequence[LineFilter]:
        """What every row passes on its way to the terminal: without colour the last thing takes greys away too."""
        filters = super().get_line_filters()
        return filters if self.looks.colour else (*filters, Colourless())

    def action_view(self) -> None:
        """Day becomes night, night day."""
        self.looks = self.looks._replace(day=not self.looks.day)
        self._dress()
        for screen in self.screen_stack:
            if isinstance(screen, PagedScreen):
                screen.draw(screen.told)

    def action_by_words(self) -> None:
        """Look for what can be done on the page of now by its words."""
        from faulttree.tui.screens.actions import named_keys

        screen = self.screen
        if isinstance(screen, PagedScreen) and not screen.has_letters and named_keys(screen):
            # What is typed next are words, and no answer of the page that still stands.
            screen.guard.cover()
            screen.run_worker(self._by_words(screen), group="by words", exclusive=True)

    async def _by_words(self, screen: PagedScreen[object]) -> None:
        from faulttree.tui.screens.actions import ActionsScreen, named_keys

        chosen: str | None = await self.push_screen_wait(ActionsScreen(named_keys(screen)))
        if chosen is not None:
            screen.press(chosen)

    # -- walking

    def begin(self, tree: str, code: str = "", what: Ready | None = None) -> None:
        """Begin a walk of that tree, or one that goes on from a read-back code, after what has to be asked first.

        ``what`` is the tree where it was looked through already; then it is not again.
        """
        self.owes_fallback = False
        self.run_worker(self._begin(tree, code, what), exclusive=True)

    async def _begin(self, tree: str, code: str, what: Ready | None) -> None:
        from faulttree.tui.beginnings import begin, begin_by_code

        await (begin_by_code(self, code, what) if code else begin(self, tree, what))

    def ask_code(self) -> None:
        """Go on from a read-back code that is asked for."""
        self.run_worker(self._ask_code(), exclusive=True)

    async def _ask_code(self) -> None:
        from faulttree.tui.beginnings import ask_code

        await ask_code(self)

    def take_up(self, said: str = "") -> None:
        """Go on with a walk that waits: the one that was said, or one that is chosen."""
        self.owes_fallback = False
        self.run_worker(self._take_up(said), exclusive=True)

    async def _take_up(self, said: str) -> None:
        from faulttree.tui.beginnings import take_up

        await take_up(self, said)

    def walk(self, session: Session, told: Sequence[str], begins: bool) -> None:
        """Show a walk, from where it is."""
        from faulttree.tui.screens.walk import WalkScreen

        self.session = session
        self._left.pop(session.id, None)
        screen = WalkScreen(session, begins)
        screen.told = tuple(told)
        self.push_screen(screen, self._walked)

    def remember(self, session: Session) -> None:
        """A walk that was left for the first page is told of last, with what stays open."""
        self._left[session.id] = session.last_words()

    def _walked(self, result: str | None) -> None:
        """A walk was left at its end: back to the first page, or on to the tree that it leads to."""
        if self.session is not None:
            self.remember(self.session)
            self.session.close()
        self.session = None
        self.find.typed = ""
        if result:
            self.begin(result)


def _load_the_rest() -> None:
    import faulttree.checking
    import faulttree.tui.beginnings
    import faulttree.tui.screens.walk  # noqa: F401


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
