"""What decides what may happen next in a walk, and the moves that people make.

A `Key` is all that decides: the step, the phase of the step, the role, the model, the occupant, the open items and the
acknowledged notices. Equal keys allow equal forward moves to equal keys.
"""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from faulttree.value import Value


class Stage(StrEnum):
    """How far a step has come."""

    ARRIVED = "arrived"
    ASK = "ask"
    DO = "do"
    WAIT = "wait"
    INSPECT = "inspect"
    PROVE = "prove"
    LEFT_OPEN = "left open"
    TICK = "tick"
    ENDED = "ended"


class Gate(StrEnum):
    """What must be so before a step is shown."""

    OCCUPANT = "occupant"
    ROLE = "role"
    PEOPLE = "people"
    WARNINGS = "warnings"


class Kind(StrEnum):
    """The moves of a walk, by their words."""

    BEGIN = "begin"
    ACKNOWLEDGE = "acknowledge"
    PEOPLE_HERE = "people here"
    FINDING = "finding"
    READING = "reading"
    UNABLE = "unable"
    DONE = "done"
    WAITED = "waited"
    INSPECTED = "inspected"
    PASSED = "passed"
    FAILED = "failed"
    CLOSED = "closed"
    CANNOT = "cannot"
    NOTE = "note"
    OCCUPANT_OFF = "occupant off"
    OCCUPANT_ON = "occupant on"
    FALLBACK = "fallback"
    ALSO_FOUND = "also found"
    HAND_OVER = "hand over"
    TAKE_OVER = "take over"
    STOP = "stop"
    BACK = "back"
    START_OVER = "start over"
    REVISED = "revised"


ASIDES = ("help", "?", "so far", "open", "code")
"""Words that may be typed at every step and make no move."""

GIVE_UP = "give up"
"""The word behind which it is said why a walk is not gone on with: a stop that says so."""

ON = "on"
OFF = "off"
UNANSWERED = "unanswered"


class Phase(NamedTuple):
    """The stage, the next line of it, and which of its gates were passed: people here, warnings read this time."""

    stage: Stage = Stage.ARRIVED
    line: int = 0
    people: bool = False
    read: bool = False


class Key(NamedTuple):
    """All that decides what may happen next."""

    step: str
    phase: Phase
    role: str
    model: str
    occupant: str
    open_items: frozenset[str]
    acknowledged: frozenset[str]


class Move(Value):
    """A move with what it carries; a field that its kind does not use is empty."""

    kind: Kind
    label: str = ""
    """The finding's label; at a reading, the band it fell into; at stop, that the walk is given up."""
    value: str = ""
    """A reading as it was typed, with its unit."""
    text: str = ""
    """Why, a note, what else was found, who inspected, who takes over, who closed an item after the end; the revision
    that the walk goes on with."""
    line: int = 0
    """The fallback line that worked, from 1; 0 for none. Where the walk goes on with another revision, how many steps
    of its way stand."""
    item: str = ""
    to: str = ""
    """The step to go back to; the role to hand over to; the step at which another revision asks again."""
    role: str = ""
    model: str = ""
    occupant: str = ""
    closed: tuple[str, ...] = ()
    """At taking over, and at beginning from a code: open items that were found closed."""
    closed_by: tuple[str, ...] = ()
    """Who closed each of ``closed``, in its order; empty for one that whoever takes over may speak of alone."""
    code: str = ""
    """At the beginning: the read-back code that the walk goes on from."""
