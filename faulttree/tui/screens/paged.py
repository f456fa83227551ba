"""What all screens have in common: a page of rows, one row of keys, and presses that count only when they should."""

from __future__ import annotations

import time
from collections.abc import Awaitable, Callable, Sequence
from typing import ClassVar, NamedTuple, TypeVar, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.screen import Screen

from faulttree.tui.canvas import Canvas
from faulttree.tui.guard import Guard
from faulttree.tui.looks import Look, Looks
from faulttree.tui.rows import Row, cropped, rows_of
from faulttree.tui.widgets.paper import Paper

Result = TypeVar("Result")


class Key(NamedTuple):
    """A key of a screen: what it is called in the row of keys and what it does, for the help."""

    key: str
    name: str
    does: str
    shown: bool = True
    answer: bool = False
    """Whether it answers what is asked here: such keys are pressed where the question stands, and nowhere else."""


SCROLLING = {"down": (1, 0), "up": (-1, 0), "pagedown": (0, 1), "space": (0, 1), "pageup": (0, -1)}
SCROLLING |= {"home": (0, -1000), "end": (0, 1000)}
"""Keys that move the page: by how many rows and how many screens."""

LABELS = {"enter": "Enter", "question_mark": "?", "backspace": "Backspace", "escape": "Esc", "tab": "Tab"}


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

    def __init__(self) -> None:
        super().__init__()
        self.told: tuple[str, ...] = ()
        self.guard = Guard()

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
    def looks(self) -> Looks:
        """The looks of the program."""
        from faulttree.tui.app import RampApp

        return cast(RampApp, self.app).looks

    @property
    def practice(self) -> bool:
        """Whether the walk is practice."""
        from faulttree.tui.app import RampApp

        return cast(RampApp, self.app).practice

    def compose(self) -> ComposeResult:
        yield Paper(self.looks)
        keys = Paper(self.looks)
        keys.add_class("keys")
        yield keys

    def on_mount(self) -> None:
        from faulttree.tui.app import RampApp

        self.guard.share(cast(RampApp, self.app).presses)
        self.draw(self.told)

    def on_resize(self, event: events.Resize) -> None:
        self.draw(self.told)

    def on_screen_resume(self) -> None:
        self.draw(self.told)

    def canvas(self) -> Canvas:
        """What the page is made for: the terminal but for the row of keys."""
        size = self.app.size
        return Canvas(max(size.width, 10), max(size.height - 1, 3), self.looks, self.practice)

    @property
    def has_more_below(self) -> bool:
        """Whether rows of the page stand below the screen."""
        return self.query(Paper).first().below > 0

    def move_on(self) -> None:
        """Show what stands below; the page is the same, so keys count at once."""
        self.query(Paper).first().move(0, 1)
        self._draw_keys()
        self._is_drawn(self.guard.covers)

    def draw(self, told: Sequence[str] = ()) -> None:
        """Show the page of now; what the program has to say stands first. Nothing pressed before counts."""
        self.told = tuple(told)
        self.guard.cover()
        canvas = self.canvas()
        paper, keys = self.query(Paper)
        paper.put(self.rows(canvas), self.looks)
        keys.put((self._key_row(canvas, paper.below),), self.looks)
        self.call_after_refresh(self._is_drawn, self.guard.covers)

    def _is_drawn(self, covers: int) -> None:
        if covers == self.guard.covers:
            self.guard.drawn(time.monotonic())

    def _key_row(self, canvas: Canvas, below: int) -> Row:
        """The keys of now in one row: as many as there is room for, the help always."""
        shown = [key for key in self.keys() if key.shown]
        texts = [(f"{label(key.key)} ", f"{key.name}  ") for key in shown]
        rest = "? keys" if len(shown) > 1 else ""
        pieces: list[tuple[str, Look]] = [("DOWN more  ", "warning")] if below else []
        room = canvas.width - len(rest) - sum(len(text) for text, _ in pieces)
        for name, does in texts:
            if len(name + does) > room:
                break
            room -= len(name + does)
            pieces += [(name, "key"), (does, "faint")]
        return Row((*pieces, (rest, "key")), "question_mark" if rest or not shown else shown[0].key)

    # -- presses

    def on_key(self, event: events.Key) -> None:
        key = event.key
        if key in SCROLLING:
            event.stop()
            self.query(Paper).first().move(*SCROLLING[key])
            self._draw_keys()
        elif self.guard.counts(key, event.time):
            if key in {each.key for each in (*self.keys(), HELP)}:
                event.stop()
                event.prevent_default()
                self._press(key)
        else:
            event.stop()
            event.prevent_default()

    def _draw_keys(self) -> None:
        paper, keys = self.query(Paper)
        keys.put((self._key_row(self.canvas(), paper.below),), self.looks)

    def on_paper_tapped(self, message: Paper.Tapped) -> None:
        # A tap too many lands on the page that the first one led to, where another key stands in its place.
        fresh = [self.guard.counts(key, message.at) for key in ("tap", message.key)]
        if all(fresh):
            self._press(message.key)

    def _press(self, key: str) -> None:
        # One press, one page: nothing more counts before the page that this one leads to is drawn.
        self.guard.cover()
        if key == HELP.key:
            self.show_help()
        else:
            self.pressed(key)

    def later(self, call: Callable[[], Awaitable[object]]) -> None:
        """Do what may ask more on pages of its own; afterwards this page stands again, if nothing else does."""
        self.run_worker(self._done_later(call), exclusive=True)

    async def _done_later(self, call: Callable[[], Awaitable[object]]) -> None:
        await call()
        if self.is_current and self.guard.is_covered:
            self.draw(self.told)

    def show_help(self) -> None:
        """All keys of this screen, with what they do."""
        from faulttree.tui.screens.text import TextScreen

        lines = [f"{label(key.key)}  {key.does}" for key in (*self.keys(), *ALWAYS)]
        self.app.push_screen(TextScreen(self.title_of_help, lines))


HELP = Key("question_mark", "keys", "this help")
ALWAYS = (
    Key("v or F2", "view", "day or night; where letters are typed, F2"),
    HELP,
    Key("ctrl+p", "all", "everything that can be done here, by its words"),
    Key("ctrl+q", "leave", "save and leave the program"),
)


def heading(text: str, canvas: Canvas) -> tuple[Row, ...]:
    """A title as rows."""
    return rows_of(text, canvas.width, "strong")


def practice_row(canvas: Canvas) -> tuple[Row, ...]:
    """The word PRACTICE on a page that has no status line, where the walk is one."""
    return (Row(((cropped("PRACTICE.", canvas.width), "status"),)),) if canvas.practice else ()
