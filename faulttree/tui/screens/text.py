"""A page to read: help, what was done so far, what is open, the code. Any of its keys closes it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from faulttree.present import Block
from faulttree.tui.canvas import Canvas
from faulttree.tui.page import blocks_page
from faulttree.tui.rows import Row, paragraphs
from faulttree.tui.screens.paged import Key, PagedScreen, heading, practice_row


class TextScreen(PagedScreen[None]):
    """A title and lines."""

    def __init__(self, title: str, lines: Sequence[str]) -> None:
        super().__init__()
        self.heading = title
        self.lines = tuple(lines)

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        body = paragraphs(self.lines, canvas.width)
        return (*practice_row(canvas), *heading(self.heading, canvas), *body)

    def keys(self) -> Sequence[Key]:
        return (Key("enter", "close", "back to where you were"), Key("escape", "close", "the same", shown=False))

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
        title = Block("title", (self.heading,)) if self.heading else Block("title", ())
        return (*practice_row(canvas), *blocks_page((title, *self.blocks), canvas))
