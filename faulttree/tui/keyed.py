"""Which key stands for which answer: digits for findings and results, `a` for warnings, Enter for what is done."""

from __future__ import annotations

from typing import NamedTuple

from faulttree.keys import Kind
from faulttree.present import Choice, choices
from faulttree.walk import Walk

ENTER = "enter"
ACKNOWLEDGE = "a"
READING = "m"
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

    Findings have the numbers of the file, an occupant is always 1 and none always 2, as where it is asked first;
    results and what is closed are numbered from 1. Nothing else has digits.
    """
    found = []
    number = 0
    for choice in choices(walk):
        kind = choice.move.kind
        if kind in BY_LETTER:
            found.append(Keyed(BY_LETTER[kind], choice))
        elif kind in (Kind.FINDING, Kind.OCCUPANT_ON, Kind.OCCUPANT_OFF):
            found.append(Keyed(str(choice.number), choice))
        else:
            number += 1
            found.append(Keyed(str(number), choice))
    return tuple(found)
