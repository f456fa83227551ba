"""Rows of a page: text in looks, broken to the width of the screen, each with the key that a tap on it stands for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from faulttree.cells import broken, cell_width, cells
from faulttree.tui.looks import Look
from faulttree.visible import one_line


class Row(NamedTuple):
    """One row of the screen: pieces of text with their looks, and the key that a tap on it presses, or none."""

    pieces: tuple[tuple[str, Look], ...]
    key: str = ""
    keys: tuple[str, ...] = ()
    """Where each piece presses a key of its own: one for each piece, empty where it presses that of the row."""
    pinned: bool = False
    """Whether it stays while the page is moved."""
    hidden: int = 0
    """On the last row of a page: how many rows of it are left out and have no mark of their own."""

    @property
    def text(self) -> str:
        """The row as plain text."""
        return "".join(text for text, _ in self.pieces)

    def key_at(self, cell: int) -> str:
        """The key that a tap on that cell presses; empty where it presses none."""
        for (text, _), key in zip(self.pieces, self.keys, strict=False):
            if 0 <= cell < cells(text):
                return key or self.key
            cell -= cells(text)
        return self.key


EMPTY_ROW = Row(())


def rows_of(
    text: str, width: int, look: Look = "plain", first: str = "", rest: str = "", key: str = "", mark: Look = "plain"
) -> tuple[Row, ...]:
    """``text`` in rows of at most ``width`` cells; ``first`` stands before the first in the look ``mark``.

    Words that are longer than a row are cut, as every letter has to be seen. Control characters are made visible.
    """
    first, rest = one_line(first), one_line(rest)
    lines = [piece for line in broken(one_line(text), width, first, rest) for piece in cut(line, width)]
    rows = []
    for at, line in enumerate(lines):
        head = first if at == 0 and line.startswith(first) else ""
        pieces = (((head, mark),) if head else ()) + (((line[len(head) :], look),) if line[len(head) :] else ())
        rows.append(Row(pieces, key))
    return tuple(rows)


def cut(line: str, width: int) -> Iterator[str]:
    """The line in pieces of at most ``width`` cells."""
    if cells(line) <= width:
        yield line
        return
    piece, used = "", 0
    for character in line:
        size = cell_width(character)
        if used + size > width and piece:
            yield piece
            piece, used = "", 0
        piece, used = piece + character, used + size
    yield piece


def cropped(text: str, width: int) -> str:
    """The text in at most ``width`` cells; what is cut off is marked by two full stops."""
    text = one_line(text)
    if cells(text) <= width:
        return text
    begun = next(cut(text, max(width - 2, 1)))
    return (begun.rstrip() if cells(begun) <= width - 2 else "") + ".."


def cropped_at_a_word(text: str, width: int) -> str:
    """The same, but cut between two words, where that leaves most of the room used."""
    begun = cropped(text, width)
    if begun == one_line(text):
        return begun
    whole = begun[:-2].rpartition(" ")[0].rstrip(" ,;.")
    split = one_line(text)[len(begun) - 2 : len(begun) - 1].strip() != ""
    return f"{whole}.." if split and cells(whole) * 4 > width * 3 else begun


def paragraphs(texts: Iterable[str], width: int, look: Look = "plain", hang: str = "  ") -> tuple[Row, ...]:
    """Each text in rows of its own, what runs over set in by ``hang``."""
    return tuple(row for text in texts for row in rows_of(text, width, look, "", hang))
