"""The page: rows of text drawn one by one, scrolled where the screen has not room for all, tapped to press a key."""

from __future__ import annotations

from collections.abc import Sequence

from rich.segment import Segment
from textual import events
from textual.geometry import Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from faulttree.tui.looks import Looks, style
from faulttree.tui.rows import Row


class Paper(ScrollView, can_focus=False):
    """Draws rows as they are; nothing in them is taken for markup."""

    DEFAULT_CSS = """
    Paper { width: 1fr; height: 1fr; overflow-x: hidden; scrollbar-size-vertical: 0; }
    """

    class Tapped(Message):
        """A row with a key was tapped."""

        def __init__(self, key: str, at: float) -> None:
            super().__init__()
            self.key = key
            self.at = at

    def __init__(self, looks: Looks) -> None:
        super().__init__()
        self.looks = looks
        self._rows: tuple[Row, ...] = ()

    def put(self, rows: Sequence[Row], looks: Looks) -> None:
        """Show other rows, from the first one on."""
        self._rows, self.looks = tuple(rows), looks
        self.virtual_size = Size(self.size.width, len(self._rows))
        self.scroll_to(0, 0, animate=False)
        self.refresh()

    def move(self, rows: int, screens: int) -> None:
        """Show what stands further down or up; a row of a screen before stays in sight."""
        wanted = round(self.scroll_y) + rows + screens * max(self.size.height - 1, 1)
        last = max(0, len(self._rows) - self.size.height)
        self.scroll_to(0, min(max(wanted, 0), last), animate=False, force=True, immediate=True)

    def take_own_height(self) -> None:
        """Be as high as the rows and no higher."""
        self.styles.height = max(len(self._rows), 1)

    @property
    def below(self) -> int:
        """How many rows stand below the screen."""
        return max(0, len(self._rows) - self.size.height - round(self.scroll_y))

    def render_line(self, y: int) -> Strip:
        """The row at ``y`` of the screen, filled up to its width."""
        at = y + round(self.scroll_y)
        pieces = self._rows[at].pieces if at < len(self._rows) else ()
        segments = [Segment(self.looks.fit(text), style(look, self.looks)) for text, look in pieces]
        blank = style("plain", self.looks)
        return Strip(segments).adjust_cell_length(self.size.width, blank)

    def on_click(self, event: events.Click) -> None:
        """A tap on a row presses its key."""
        at = event.y + round(self.scroll_y)
        if 0 <= at < len(self._rows) and self._rows[at].key:
            self.post_message(self.Tapped(self._rows[at].key, event.time))
