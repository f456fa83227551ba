"""A page to read: help, what was done so far, what is open, the code."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import ClassVar

from faulttree.present import Block
from faulttree.tui.canvas import Canvas
from faulttree.tui.page import blocks_page
from faulttree.tui.rows import Row, paragraphs
from faulttree.tui.screens.paged import Key, PagedScreen, heading


class TextScreen(PagedScreen[None]):
    """A title and lines."""

    alike: ClassVar[dict[str, str]] = {"escape": "enter", "b": "enter"}

    def __init__(self, title: str, lines: Sequence[str]) -> None:
        super().__init__()
        self.heading = title
        self.lines = tuple(lines)

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        body = paragraphs(self.lines, canvas.width)
        return (*self.above(canvas), *heading(self.heading, canvas), *body)

    def keys(self) -> Sequence[Key]:
        return (Key("enter", "close", "back to where you were; b and Esc as well"), *self.fallback_keys())

    def pressed(self, key: str) -> None:
        self.dismiss(None)

    def show_help(self) -> None:
        """The page is its own help, and stands again."""
        self.draw(self.told)


class BlocksScreen(TextScreen):
    """Blocks of a walk, in full."""

    def __init__(self, title: str, blocks: Iterable[Block]) -> None:
        super().__init__(title, ())
        self.blocks = tuple(blocks)

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        above = self.above(canvas)
        title = Block("title", (self.heading,) if self.heading else ())
        return (*above, *blocks_page((title, *self.blocks), canvas.less(len(above))))
