"""The word PRACTICE on every page of a walk that is one, however small the screen and however far the page is moved."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

from faulttree.tui.canvas import Canvas
from faulttree.tui.rows import Row, cropped

PRACTICE = "PRACTICE"


def practice_row(canvas: Canvas) -> tuple[Row, ...]:
    """The word PRACTICE on a page that has no status line, where the walk is one."""
    return (Row(((cropped(f"{PRACTICE}.", canvas.width), "status"),), pinned=True),) if canvas.practice else ()


def practised(rows: Sequence[Row], canvas: Canvas) -> Sequence[Row]:
    """The page; in practice it says so, and however it is moved: in a title that stays, else in a row of its own."""
    stays = [row for row in rows if row.pinned or len(rows) <= canvas.height]
    if not canvas.practice or any(PRACTICE in row.text for row in stays):
        return rows
    if not rows or PRACTICE not in rows[0].text:
        return (*practice_row(canvas), *rows)
    title = list(takewhile(lambda row: row.pieces and row.pieces[0][1] == rows[0].pieces[0][1], rows))
    return (*(row._replace(pinned=True) for row in title), *rows[len(title) :])
