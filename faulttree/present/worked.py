"""The work of a walk as its log has it: each fix that was begun, what became of it, whatever became of the way."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from faulttree.keys import Kind, Move
from faulttree.model import Fix, Library
from faulttree.walk import Logged, Walk


class Worked(NamedTuple):
    """A fix as it was worked once, with its lines of the log; ``time`` counts how often this step was, from 1."""

    fix: Fix
    time: int
    logged: tuple[Logged, ...]

    @property
    def library(self) -> Library:
        """The library that it was done by: the walk may have gone on with another revision since."""
        return self.logged[0].site.library

    @property
    def place(self) -> str:
        """What its texts belong to: the step, and the time where it was worked more than once."""
        return self.fix.id if self.time == 1 else f"{self.fix.id} {self.time}"

    @property
    def ticked(self) -> int:
        """How many of its lines were ticked."""
        return sum(line.move.kind == Kind.DONE for line in self.logged)

    @property
    def is_done(self) -> bool:
        """Whether all its lines were ticked."""
        return self.ticked >= len(self.fix.lines)

    def moves(self, *kinds: Kind) -> tuple[Move, ...]:
        """Its moves of these kinds, in order."""
        return tuple(line.move for line in self.logged if line.move.kind in kinds)


KINDS = (Kind.DONE, Kind.WAITED, Kind.INSPECTED, Kind.PASSED, Kind.FAILED, Kind.CANNOT)


def work_of(walk: Walk) -> tuple[Worked, ...]:
    """Each fix that was begun, in the order in which they were. After going back its lines are asked for anew."""
    found: list[Worked] = []
    for line in walk.log:
        step = line.at_step
        if not isinstance(step, Fix) or line.move.kind not in KINDS:
            continue
        here = [at for at, each in enumerate(found) if each.fix.id == step.id]
        if not here or _begins_anew(found[here[-1]].logged, line):
            found.append(Worked(step, len(here) + 1, (line,)))
        else:
            last = found[here[-1]]
            found[here[-1]] = last._replace(logged=(*last.logged, line))
    return tuple(found)


def _begins_anew(logged: Sequence[Logged], line: Logged) -> bool:
    over = logged[-1].move.kind in (Kind.PASSED, Kind.FAILED, Kind.CANNOT)
    return over or (line.move.kind == Kind.DONE and line.phase.line == 0)
