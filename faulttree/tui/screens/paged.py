"""What all screens have in common: a page of rows, one row of keys, and presses that count only when they should."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from typing import TYPE_CHECKING, ClassVar, NamedTuple, TypeVar, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message
from textual.screen import Screen

from faulttree.tui.canvas import Canvas
from faulttree.tui.guard import Guard
from faulttree.tui.help import F1, HELP, always
from faulttree.tui.looks import Look, Looks
from faulttree.tui.practice import practice_row, practised
from faulttree.tui.rows import Row, rows_of
from faulttree.tui.widgets.paper import Paper

if TYPE_CHECKING:
    from faulttree.tui.app import RampApp

Result = TypeVar("Result")


class Key(NamedTuple):
    """A key of a screen: what it is called in the row of keys and what it does, for the help."""

    key: str
    name: str
    does: str
    shown: bool = True
    answer: bool = False
    """Whether it answers what is asked here: it counts once the page was seen to its end, and moves it on before."""


SCROLLING = {"down": (1, 0), "up": (-1, 0), "pagedown": (0, 1), "space": (0, 1), "pageup": (0, -1)}
SCROLLING |= {"home": (0, -1000), "end": (0, 1000)}
"""Keys that move the page: by how many rows and how many screens."""

EVERYTHING = "e"
"""The key of the page with nothing left out, where something can be."""

PARTS = 2
"""Papers of a screen: the page and the row of keys."""

LABELS = {
    "enter": "Enter",
    "question_mark": "?",
    "backspace": "Backspace",
    "escape": "Esc",
    "tab": "Tab",
    "f1": "F1",
    "f3": "F3",
}


def label(key: str) -> str:
    """How a key is called on the screen."""
    return LABELS.get(key, key)


class PagedScreen(Screen[Result]):
    """A page and a row of keys. A screen says its rows, its keys, and what a press does."""

    DEFAULT_CSS = """
    PagedScreen { layout: vertical; background: $background; }
    PagedScreen > .keys { height: 1; dock: bottom; }
    """
    BINDINGS: ClassVar[list[BindingType]] = []
    title_of_help = "Keys"
    seen_first = True
    """Whether an answer counts only once the page was seen to its end."""
    seen_beside = True
    """Whether it is a page beside the walk, where the fallback is only read."""
    has_letters = False
    """Whether letters are text here: then the help has F1 alone, and no key that is a letter or a sign."""
    key_of_fallback = "key f"
    """How the fallback is come to from here."""
    alike: ClassVar[dict[str, str]] = {}
    """Keys that do what another does."""

    def __init__(self) -> None:
        super().__init__()
        self.told: tuple[str, ...] = ()
        self.guard = Guard()
        self._hidden = 0
        """Rows of the page that are left out without a mark of their own."""
        self._is_stale = False
        """Whether other pages stood over this one since it was drawn."""
        self._shown_at: float | None = None
        """Since when the page is on the screen, whatever was drawn anew on it since."""
        self.was_left = False
        """Whether other pages ever stood over this one."""

    # -- what a screen says

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        """The rows of the page of now."""
        raise NotImplementedError

    def keys(self) -> Sequence[Key]:
        """The keys of now, the most needed first."""
        raise NotImplementedError

    def pressed(self, key: str) -> None:
        """What a press that counts does."""
        raise NotImplementedError

    # -- how it is shown

    @property
    def ramp(self) -> RampApp:
        """The program that the screen belongs to."""
        return cast("RampApp", self.app)

    @property
    def looks(self) -> Looks:
        """The looks of the program."""
        return self.ramp.looks

    @property
    def practice(self) -> bool:
        """Whether the walk is practice."""
        return self.ramp.practice

    def compose(self) -> ComposeResult:
        yield Paper(self.looks)
        keys = Paper(self.looks)
        keys.add_class("keys")
        yield keys

    def on_mount(self) -> None:
        self.guard.share(self.ramp.presses)
        self.draw(self.told)

    def on_resize(self, event: events.Resize) -> None:
        self.draw(self.told)

    def on_screen_suspend(self) -> None:
        self._is_stale = self.was_left = True
        self._shown_at = None

    def on_screen_resume(self) -> None:
        if self._is_stale:
            self.draw(self.told)

    def above(self, canvas: Canvas) -> tuple[Row, ...]:
        """What stands first on a page beside the walk: which walk it is, the patient's line, what is open."""
        walk = self.ramp.beside
        if walk is None:
            return practice_row(canvas)
        # Loaded only where there is a walk, for the first page's sake.
        from faulttree.tui.page import beside

        return beside(walk, canvas, self.key_of_fallback, self.ramp.taken_name)

    def fallback_keys(self) -> tuple[Key, ...]:
        """The key of the fallback on a page beside a walk that has one."""
        walk = self.ramp.beside
        can = walk is not None and not walk.over and walk.tree.fallback
        return (Key("f", "cannot wait", "fallback: what to do at once when it cannot wait"),) if can else ()

    def read_fallback(self) -> None:
        """Show the fallback; where something of it was done, which line worked is asked as soon as it is recorded."""
        from faulttree.tui.screens.fallback import FallbackScreen

        if self.ramp.beside is not None:
            self.app.push_screen(FallbackScreen(self.ramp.beside), self._fallback_was_read)

    def _fallback_was_read(self, done: bool | None) -> None:
        """What this page asked is given up for it, where it can be recorded now; else it is asked in the walk."""
        self.ramp.owes_fallback = bool(done) or self.ramp.owes_fallback
        if done and self.ramp.records_fallback:
            self.dismiss(None)

    def canvas(self) -> Canvas:
        """What the page is made for: the terminal but for the row of keys."""
        size = self.app.size
        return Canvas(max(size.width, 10), max(size.height - 1, 3), self.looks, self.practice)

    def move_on(self) -> None:
        """Show what stands below; the page is the same, so keys count at once."""
        self._move(0, 1)
        self._is_drawn(self.guard.covers)

    def _move(self, rows: int, screens: int) -> None:
        papers = list(self.query(Paper))
        if len(papers) < PARTS:
            return
        paper, keys = papers
        paper.move(rows, screens)
        keys.put((self._key_row(self.canvas(), paper.below),), self.looks)

    def draw(self, told: Sequence[str] = ()) -> None:
        """Show the page of now; what the program has to say stands first. Nothing pressed before counts."""
        self.told = tuple(told)
        papers = list(self.query(Paper))
        if len(papers) < PARTS:
            # The program is being left, or the page is not laid out yet: there is nothing to draw on.
            return
        self._is_stale = self._is_stale and not self.is_current
        self.guard.cover()
        canvas = self.canvas()
        paper, keys = papers
        rows = practised(self.rows(canvas), canvas)
        self._hidden = sum(row.hidden for row in rows)
        paper.put(rows, self.looks)
        keys.put((self._key_row(canvas, paper.below),), self.looks)
        self.call_after_refresh(self._is_drawn, self.guard.covers)

    def _is_drawn(self, covers: int) -> None:
        if covers == self.guard.covers:
            self.guard.drawn(now())
            if self.is_current and self._shown_at is None:
                self._shown_at = now()

    def _key_row(self, canvas: Canvas, below: int) -> Row:
        """The keys of now in one row: as many as there is room for, the help always, and what is left out."""
        keys = [key for key in self.keys() if key.shown]
        left_out = [Key(EVERYTHING, f"{self._hidden} more {'line' if self._hidden == 1 else 'lines'}", "")]
        shown = [*left_out, *(key for key in keys if key.key != EVERYTHING)] if self._hidden else keys
        rest = f"{label(self._help_key())} keys" if len(shown) > 1 else ""
        pieces: list[tuple[str, Look]] = [("DOWN more  ", "key")] if below else []
        taps = ["pagedown"] * len(pieces)
        room = canvas.width - len(rest) - sum(len(text) for text, _ in pieces)
        for key in shown:
            name, does = f"{label(key.key)} ", f"{key.name}  "
            if len(name + does) > room:
                break
            room -= len(name + does)
            pieces += [(name, "key"), (does, "faint")]
            taps += [key.key, key.key]
        return Row((*pieces, (rest, "key")), "", (*taps, self._help_key() if rest else ""))

    def _help_key(self) -> str:
        return F1 if self.has_letters else HELP

    # -- presses

    def on_key(self, event: events.Key) -> None:
        key = self.alike.get(event.key, event.key)
        if key in SCROLLING:
            event.stop()
            self._move(*SCROLLING[key])
        elif self.guard.counts(key, event.time):
            if key in self._known():
                event.stop()
                event.prevent_default()
                self.press(key)
        else:
            event.stop()
            event.prevent_default()

    def is_typed_here(self, event: events.Key) -> bool:
        """Whether a letter was typed for this page: after it came, and with a key that is not held since another."""
        shown = self._shown_at is not None and event.time >= self._shown_at
        return shown and not self.guard.is_held_over(event.key, event.time)

    def on_paper_scrolled(self, message: Paper.Scrolled) -> None:
        self._move(message.rows, 0)

    def on_paper_tapped(self, message: Paper.Tapped) -> None:
        if message.key in SCROLLING:
            self._move(*SCROLLING[message.key])
            return
        # A tap too many lands on the page that the first one led to, where another key stands in its place.
        fresh = [self.guard.counts(key, message.at) for key in ("tap", message.key)]
        if all(fresh) and message.key in self._known():
            self.press(message.key)

    def press(self, key: str) -> None:
        """Do what a key that counts does; an answer to a page that was not seen to its end moves the page on."""
        if self.seen_first and not self.query(Paper).first().is_seen and self._is_answer(key):
            self.move_on()
            return
        # One press, one page: nothing more counts before the page that this one leads to is drawn.
        self.guard.cover()
        if key in (HELP, F1):
            self.show_help()
        elif key == "f" and self.fallback_keys() and self.seen_beside:
            self.read_fallback()
        else:
            self.pressed(key)

    def _known(self) -> set[str]:
        return {F1, *(each.key for each in self.keys()), *(() if self.has_letters else (HELP,))}

    def _is_answer(self, key: str) -> bool:
        return any(each.key == key and each.answer for each in self.keys())

    def later(self, call: Callable[[], Awaitable[object]]) -> None:
        """Do what may ask more on pages of its own; afterwards this page stands again, if nothing else does."""
        self.run_worker(self._done_later(call), exclusive=True)

    async def _done_later(self, call: Callable[[], Awaitable[object]]) -> None:
        covers = self.guard.covers
        await call()
        if self.is_current and self.guard.covers == covers:
            self.draw(self.told)

    def show_help(self) -> None:
        """All keys of this screen, with what they do."""
        from faulttree.tui.screens.text import TextScreen

        lines = [f"{label(key.key)}  {key.does}" for key in self.keys()]
        self.app.push_screen(TextScreen(self.title_of_help, (*lines, *always(self.has_letters))))


def now() -> float:
    """The time of now by the clock that presses are timed by."""
    return Message().time


def heading(text: str, canvas: Canvas) -> tuple[Row, ...]:
    """A title as rows."""
    return rows_of(text, canvas.width, "strong")
