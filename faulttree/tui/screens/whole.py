"""The page of now with nothing left out; it may be longer than the screen."""

from __future__ import annotations

from collections.abc import Sequence

from faulttree.tui.canvas import Canvas
from faulttree.tui.endings import as_blocks
from faulttree.tui.page import blocks_page, walk_page
from faulttree.tui.rows import Row
from faulttree.tui.screens.text import TextScreen
from faulttree.walk import HANDED_OVER, Walk


class WholeScreen(TextScreen):
    """The page of now with nothing left out."""

    def __init__(self, walk: Walk) -> None:
        super().__init__("", ())
        self.walk = walk

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        if self.walk.ended or self.walk.state == HANDED_OVER:
            return blocks_page(as_blocks(self.walk, canvas.practice, ()), canvas)
        return walk_page(self.walk, canvas, whole=True)
