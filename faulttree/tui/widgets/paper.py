"""The page: rows of text drawn one by one, moved where the screen has not room for all, tapped to press a key."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len
from rich.segment import Segment
from textual import events
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from faulttree.tui.fit import most_pinned
from faulttree.tui.looks import Look, Looks, style
from faulttree.tui.rows import EMPTY_ROW, Row

WHEEL = 3
"""Rows that one turn of the wheel moves a page by."""


class Paper(Widget, can_focus=False):
    """Draws rows as they are; nothing in them is taken for markup.

    It moves its rows itself: a scrolling widget of the library would lay the whole screen out anew for each page. Rows
    that are pinned stay, as many as leave half of the screen to the others.
    """

    DEFAULT_CSS = """
    Paper { width: 1fr; height: 1fr; }
    """

    class Tapped(Message):
        """A row with a key was tapped."""

        def __init__(self, key: str, at: float) -> None:
            super().__init__()
            self.key = key
            self.at = at

    class Scrolled(Message):
        """The wheel was turned over the page."""

        def __init__(self, rows: int) -> None:
            super().__init__()
            self.rows = rows

    def __init__(self, looks: Looks) -> None:
        super().__init__()
        self.looks = looks
        self._rows: tuple[Row, ...] = ()
        self._top = 0
        """How many rows went off the screen."""
        self._seen = 0

    def put(self, rows: Sequence[Row], looks: Looks) -> None:
        """Show other rows, from the first one on."""
        width = max(self.app.size.width, 1)
        self._rows = tuple(each for row in rows for each in as_drawn(row, looks, width))
        self.looks, self._top, self._seen = looks, 0, 0
        self.refresh()

    def move(self, rows: int, screens: int) -> None:
        """Show what stands further down or up; a row of a screen before stays in sight."""
        self._seen = max(self._seen, self._top + self.size.height)
        pinned = len(self._pinned())
        wanted = self._top + rows + screens * max(self.size.height - pinned - 1, 1)
        # What was never shown is not jumped over.
        self._top = min(max(wanted, 0), max(0, len(self._rows) - self.size.height), self._seen - pinned)
        self.refresh()

    def _pinned(self) -> tuple[int, ...]:
        """The places of the rows that stay."""
        pinned = tuple(at for at, row in enumerate(self._rows) if row.pinned)
        return pinned[: most_pinned(len(pinned), self.size.height)]

    def place_of(self, y: int) -> int:
        """The place on the page of the row that stands at ``y`` of the screen: those that went off are none pinned."""
        if not self._top:
            return y
        pinned = self._pinned()
        moving = [at for at in range(len(self._rows)) if at not in pinned][self._top :]
        shown = sorted((*pinned, *moving))
        return shown[y] if y < len(shown) else len(self._rows)

    def _row_at(self, y: int) -> Row:
        at = self.place_of(y)
        return self._rows[at] if 0 <= at < len(self._rows) else EMPTY_ROW

    def take_own_height(self) -> None:
        """Be as high as the rows and no higher."""
        self.styles.height = max(len(self._rows), 1)

    @property
    def below(self) -> int:
        """How many rows stand below the screen."""
        return max(0, len(self._rows) - self.size.height - self._top)

    @property
    def is_seen(self) -> bool:
        """Whether every row of the page was on the screen."""
        return max(self._seen, self._top + self.size.height) >= len(self._rows)

    def render_line(self, y: int) -> Strip:
        """The row at ``y`` of the screen, filled up to its width."""
        segments = [Segment(text, style(look, self.looks)) for text, look in self._row_at(y).pieces]
        return Strip(segments).adjust_cell_length(self.size.width, style("plain", self.looks))

    def on_click(self, event: events.Click) -> None:
        """A tap on a row presses its key."""
        key = self._row_at(event.y).key_at(event.x)
        if key:
            self.post_message(self.Tapped(key, event.time))

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """The wheel moves the page."""
        event.stop()
        self.post_message(self.Scrolled(WHEEL))

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        event.stop()
        self.post_message(self.Scrolled(-WHEEL))


def as_drawn(row: Row, looks: Looks, width: int) -> Iterator[Row]:
    """The row as the terminal can show it; in several rows where its signs take more cells there, and none is lost."""
    pieces = [(looks.fit(text), look) for text, look in row.pieces]
    if sum(cell_len(text) for text, _ in pieces) <= width:
        yield row._replace(pieces=tuple(pieces))
        return
    row = row._replace(keys=())
    here: list[tuple[str, Look]] = []
    for text, look in pieces:
        begun = ""
        for character in text:
            if (here or begun) and sum(cell_len(each) for each, _ in here) + cell_len(begun + character) > width:
                yield row._replace(pieces=(*here, (begun, look)))
                here, begun = [], ""
            begun += character
        here.append((begun, look))
    yield row._replace(pieces=tuple(here))
