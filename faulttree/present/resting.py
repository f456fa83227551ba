"""What a first fix, or an end without work, rests on: the findings so far, and the one check that alone decides.

One answer that was misread sends somebody to work on a part that is whole, or stops the search for what is broken. So
before the first work of a walk, and where a walk ends out of service or with no fault found, the way is shown once
more, and the check that most hangs on is offered again.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.keys import Gate, Kind
from faulttree.model import Check, End, Fix, Step
from faulttree.possible import possible
from faulttree.present.blocks import Block, in_danger, sees_figures
from faulttree.present.progress import done_so_far, step_words
from faulttree.present.remaining import NOTHING_LEFT
from faulttree.value import Value, replace
from faulttree.walk import GOING, Walk

ENDS = ("out of service", "no fault found")
"""The ends that are looked at once more: nobody goes on from them with the equipment."""

WORK = (Kind.DONE, Kind.WAITED, Kind.INSPECTED, Kind.PASSED, Kind.FAILED, Kind.CLOSED)
"""The moves that do something at a fix or an end; gates that were passed there are not work."""


class Resting(Value):
    """What a fix or an end rests on.

    ``lines`` are the steps of the way with their answers, numbered as in what was done so far, so that going back by
    number means the same line. ``alone`` is the step whose answer alone decides, empty where none does; ``why`` are
    the causes that this answer alone keeps out, in the tree's order.
    """

    lines: tuple[str, ...]
    alone: str = ""
    why: tuple[str, ...] = ()


def resting(walk: Walk) -> Resting | None:
    """What the walk rests on, where it has just come to its first work or to an end; None everywhere else.

    That is: at a fix, while no line of any fix was ticked since the last start over, or at an end out of service or
    with no fault found, in both cases before anything was done there. None too where nothing was answered yet, where
    the walk waits for somebody to take it over, and at an end or a fix of the first role with a hazard open: what is to
    be done there comes first.
    And None before the gates of occupant and role: whoever may not do the work is not led into it, only to hand over.

    An answer of a check **decides alone** where, without it, causes would be possible that are ruled out with it and
    that the fix does not clear, or that the end does not name. What is possible is `possible.possible`: so a matter
    of feel decides nothing, and a cause that two answers rule out, or an answer and a failed fix, is decided by
    neither alone. Where several answers decide, ``alone`` is the one that alone keeps out the most such causes; of
    equals the latest on the way.
    """
    if not _just_come(walk):
        return None
    lines = done_so_far(walk).lines
    if not lines:
        return None
    met = _met_by(walk.step)
    kept_out = [(visit.step, _without(_only_by(walk, at), met)) for at, visit in enumerate(walk.way)]
    checks = [each for each in kept_out if isinstance(walk.site.variant.steps[each[0]], Check) and each[1]]
    # The first of equals is kept, so the latest comes first.
    alone, why = max(reversed(checks), key=lambda each: len(each[1]), default=("", ()))
    return Resting(lines, alone, why)


Way = tuple[tuple[str, str, str], ...]


def way_of(walk: Walk) -> Way:
    """The steps of the way with their answers, by which one tells whether this last look was offered already.

    Looked at again and answered otherwise, it is another way.
    """
    answers = [(visit.step, visit.answer) for visit in walk.way]
    return tuple((step, answer.label, answer.value) if answer else (step, "", "") for step, answer in answers)


def _just_come(walk: Walk) -> bool:
    step = walk.step
    if walk.state != GOING or any(move.kind in WORK for move in walk.way[-1].moves):
        return False
    if walk.site.gate(walk.key) in (Gate.OCCUPANT, Gate.ROLE):
        return False
    if isinstance(step, End):
        return step.kind in ENDS and not in_danger(walk)
    if not isinstance(step, Fix) or _worked(walk):
        return False
    # What the first role does against a hazard is done now: a cot that is free is unloaded, not thought over.
    return not (in_danger(walk) and step.who == walk.library.first_role)


def _worked(walk: Walk) -> bool:
    """Whether a line of a fix was ticked since the last start over; conditions of a deferral are no work."""
    lines = walk.log[walk.stale_before() :]
    return any(line.move.kind == Kind.DONE and isinstance(line.at_step, Fix) for line in lines)


def _met_by(step: Step) -> tuple[str, ...]:
    """The causes that a fix clears or an end names: for these the walk has come to the right place."""
    if isinstance(step, Fix):
        return step.clears
    return tuple(step.named) if isinstance(step, End) else ()


def _only_by(walk: Walk, at: int) -> tuple[str, ...]:
    """The causes that would be possible without what was answered at place ``at`` of the way, and are not with it."""
    left = possible(walk)
    shorter = replace(walk, way=(*walk.way[:at], *walk.way[at + 1 :]))
    return _without(possible(shorter), left)


def _without(names: tuple[str, ...], others: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(name for name in names if name not in others)


def resting_blocks(walk: Walk, resting: Resting) -> tuple[Block, ...]:
    """The page of ``resting`` in words; the causes stand on it only for roles that see figures."""
    return tuple(_blocks(walk, resting))


def _blocks(walk: Walk, resting: Resting) -> Iterator[Block]:
    yield Block("title", (f"Next: {step_words(walk.step)} Before it, look once more.",))
    yield Block("text", ("It rests on:", *resting.lines))
    if resting.alone:
        question, answer = step_words(walk.site.variant.steps[resting.alone]), _answer(walk, resting.alone)
        yield Block("question", (f'One look alone decides: "{question}" You answered: {answer}.',))
    if sees_figures(walk) and (said := tuple(_possible(walk, resting))):
        yield Block("possible", said)


def _possible(walk: Walk, resting: Resting) -> Iterator[str]:
    causes = walk.site.variant.causes
    if causes and not possible(walk):
        yield NOTHING_LEFT
    if resting.alone:
        yield f"If that was misread, it may be: {'; '.join(causes[name].text for name in resting.why)}."


def _answer(walk: Walk, step: str) -> str:
    """What was answered at ``step``: the finding, before it the reading as it was typed."""
    moves = [visit.answer for visit in walk.way if visit.step == step and visit.answer]
    return ", ".join(part for move in moves[-1:] for part in (move.value, move.label) if part)
