"""What to do at once when it cannot wait; afterwards, which line of it worked."""

from __future__ import annotations

from collections.abc import Sequence

from faulttree.present import fallback_blocks
from faulttree.tui.canvas import Canvas
from faulttree.tui.page import blocks_page
from faulttree.tui.rows import Row, rows_of
from faulttree.tui.screens.paged import Key, PagedScreen, practice_row
from faulttree.walk import Walk


class FallbackScreen(PagedScreen[int | None]):
    """Gives the line that worked, 0 for none, or None where it was only read."""

    title_of_help = "Fallback"

    def __init__(self, walk: Walk) -> None:
        super().__init__()
        self.walk = walk

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        ask = rows_of("Which line worked? Its number, or 0 for none.", canvas.width, "strong")
        page = blocks_page(fallback_blocks(self.walk), canvas._replace(height=canvas.height - len(ask)))
        return (*practice_row(canvas), *page, *ask)

    def keys(self) -> Sequence[Key]:
        lines = self.walk.tree.fallback
        worked = [
            Key(str(at), "", f'line {at} worked: "{line.do}"', shown=False, answer=True)
            for at, line in enumerate(lines, 1)
        ]
        return (
            Key("b", "back", "back; nothing was done"),
            Key("0", "none worked", "no line of it worked", answer=True),
            *worked,
        )

    def pressed(self, key: str) -> None:
        self.dismiss(None if key == "b" else int(key))
