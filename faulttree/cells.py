"""Text in terminal cells: how wide it is, and lines broken to a width.

East Asian wide and fullwidth characters take two cells, combining marks none (Unicode Standard Annex 11).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

LEAST_TEXT = 24
"""So many cells a text beside a name needs; with less room it stands below."""

NO_WIDTH = frozenset({"Mn", "Me", "Cf"})


COMBINING = "\u0300"
"""The first of the characters that are not one cell wide."""


def is_narrow(text: str) -> bool:
    """Whether each character surely takes one cell, as all before the combining marks do."""
    return text.isascii() or max(text) < COMBINING


def cells(text: str) -> int:
    """How many cells ``text`` takes."""
    if is_narrow(text):
        return len(text)
    return sum(cell_width(character) for character in text)


def cell_width(character: str) -> int:
    """0, 1 or 2 cells."""
    # A soft hyphen is drawn as a hyphen by most terminals.
    if character.isascii() or character == "\xad":
        return 1
    from unicodedata import category, east_asian_width

    if category(character) in NO_WIDTH:
        return 0
    return 2 if east_asian_width(character) in "WF" else 1


def broken(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """``text`` in lines of at most ``width`` cells, ``first`` before the first and ``rest`` before the others.

    A word that is longer than a line stays whole: paths and names can then be copied.
    """
    lines: list[str] = []
    line, used, empty = first, cells(first), True
    for word in text.split():
        size = cells(word)
        if not empty and used + 1 + size > width:
            lines.append(line)
            line, used, empty = rest, cells(rest), True
        line, used = (line + word, used + size) if empty else (f"{line} {word}", used + 1 + size)
        empty = False
    return [*lines, line]


def in_columns(rows: Iterable[tuple[str, str]], width: int, indent: str = "  ") -> Iterator[str]:
    """Names with what they are: beside each other where there is room, else one below the other."""
    pairs = list(rows)
    left = max((cells(name) for name, _ in pairs), default=0)
    narrow = width - left - 4 < LEAST_TEXT
    for name, text in pairs:
        if not text:
            yield indent + name
        elif narrow:
            yield indent + name
            yield from broken(text, width, indent * 2, indent * 2)
        else:
            first = indent + name + " " * (left - cells(name) + 2)
            yield from broken(text, width, first, indent + " " * (left + 2))
