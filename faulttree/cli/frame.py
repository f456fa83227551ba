"""A frame of a file: the line of a problem between its neighbours, with a run of carets under the exact value.

Columns of a span count code points; what is under the carets is found by display width, after tabs are expanded and
characters that act on a terminal are made visible. Lines that are too long are cut on both sides of the value.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from faulttree.cells import broken, cell_width, cells
from faulttree.problems import Span
from faulttree.visible import visible

TAB = 4
CUT = "..."
INDENT = "    "
MOST_LAID_OUT = 1000
"""So many characters of a line around the value are looked at; a line may have a million."""


def frame(lines: Sequence[str], span: Span, width: int) -> list[str]:
    """The lines of the frame; ``lines`` are those of the file. Empty where the file has no such line."""
    if not 1 <= span.line <= len(lines):
        return []
    numbers = range(max(1, span.line - 1), min(len(lines), span.line + 1) + 1)
    gutter = len(str(numbers[-1]))
    room = max(10, width - len(INDENT) - gutter - 2)
    first = max(0, span.column - MOST_LAID_OUT // 2)
    near = {number: laid_out(lines[number - 1][first : first + MOST_LAID_OUT]) for number in numbers}
    view = _view(near[span.line], span._replace(column=span.column - first, end_column=span.end_column - first), room)
    framed = []
    for number in numbers:
        shown = view.cut(near[number])
        framed.append(f"{INDENT}{number:>{gutter}}  {shown}".rstrip())
        if number == span.line:
            framed.append(f"{INDENT}{'':>{gutter}}  {' ' * view.caret}{'^' * view.length}")
    return framed


class Cell(NamedTuple):
    """A character of a line as it is shown, and the cell that it begins at."""

    text: str
    at: int
    width: int


def laid_out(line: str) -> list[Cell]:
    """A line's code points with the cells that they take."""
    line = line.rstrip("\r\n")
    if line.isascii() and line.isprintable():
        return [Cell(character, at, 1) for at, character in enumerate(line)]
    found: list[Cell] = []
    at = 0
    for character in line:
        text = " " * (TAB - at % TAB) if character == "\t" else visible(character)
        size = cell_width(character) if text == character else cells(text)
        found.append(Cell(text, at, size))
        at += size
    return found


class View(NamedTuple):
    """Which cells of the lines are shown, and where the carets stand below them."""

    start: int
    room: int
    caret: int
    length: int

    def cut(self, line: Sequence[Cell]) -> str:
        """The part of a line that is in view, with marks where it goes on."""
        end = line[-1].at + line[-1].width if line else 0
        before = CUT if self.start and line else ""
        stop = self.start + self.room
        after = CUT if end > stop else ""
        first = self.start + len(before)
        last = stop - len(after)
        kept = [cell for cell in line if first <= cell.at and cell.at + cell.width <= last]
        if not kept:
            return before if line and self.start else ""
        lead = " " * (kept[0].at - first)
        return f"{before}{lead}{''.join(cell.text for cell in kept)}{after}"


def _view(line: Sequence[Cell], span: Span, room: int) -> View:
    """Show the line from its beginning where the value is then in sight, else from a little before the value."""
    begin, end = _cells_of(line, span)
    length = max(1, end - begin)
    start = 0
    if begin + min(length, room // 2) + len(CUT) > room:
        start = max(0, begin - room // 3)
    caret = begin - start
    return View(start, room, caret, min(length, room - caret))


def _cells_of(line: Sequence[Cell], span: Span) -> tuple[int, int]:
    """Where the value begins and ends in cells; a value of several lines is marked to the end of its first."""
    total = line[-1].at + line[-1].width if line else 0
    begin = _cell_at(line, span.column - 1, total)
    if span.end_line > span.line:
        return begin, total
    return begin, _cell_at(line, span.end_column - 1, total)


def _cell_at(line: Sequence[Cell], index: int, total: int) -> int:
    return line[index].at if 0 <= index < len(line) else total


def numbered(lines: Sequence[str], width: int, indent: str) -> Iterator[str]:
    """Lines with numbers, as the ways of a tree are shown."""
    gutter = len(str(len(lines)))
    for at, line in enumerate(lines, 1):
        first = f"{indent}{at:>{gutter}}  "
        yield from broken(line, width, first, " " * len(first))
