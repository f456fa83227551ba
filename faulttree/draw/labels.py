"""Rows of text as labels of graphviz, and numbers in words."""

from __future__ import annotations

from collections.abc import Iterable

from faulttree.draw.figure import Row
from faulttree.draw.text import marked, wrapped

WIDTH = 34
"""Cells of a line in a box."""

OPENING_WIDTH = 54
BREAK = '<BR ALIGN="LEFT"/>'


def lines_label(texts: Iterable[str], bold: bool = False) -> str:
    """Lines that are wrapped, as markup."""
    return "".join(f"<B>{marked(text)}</B>{BREAK}" if bold else f"{marked(text)}{BREAK}" for text in texts)


def columns_label(columns: Iterable[Iterable[Row]]) -> str:
    """Columns of rows beside each other, as an HTML-like label."""
    cells_ = (f'<TD VALIGN="TOP">{_inner(rows, OPENING_WIDTH)}</TD>' for rows in columns)
    return f'<<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0"><TR>{"<VR/>".join(cells_)}</TR></TABLE>>'


def table_label(rows: Iterable[Row], width: int) -> str:
    """Rows as an HTML-like label: paragraphs one below the other, parted where there is a rule."""
    return f"<{_inner(rows, width)}>"


def _inner(rows: Iterable[Row], width: int) -> str:
    parted: list[list[str]] = [[]]
    for row in rows:
        if row.kind == "rule":
            parted.append([])
        else:
            bold = row.kind in ("notice", "head")
            parted[-1].append(lines_label(wrapped(row.text, width - (2 if bold else 0)), bold))
    full = [f'<TR><TD ALIGN="LEFT" BALIGN="LEFT">{"".join(cell)}</TD></TR>' for cell in parted if cell]
    return f'<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0" CELLPADDING="2">{"<HR/>".join(full)}</TABLE>'


def ranges(numbers: Iterable[int]) -> str:
    """Numbers in words: ``1 to 4, 7, 9``."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)


def percent(share: float) -> str:
    """A share in per cent: whole from 1 on, and never 0 where there is a little."""
    return "under 1 %" if 0 < share < 0.005 else f"{100 * share:.0f} %"
