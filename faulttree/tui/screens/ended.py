"""A walk that is over, to be looked at, with a key for what is closed by now."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import ClassVar

from faulttree.present import Block
from faulttree.tui.canvas import Canvas
from faulttree.tui.page import blocks_page
from faulttree.tui.practice import practice_row
from faulttree.tui.rows import Row
from faulttree.tui.screens.paged import Key, PagedScreen

CLOSED = "c"


class EndedScreen(PagedScreen[bool]):
    """Gives whether something of the walk is to be recorded as closed."""

    title_of_help = "A walk that is over"
    alike: ClassVar[dict[str, str]] = {"escape": "enter", "b": "enter"}

    def __init__(self, title: str, blocks: Iterable[Block], closes: bool) -> None:
        super().__init__()
        self.blocks = (Block("title", (title,)), *blocks)
        self.closes = closes

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        above = practice_row(canvas)
        return (*above, *blocks_page(self.blocks, canvas.less(len(above))))

    def keys(self) -> Sequence[Key]:
        closed = (Key(CLOSED, "record closed", "record what is closed by now; the end stays as it was"),)
        return (
            *(closed if self.closes else ()),
            Key("enter", "leave", "back to the walks that wait; b and Esc as well"),
        )

    def pressed(self, key: str) -> None:
        self.dismiss(key == CLOSED)
