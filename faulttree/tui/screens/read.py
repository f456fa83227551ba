"""A page that is read to its end before something goes on, or left."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from faulttree.tui.canvas import Canvas
from faulttree.tui.rows import EMPTY_ROW, Row, paragraphs, rows_of
from faulttree.tui.screens.paged import Key, PagedScreen, heading


class ReadScreen(PagedScreen[bool]):
    """Gives true once it was read and goes on, false where it was left."""

    alike: ClassVar[dict[str, str]] = {"escape": "b"}

    def __init__(self, title: str, lines: Sequence[str], go_on: str) -> None:
        super().__init__()
        self.heading = title
        self.lines = tuple(lines)
        self.go_on = go_on

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        answer = rows_of(self.go_on, canvas.width, "strong", "Enter  ", "       ", "enter", "key")
        body = paragraphs(self.lines, canvas.width)
        return (*self.above(canvas), *heading(self.heading, canvas), *body, EMPTY_ROW, *answer)

    def keys(self) -> Sequence[Key]:
        go_on = Key("enter", "go on", self.go_on, answer=True)
        return (go_on, Key("b", "back", "leave it; Esc as well"), *self.fallback_keys())

    def pressed(self, key: str) -> None:
        self.dismiss(key == "enter")
