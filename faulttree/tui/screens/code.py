"""The read-back code in large letters, to be said over the radio."""

from __future__ import annotations

from collections.abc import Sequence

from faulttree.present.ends import NOT_CARRIED, said_beside
from faulttree.present.letters import large
from faulttree.readback import encode
from faulttree.spelling import spell
from faulttree.tui.canvas import Canvas
from faulttree.tui.rows import EMPTY_ROW, Row, rows_of
from faulttree.tui.screens.text import TextScreen
from faulttree.walk import Walk

INK, PAPER = "█", " "


class CodeScreen(TextScreen):
    """The read-back code in large letters, group by group, with the words to say it in."""

    def __init__(self, walk: Walk) -> None:
        super().__init__("Read-back code", ())
        self.code = encode(walk)
        self.beside = said_beside(walk, self.code)

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        groups = [_group(group, canvas) for group in self.code.split("-")]
        wide = max(len(row.text) for group in groups for row in group)
        beside = max(1, min(2, canvas.width // (wide + 3)))
        rows = [*self.above(canvas), *rows_of(f"Read-back code: {self.code}", canvas.width, "strong")]
        for line in (NOT_CARRIED, *self.beside):
            rows += rows_of(line, canvas.width)
        rows += [EMPTY_ROW]
        for at in range(0, len(groups), beside):
            rows += [*_side_by_side(groups[at : at + beside], wide + 3), EMPTY_ROW]
        return rows


def _group(group: str, canvas: Canvas) -> list[Row]:
    ink = "#" if canvas.looks.ascii else INK
    drawn = [Row(((line, "strong"),)) for line in large(group, ink, PAPER)]
    return [*drawn, Row(((" ".join(spell(group)), "plain"),))]


def _side_by_side(groups: Sequence[Sequence[Row]], wide: int) -> list[Row]:
    rows = []
    for lines in zip(*groups, strict=True):
        pieces = [piece for line in lines for piece in (*line.pieces, (" " * (wide - len(line.text)), "plain"))]
        rows.append(Row(tuple(pieces)))
    return rows
