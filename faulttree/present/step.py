"""What a walk shows now: the gate that is not passed, or the work of the step, and the answers that may be given."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from faulttree.model import Check, Fix, Limit, Scale
from faulttree.moves import ON, Gate, Kind, Move, Stage, allowed
from faulttree.present.blocks import (
    Block,
    document_words,
    first_line,
    notice_block,
    notice_line,
    one_or_more,
    sees_figures,
    sentence,
    sentences,
    status_block,
)
from faulttree.present.ends import end_blocks
from faulttree.present.progress import step_words
from faulttree.units import torque_in_two_units
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


def screen(walk: Walk, practice: bool = False) -> tuple[Block, ...]:
    """All that is shown now, in order: status, the occupant's line, warnings, the question and how, the answers."""
    blocks = [status_block(walk, practice), *first_line(walk)]
    if walk.ended:
        blocks += end_blocks(walk, practice)
    else:
        blocks += _now(walk)
        blocks += [Block("choice", tuple(choice_line(choice) for choice in choices(walk)))]
    return tuple(block for block in blocks if block.lines)


def next_line(walk: Walk, practice: bool = False) -> tuple[Block, ...]:
    """Between the lines of a fix, for whoever saw them all: status, the next line with the torques, the answers."""
    step, at = walk.step, walk.key.phase.line
    lines = step.do if isinstance(step, Fix) else ()
    blocks = (
        status_block(walk, practice),
        *first_line(walk),
        Block("how", (f"Line {at + 1} of {len(lines)}: {sentence(lines[at])}",)),
        Block("text", torque_lines(step) if isinstance(step, Fix) else ()),
        Block("choice", tuple(choice_line(choice) for choice in choices(walk))),
    )
    return tuple(block for block in blocks if block.lines)


def in_the_lines(walk: Walk) -> bool:
    """Whether some, but not all, lines of a fix are done and no gate stands before the next."""
    phase = walk.key.phase
    return phase.stage == Stage.DO and phase.line > 0 and walk.site.gate(walk.key) is None


def choice_line(choice: Choice) -> str:
    """A choice as one line: number, words, and what they mean."""
    says = f" - {sentence(choice.says)}" if choice.says else ""
    return f"{choice.number}. {choice.words}{says}"


def _now(walk: Walk) -> Iterator[Block]:
    gate = walk.site.gate(walk.key)
    if gate == Gate.OCCUPANT:
        yield from _occupant_gate(walk)
    elif gate == Gate.ROLE:
        yield from _role_gate(walk)
    elif gate == Gate.PEOPLE:
        yield Block("title", (f"Next: {_title(walk)}",))
        people = walk.site.needs(walk.key).people
        yield Block("gate", (f"This takes {people} people. Go on when {people} are here.",))
    elif gate == Gate.WARNINGS:
        yield Block("title", (f"Next: {_title(walk)}",))
        yield from (notice_block(notice) for notice in walk.site.pending(walk.key))
    else:
        yield from _known_notices(walk)
        yield from _work(walk)


def _occupant_gate(walk: Walk) -> Iterator[Block]:
    occupant = walk.library.occupant
    ask = occupant.ask if occupant else ""
    if walk.key.occupant == ON:
        yield Block("gate", ("The next step must not be done yet.", f"{ask} Yes. Go on when this has changed."))
    else:
        yield Block("question", (ask,))
        yield Block("gate", ("Until this is answered with no, the next step must not be done.",))


def _role_gate(walk: Walk) -> Iterator[Block]:
    who = walk.site.needs(walk.key).who
    yield Block("gate", (f"The next step is for: {who}. Hand over, or let a person of that role take over here.",))


def _title(walk: Walk) -> str:
    """The step's words; at the operational check, those of the check."""
    step = walk.step
    if walk.key.phase.stage == Stage.PROVE and isinstance(step, Fix):
        return f"{sentence(walk.library.operational_checks[step.operational_check].text)} (operational check)"
    return step_words(step)


def _known_notices(walk: Walk) -> Iterator[Block]:
    """Notices of a step whose gates are passed: those acknowledged in one line, notes in full."""
    for notice in walk.site.notices(walk.site.needs(walk.key).notices):
        yield notice_line(notice) if notice.needs_acknowledging else notice_block(notice)


def _work(walk: Walk) -> Iterator[Block]:
    step, stage = walk.step, walk.key.phase.stage
    if isinstance(step, Check):
        yield Block("question", (step.text,))
        yield Block("how", sentences(step.do))
        yield from _aids(walk, step)
        yield from _measuring(walk, step)
    elif stage == Stage.LEFT_OPEN:
        done = "The operational check passed." if isinstance(step, Fix) else "No fault was found."
        yield Block("question", (f"{done} This is still open. Close it, then say so.",))
    elif isinstance(step, Fix):
        yield from _fixing(walk, step, stage)
    else:
        yield Block("question", ("May it be deferred? Each of these must be so:",))
        yield Block("how", _ticks(step.when, walk.key.phase.line))


def _ticks(lines: tuple[str, ...], done: int) -> tuple[str, ...]:
    """Lines in order: those done, the one that is next, those to come."""
    marks = ("done", "NEXT", "later")
    return tuple(f"{at}. {marks[(at > done) + (at > done + 1)]}: {sentence(line)}" for at, line in enumerate(lines, 1))


def _aids(walk: Walk, step: Check | Fix) -> Iterator[Block]:
    library = walk.library
    if step.tools:
        yield Block("text", (f"With: {', '.join(library.tools[name].text for name in step.tools)}.",))
    if step.consumables and sees_figures(walk):
        yield Block("text", (f"Uses: {', '.join(library.consumables[name].text for name in step.consumables)}.",))
    if step.lift:
        yield Block("text", (f"Lift of {step.lift.mass:g} kg by {one_or_more(step.lift.people, 'person', 'people')}.",))
    if step.data and sees_figures(walk):
        yield Block("text", (f"Data: {'; '.join(document_words(library, step.data))}.",))


def _measuring(walk: Walk, step: Check) -> Iterator[Block]:
    if not step.measure:
        return
    limit = walk.library.limits[step.measure]
    scale = limit.scales[walk.key.model]
    lines = [f"Measure: {sentence(limit.text)}", *band_lines(limit, scale)]
    lines.append(f"Type the reading with its unit, such as {_example(scale)} {limit.unit}.")
    data = limit.data.get(walk.key.model)
    if data:
        lines.append(f"Limit from: {'; '.join(document_words(walk.library, data))}.")
    yield Block("how", tuple(lines))


def _example(scale: Scale) -> str:
    return f"{(scale.low + scale.high) / 2:g}"


def band_lines(limit: Limit, scale: Scale) -> tuple[str, ...]:
    """The bands of a scale in words, each with where it ends."""
    lines = []
    for band in scale.bands:
        edge = (
            "above that"
            if band.limit is None
            else f"{'up to' if band.inclusive else 'below'} {band.limit:g} {limit.unit}"
        )
        lines.append(f"{band.label}: {edge}{f' ({band.says})' if band.says else ''}")
    return tuple(lines)


def _fixing(walk: Walk, step: Fix, stage: Stage) -> Iterator[Block]:
    library = walk.library
    if stage == Stage.DO:
        yield Block("question", (sentence(step.text),))
        yield from _aids(walk, step)
        yield Block("text", fix_needs(walk, step))
        yield Block("how", _ticks(step.do or (step.text,), walk.key.phase.line))
    elif stage == Stage.WAIT:
        yield Block("question", (f"Wait {step.wait:g} minutes before the operational check.",))
        slow = [library.consumables[name] for name in step.consumables if library.consumables[name].service]
        yield Block("how", tuple(f"{each.text}: {each.service:g} minutes before use." for each in slow))
    elif stage == Stage.INSPECT and step.second_inspection:
        yield Block("question", ("Second inspection, by somebody other than who did the work.",))
        who = step.second_inspection.who
        yield Block("how", (f"Look: {sentence(step.second_inspection.look)}", *([f"By: {who}."] if who else [])))
    else:
        check = library.operational_checks[step.operational_check]
        yield Block("title", (f"Operational check: {sentence(check.text)}",))
        yield Block("how", tuple(f"{at}. {sentence(line)}" for at, line in enumerate(check.do, 1)))
        yield Block("question", (check.ask,))


def fix_needs(walk: Walk, step: Fix) -> tuple[str, ...]:
    """Parts and torques of a fix, as lines."""
    lines = []
    if step.parts:
        parts = (f"{name} {walk.library.parts[name].text} ({count})" for name, count in step.parts.items())
        lines.append(f"Parts: {'; '.join(parts)}.")
    return (*lines, *torque_lines(step))


def torque_lines(step: Fix) -> tuple[str, ...]:
    """Each torque in two units."""
    return tuple(f"Torque, {each.where}: {torque_in_two_units(each.value)}." for each in step.torques)


def choices(walk: Walk) -> tuple[Choice, ...]:
    """The numbered answers of now. A check's findings keep their numbers of the file, which its code says too."""
    numbered = [choice for move in allowed(walk.site, walk.key) if (choice := _finding_choice(walk, move))]
    taken = max((choice.number for choice in numbered), default=0)
    others = [move for move in allowed(walk.site, walk.key) if move.kind != Kind.FINDING]
    for move in sorted(others, key=lambda move: ORDER.index(move.kind)):
        if move.kind in (Kind.OCCUPANT_OFF, Kind.OCCUPANT_ON) and walk.site.gate(walk.key) != Gate.OCCUPANT:
            continue
        taken += 1
        numbered.append(Choice(taken, *_said(walk, move)))
    if walk.site.gate(walk.key) == Gate.ROLE:
        who = walk.site.needs(walk.key).who
        numbered.append(Choice(taken + 1, "hand over", f"to {who}; the walk waits", Move(Kind.HAND_OVER, to=who)))
        numbered.append(Choice(taken + 2, "take over", f"a {who} goes on here", Move(Kind.TAKE_OVER, role=who)))
    return tuple(numbered)


ORDER = (
    Kind.OCCUPANT_OFF,
    Kind.OCCUPANT_ON,
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


def _finding_choice(walk: Walk, move: Move) -> Choice | None:
    step = walk.step
    if move.kind != Kind.FINDING or not isinstance(step, Check):
        return None
    finding = step.finding(move.label)
    if finding is None:
        return None
    return Choice(finding.number, finding.label, finding.says, move)


def _said(walk: Walk, move: Move) -> tuple[str, str, Move, str]:
    """A move's words, what it means here, the move, and what it still asks for."""
    occupant = walk.library.occupant
    if move.kind == Kind.OCCUPANT_OFF:
        return "occupant off", occupant.off if occupant else "", move, ""
    if move.kind == Kind.OCCUPANT_ON:
        return "occupant on", f"{occupant.ask} Yes" if occupant else "", move, ""
    if move.kind == Kind.CLOSED:
        return "closed", walk.library.open_items[move.item].text, move, ""
    if move.kind == Kind.DONE:
        return "done", _next_line(walk), move, ""
    if move.kind == Kind.INSPECTED:
        return "inspected", "say by whom", move, "Name or initials of who inspected"
    if move.kind == Kind.UNABLE:
        return "unable", _route_why(walk) or "this cannot be checked now", move, "Why"
    if move.kind == Kind.CANNOT:
        return "cannot", "no part, tool, person or place, or unsafe", move, "Why"
    return str(move.kind), SAYS.get(move.kind, ""), move, ""


SAYS = {
    Kind.PEOPLE_HERE: "enough people are here",
    Kind.ACKNOWLEDGE: "I have read this",
    Kind.WAITED: "the time is over",
    Kind.PASSED: "the operational check passed",
    Kind.FAILED: "the operational check failed",
}


def _next_line(walk: Walk) -> str:
    step, at = walk.step, walk.key.phase.line
    if isinstance(step, Check):
        return ""
    lines = (step.do or (step.text,)) if isinstance(step, Fix) else step.when
    return f"line {at + 1} of {len(lines)}" if isinstance(step, Fix) else f"condition {at + 1} of {len(lines)} is so"


def _route_why(walk: Walk) -> str:
    step = walk.step
    return step.unable.why if isinstance(step, Check) and step.unable else ""
