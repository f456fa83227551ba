"""The page of now with nothing left out; it may be longer than the screen."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from faulttree.tui.canvas import Canvas
from faulttree.tui.rows import Row
from faulttree.tui.screens.text import TextScreen

ENDLESS = 10_000
"""Rows of a screen on which nothing has to give way."""


class WholeScreen(TextScreen):
    """The page of now, whichever it is, as it would stand on a screen without end."""

    def __init__(self, page: Callable[[Canvas], Sequence[Row]]) -> None:
        super().__init__("", ())
        self.page = page

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        return self.page(canvas._replace(height=ENDLESS))
