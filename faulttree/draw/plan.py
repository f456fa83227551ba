"""How a figure is split into parts that can be read on a page, and which of its lines are drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from faulttree.draw.figure import Box, Figure, Line, by_source, by_target
from faulttree.draw.labels import OPENING_WIDTH, WIDTH
from faulttree.draw.legend import legend_label
from faulttree.draw.paper import room_on
from faulttree.draw.parts import Part, Room, Size, parents_of, parts_of
from faulttree.draw.text import wrapped

SHRINK = (1.0, 0.88, 0.76, 0.64, 0.52, 0.4, 0.28)
"""How much of a page the parts are made for, tried in turn until all can be read."""

FURNITURE = 170.0
"""What title and legend take of the height of a page, in points."""


class Plan(NamedTuple):
    """How a figure is split: its parts, and by step the part that it is in."""

    figure: Figure
    parts: tuple[Part, ...]
    home: Mapping[str, int]
    direct: frozenset[Line]
    """The lines that are drawn from box to box; others are broken by connectors."""
    leaving: Mapping[str, Sequence[Line]]
    coming: Mapping[str, Sequence[Line]]
    """The lines by the step that they leave, and by the step that they lead to."""
    legend: str


def planned(figure: Figure, paper: str, shrink: float = SHRINK[1]) -> Plan:
    """The figure split for pages of that size."""
    wide, high = room_on(paper)
    return plan_of(figure, Room(wide, high - FURNITURE).smaller(shrink))


def plan_of(figure: Figure, room: Room) -> Plan:
    """The figure split into parts that fit ``room``, as estimated."""
    sizes = {name: _size(box) for name, box in figure.boxes.items()}
    if figure.opening:
        wide, high = sizes[figure.start]
        sizes[figure.start] = Size(max(wide, 540.0), high + 40.0 + 11.0 * _opening_lines(figure))
    parts = parts_of(figure, sizes, room)
    home = {name: part.number for part in parts for name in part.names}
    above = parents_of(figure)
    near = (line for line in figure.lines if line.drawn and above.get(line.target) == line.source)
    direct = frozenset(line for line in near if home[line.source] == home[line.target])
    return Plan(figure, parts, home, direct, by_source(figure), by_target(figure), legend_label(figure))


def _size(box: Box) -> Size:
    """An estimate of the room that a box takes, with the decision below it and the line to it."""
    rows = (*box.rows_before, *box.rows)
    lines = sum(len(wrapped(row.text, WIDTH)) for row in rows) + 4
    return Size(170.0 if box.shape == "end" else 205.0, 11.0 * lines + (125.0 if box.shape == "check" else 70.0))


def _opening_lines(figure: Figure) -> int:
    return sum(len(wrapped(row.text, OPENING_WIDTH)) for column in figure.opening for row in column) // 2
