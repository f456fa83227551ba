"""What to do at once when it cannot wait: a page to read and act by; which line worked is asked afterwards."""

from __future__ import annotations

from collections.abc import Sequence

from faulttree.present import fallback_blocks
from faulttree.tui.canvas import Canvas
from faulttree.tui.page import blocks_page
from faulttree.tui.practice import practice_row
from faulttree.tui.rows import Row, rows_of
from faulttree.tui.screens.paged import Key, PagedScreen
from faulttree.walk import Walk

DONE = "done: say which line worked"
NOT_DONE = "back; nothing was done"


class FallbackScreen(PagedScreen[bool]):
    """Gives whether something was done. Its keys are no letters: nothing that is typed in haste closes it."""

    title_of_help = "Fallback"
    seen_beside = False

    def __init__(self, walk: Walk) -> None:
        super().__init__()
        self.walk = walk

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        above = practice_row(canvas)
        ask = rows_of(DONE, canvas.width, "strong", "Enter  ", "       ", "enter", "key")
        page = blocks_page(fallback_blocks(self.walk), canvas.less(len(above) + len(ask)))
        # The row of keys says it too: what is to be done is not moved off the screen for it.
        room = canvas.height - len(above) - len(page)
        return (*above, *page, *(() if 0 <= room < len(ask) else ask))

    def keys(self) -> Sequence[Key]:
        return (Key("escape", "back", NOT_DONE), Key("enter", "done", DONE, answer=True))

    def pressed(self, key: str) -> None:
        self.dismiss(key == "enter")
