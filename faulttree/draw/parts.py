"""Which lines are drawn through, and a large figure split into parts that fit a page.

A step is drawn below one of the steps that lead to it, the one through which most of the weight comes; lines from
others are broken and go on at a connector. So a drawing is a tree: nothing crosses, and it can be cut anywhere.
A part is a branch of it, or several small ones. Sizes are estimates; what the layout really takes is measured
afterwards, and the split made anew with a smaller size where a part does not fit.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from faulttree.draw.figure import Figure


class Part(NamedTuple):
    """The steps of a part, in the order of their numbers."""

    number: int
    names: tuple[str, ...]


def parents_of(figure: Figure) -> dict[str, str]:
    """For each step the one that it is drawn below; the start and steps that nothing earlier leads to have none."""
    at = {name: index for index, name in enumerate(figure.boxes)}
    share: dict[tuple[str, str], float] = {}
    for line in figure.lines:
        if line.drawn and at[line.source] < at[line.target]:
            way = line.target, line.source
            share[way] = share.get(way, 0.0) + line.weight + (1.0 if line.mark != "-" else 0.0)
    parents: dict[str, str] = {}
    for (target, source), weight in share.items():
        if target not in parents or weight > share[target, parents[target]]:
            parents[target] = source
    return parents


class Size(NamedTuple):
    """An estimate of what a step takes on its own, in points: it stands below what leads to it."""

    wide: float
    high: float


class Room(NamedTuple):
    """What a page has for steps, in points; upright, or turned."""

    wide: float
    high: float

    def holds(self, wide: float, high: float) -> bool:
        """Whether something of that size has room."""
        return (wide <= self.wide and high <= self.high) or (wide <= self.high and high <= self.wide)

    def smaller(self, by: float) -> Room:
        """A part of it."""
        return Room(self.wide * by, self.high * by)


def parts_of(figure: Figure, sizes: Mapping[str, Size], room: Room) -> tuple[Part, ...]:
    """The parts, none larger than ``room`` unless it is one step; in the order of their first steps."""
    names = list(figure.boxes)
    above = parents_of(figure)
    children: dict[str, list[str]] = {name: [] for name in names}
    for name, parent in above.items():
        children[parent].append(name)
    cut, size = _cut(names, children, sizes, room)
    home: dict[str, str] = {}
    pieces: dict[str, list[str]] = {}
    for name in names:
        home[name] = name if name in cut or name not in above else home[above[name]]
        pieces.setdefault(home[name], []).append(name)
    return _gathered(pieces, names, size, room)


def _cut(
    names: Sequence[str], children: Mapping[str, list[str]], sizes: Mapping[str, Size], room: Room
) -> tuple[frozenset[str], dict[str, Size]]:
    """The steps to cut before, from the leaves up, until what is left at each step fits; and how large that then is.

    Where it is too high the highest branch is cut off, where it is too wide the widest.
    """
    size: dict[str, Size] = {}
    cut: set[str] = set()
    for name in reversed(names):
        kept = sorted(children[name], key=lambda child: size[child].high)
        whole = _whole(sizes[name], [size[child] for child in kept])
        while kept and not room.holds(*whole):
            too_wide = whole.wide > max(room) or (whole.high <= min(room) and whole.wide > min(room))
            off = max(kept, key=lambda child: size[child].wide) if too_wide else kept[-1]
            kept.remove(off)
            cut.add(off)
            whole = _whole(sizes[name], [size[child] for child in kept])
        size[name] = whole
    return frozenset(cut), size


def _whole(own: Size, below: Sequence[Size]) -> Size:
    wide = max(own.wide, sum(each.wide for each in below))
    return Size(wide, own.high + max((each.high for each in below), default=0.0))


def _gathered(
    pieces: Mapping[str, list[str]], names: Sequence[str], size: Mapping[str, Size], room: Room
) -> tuple[Part, ...]:
    """Pieces that follow each other put beside each other while they fit, so that no page has a single small step."""
    at = {name: index for index, name in enumerate(names)}
    groups: list[list[str]] = []
    wide = high = 0.0
    for head, piece in pieces.items():
        together = wide + size[head].wide, max(high, size[head].high)
        if groups and room.holds(*together):
            groups[-1] += piece
            wide, high = together
        else:
            groups.append(list(piece))
            wide, high = size[head]
    return tuple(Part(number, tuple(sorted(group, key=at.__getitem__))) for number, group in enumerate(groups, 1))
