"""The answers that may be given now, numbered, with what they mean."""

from __future__ import annotations

from typing import NamedTuple

from faulttree.closing import may_speak_of
from faulttree.keys import Gate, Kind, Move
from faulttree.model import Band, Check, Fix, Limit
from faulttree.moves import allowed
from faulttree.present.blocks import sentence
from faulttree.units import format_quantity
from faulttree.walk import Walk


class Choice(NamedTuple):
    """An answer that may be given: its number, its words, what they mean at length, and the move that it makes.

    ``asks`` says what the move still needs from the person: a reason, a name; empty where nothing.
    """

    number: int
    words: str
    says: str
    move: Move
    asks: str = ""


def choice_line(choice: Choice) -> str:
    """A choice as one line: number, words, and what they mean."""
    says = f" - {sentence(choice.says)}" if choice.says else ""
    return f"{choice.number}. {choice.words}{says}"


def asked_whether_open(walk: Walk, role: str) -> tuple[str, ...]:
    """The open items that somebody of that role is asked about when they take over, in the library's order."""
    return tuple(
        name for name in walk.library.open_items if name in walk.key.open_items and may_speak_of(walk.site, role, name)
    )


def choices(walk: Walk) -> tuple[Choice, ...]:
    """The numbered answers of now. A check's findings keep their numbers of the file, which its code says too.

    After a line of the fallback that worked handing over stands first, whatever else may be answered.
    """
    offered = _choices(walk)
    return _hand_over_first(walk, offered) if fallback_has_worked(walk) and not walk.ended else offered


def fallback_has_worked(walk: Walk) -> bool:
    """Whether a line of the fallback has worked and nothing was answered since, but who is on the equipment."""
    for line in reversed(walk.log):
        if line.move.kind == Kind.FALLBACK and line.move.line:
            return True
        if line.move.kind not in (Kind.FALLBACK, Kind.OCCUPANT_ON, Kind.OCCUPANT_OFF, Kind.NOTE, Kind.ALSO_FOUND):
            return False
    return False


def _hand_over_first(walk: Walk, offered: tuple[Choice, ...]) -> tuple[Choice, ...]:
    """Where it is among the answers it keeps its number; where it is not it has one that no finding has."""
    there = tuple(choice for choice in offered if choice.move.kind == Kind.HAND_OVER)
    rest = tuple(choice for choice in offered if choice.move.kind != Kind.HAND_OVER)
    return (*(there or (_hand_over(walk, 0),)), *rest)


def _hand_over(walk: Walk, number: int) -> Choice:
    """Handing over to whom the next step is for, where that is somebody else."""
    who = walk.site.needs(walk.key).who
    to = "" if walk.library.may(walk.key.role, who) else who
    return Choice(number, "hand over", f"to {to or 'the next person'}; the walk waits", Move(Kind.HAND_OVER, to=to))


def _choices(walk: Walk) -> tuple[Choice, ...]:
    numbered = [choice for move in allowed(walk.site, walk.key) if (choice := _finding_choice(walk, move))]
    taken = max((choice.number for choice in numbered), default=0)
    if walk.site.gate(walk.key) == Gate.OCCUPANT:
        return _occupant_choices(walk)
    others = [move for move in allowed(walk.site, walk.key) if move.kind not in NOT_ASKED]
    for move in sorted(others, key=lambda move: ORDER.index(move.kind)):
        taken += 1
        numbered.append(Choice(taken, *_said(walk, move)))
    if walk.site.gate(walk.key) == Gate.ROLE:
        who = walk.site.needs(walk.key).who
        numbered.append(Choice(taken + 1, "hand over", f"to {who}; the walk waits", Move(Kind.HAND_OVER, to=who)))
        numbered.append(Choice(taken + 2, "take over", f"a {who} goes on here", Move(Kind.TAKE_OVER, role=who)))
    return tuple(numbered)


def _occupant_choices(walk: Walk) -> tuple[Choice, ...]:
    """1 is always yes and 2 always no, as at the beginning; what else can be done with somebody on it follows."""
    numbers = {Kind.OCCUPANT_ON: 1, Kind.OCCUPANT_OFF: 2}
    moves = [move for move in reversed(allowed(walk.site, walk.key)) if move.kind in numbers]
    said = [Choice(numbers[move.kind], *_said(walk, move)) for move in moves]
    return (*said, _hand_over(walk, 3))


NOT_ASKED = (Kind.FINDING, Kind.OCCUPANT_OFF, Kind.OCCUPANT_ON)
"""Findings have numbers of their own; an occupant on or off is asked for only where it stands in the way."""

ORDER = (
    Kind.PEOPLE_HERE,
    Kind.ACKNOWLEDGE,
    Kind.CLOSED,
    Kind.DONE,
    Kind.WAITED,
    Kind.INSPECTED,
    Kind.PASSED,
    Kind.FAILED,
    Kind.UNABLE,
    Kind.CANNOT,
)

SAID_OF_WORK = (Kind.FINDING, Kind.READING, *(kind for kind in ORDER if kind not in (Kind.UNABLE, Kind.CANNOT)))
"""The answers that say that something was read, found or done: none counts before it was asked for."""


def _finding_choice(walk: Walk, move: Move) -> Choice | None:
    step = walk.step
    if move.kind != Kind.FINDING or not isinstance(step, Check):
        return None
    finding = step.finding(move.label)
    if finding is None:
        return None
    edge = _edge(walk, step, finding.label)
    return Choice(finding.number, finding.label, ": ".join(filter(None, (edge, finding.says))), move)


def _edge(walk: Walk, step: Check, label: str) -> str:
    """Where the band ends that a finding of a measured check stands for; empty for a finding that is read."""
    limit = walk.library.limits.get(step.measure)
    bands = limit.scales[walk.key.model].bands if limit else ()
    return next((band_edge(limit, band) for band in bands if limit and band.label == label), "")


def band_edge(limit: Limit, band: Band) -> str:
    """Where a band ends, in the limit's unit."""
    if band.limit is None:
        return "above that"
    return f"{'up to' if band.inclusive else 'below'} {format_quantity(band.limit, limit.unit)}"


def _said(walk: Walk, move: Move) -> tuple[str, str, Move, str]:
    """A move's words, what it means here, the move, and what it still asks for."""
    occupant = walk.library.occupant
    if move.kind == Kind.OCCUPANT_OFF:
        return "occupant off", occupant.off if occupant else "", move, ""
    if move.kind == Kind.OCCUPANT_ON:
        return "occupant on", f"{occupant.ask} Yes" if occupant else "", move, ""
    if move.kind == Kind.ACKNOWLEDGE:
        count = len(walk.site.pending(walk.key))
        return "acknowledge", f"I have read {'this' if count == 1 else f'all {count}'}", move, ""
    if move.kind == Kind.CLOSED:
        return "closed", walk.library.open_items[move.item].text, move, ""
    if move.kind == Kind.DONE:
        return "done", _next_line(walk), move, ""
    if move.kind == Kind.INSPECTED:
        return "inspected", "say by whom", move, WHO_INSPECTED
    if move.kind == Kind.UNABLE:
        return "unable", _route_why(walk) or "this cannot be checked now", move, WHY
    if move.kind == Kind.CANNOT:
        return "cannot", "no part, tool, person or place, or unsafe", move, WHY
    return str(move.kind), SAYS.get(move.kind, ""), move, ""


WHY = "Why (no patient data)"
WHO_INSPECTED = "Name or initials of who inspected"
SAYS = {
    Kind.PEOPLE_HERE: "enough people are here",
    Kind.WAITED: "the time is over",
    Kind.PASSED: "the operational check passed",
    Kind.FAILED: "the operational check failed",
}


def _next_line(walk: Walk) -> str:
    step, at = walk.step, walk.key.phase.line
    if isinstance(step, Check):
        return ""
    lines = step.lines
    return f"line {at + 1} of {len(lines)}" if isinstance(step, Fix) else f"condition {at + 1} of {len(lines)} is so"


def _route_why(walk: Walk) -> str:
    step = walk.step
    return step.unable.why if isinstance(step, Check) and step.unable else ""
