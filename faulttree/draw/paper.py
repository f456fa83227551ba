"""Pages of A4 and A3 (ISO 216), upright or across, and on which of them a drawing can be read.

The smallest lettering of technical drawings is 1.8 mm high (ISO 3098, from memory). Capitals of Helvetica are 0.718 of
the size of the type, so type may not be smaller than 7.1 points.
"""

from __future__ import annotations

from typing import NamedTuple

TYPE = 9.0
"""The size of all type in a drawing, in points, before a page makes it smaller."""

SMALLEST = 1.8 / 25.4 * 72 / 0.718
MARGIN = 28.0
"""Left free at each side of a page, in points: a centimetre, as printers need."""


class Paper(NamedTuple):
    """A page: its name, and its sides in millimetres."""

    name: str
    wide: int
    high: int

    @property
    def points(self) -> tuple[float, float]:
        """Its sides in points."""
        return self.wide / 25.4 * 72, self.high / 25.4 * 72


PAPERS = (
    Paper("A4", 210, 297),
    Paper("A4 across", 297, 210),
    Paper("A3", 297, 420),
    Paper("A3 across", 420, 297),
)


class Placed(NamedTuple):
    """A drawing on a page: how much smaller it is there (1 or less), and whether it can still be read."""

    paper: Paper
    scale: float
    legible: bool


def place(wide: float, high: float, largest: str = "A3") -> Placed:
    """The first page on which a drawing of that size, in points, can be read; else the one where it is largest."""
    choice = [paper for paper in PAPERS if largest == "A3" or paper.name.startswith(largest)]
    placed = [_on(paper, wide, high) for paper in choice]
    return next((each for each in placed if each.legible), max(placed, key=lambda each: each.scale))


def _on(paper: Paper, wide: float, high: float) -> Placed:
    across, down = paper.points
    scale = min(1.0, (across - 2 * MARGIN) / wide, (down - 2 * MARGIN) / high)
    return Placed(paper, scale, scale * TYPE >= SMALLEST)


def room_on(largest: str) -> tuple[float, float]:
    """The sides of the largest page, in points of a drawing that is made as small as can still be read."""
    wide, high = PAPERS[0 if largest == "A4" else 2].points
    scale = SMALLEST / TYPE
    return (wide - 2 * MARGIN) / scale, (high - 2 * MARGIN) / scale
