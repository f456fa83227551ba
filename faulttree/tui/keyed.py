"""Which key stands for which answer: digits for findings and results, `a` for warnings, Enter for what is done."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from faulttree.keys import Kind
from faulttree.present import Choice, choices
from faulttree.walk import Walk

ENTER = "enter"
ACKNOWLEDGE = "a"
READING = "m"
LOOK_AGAIN = "g"
GO_ON = "g"
"""At an end that leads on to another tree; no check is looked at again there."""
FILL_IN = "i"
"""At an end; no inspection is asked for there."""
MOST = 9
BY_LETTER = {
    Kind.ACKNOWLEDGE: ACKNOWLEDGE,
    Kind.PEOPLE_HERE: ENTER,
    Kind.DONE: ENTER,
    Kind.WAITED: ENTER,
    Kind.INSPECTED: "i",
    Kind.UNABLE: "u",
    Kind.CANNOT: "c",
    Kind.HAND_OVER: "h",
    Kind.TAKE_OVER: "t",
}


class Keyed(NamedTuple):
    """An answer and its key."""

    key: str
    choice: Choice

    @property
    def label(self) -> str:
        """The key as it stands on the screen."""
        return "Enter" if self.key == ENTER else self.key


def keyed(walk: Walk) -> tuple[Keyed, ...]:
    """The answers of now with their keys.

    Findings have the numbers of the file; where the occupant is asked for, on is 1 and off is 2, as where it is asked
    first; results are 1 and 2. Of what is to be closed the first is done by Enter, as work is, so that no digit that
    said passed closes anything; the others have digits from 2, and those beyond 9 come when there is room.
    """
    return tuple(_keyed(choices(walk)))


def _keyed(offered: Sequence[Choice]) -> Iterator[Keyed]:
    results = 0
    closed = 0
    for choice in offered:
        kind = choice.move.kind
        if kind == Kind.CLOSED:
            closed += 1
            if closed <= MOST:
                yield Keyed(ENTER if closed == 1 else str(closed), choice)
        elif kind in BY_LETTER:
            yield Keyed(BY_LETTER[kind], choice)
        elif kind in (Kind.FINDING, Kind.OCCUPANT_ON, Kind.OCCUPANT_OFF):
            yield Keyed(str(choice.number), choice)
        else:
            results += 1
            yield Keyed(str(results), choice)
