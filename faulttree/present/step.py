"""What a walk shows now: the gate that is not passed, or the work of the step, and the answers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from faulttree.keys import ON, Gate, Stage
from faulttree.model import Check, Consumable, Fix, Limit, OperationalCheck, Scale
from faulttree.present.after import due_block, duration_words
from faulttree.present.another import Another
from faulttree.present.blocks import (
    HURRY,
    Block,
    document_words,
    first_line,
    in_danger,
    notice_block,
    notice_line,
    occupant_may_be_on,
    one_or_more,
    sees_figures,
    sentence,
    sentences,
    status_block,
    tools_of,
)
from faulttree.present.choices import band_edge, choice_line, choices
from faulttree.present.ends import UNKNOWN, end_blocks
from faulttree.present.progress import words_of_now
from faulttree.present.reading import example
from faulttree.present.remaining import remaining_blocks
from faulttree.units import torque_in_two_units
from faulttree.walk import Walk

ONE_MORE = "One person more stays with whoever is on it."
"""Beside the people that work takes, where somebody is or may be on the equipment."""

TYPE_READING = "Type the reading with its unit"
"""How the line begins that asks for a reading."""


def screen(
    walk: Walk, practice: bool = False, times: Sequence[datetime] = (), another: Another = UNKNOWN
) -> tuple[Block, ...]:
    """All that is shown now, in order: status, the occupant's line, warnings, the question and how, the answers.

    With ``times``, one for each line of the log, also what has to be waited for. ``another`` is the tree that the walk
    leads on to at its end, where whoever shows it has looked that up.
    """
    blocks = [status_block(walk, practice), *first_line(walk)]
    if walk.ended:
        blocks += end_blocks(walk, practice, times, another)
    else:
        blocks += [*_now(walk), due_block(walk, times)]
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
        Block("needs", (*torque_lines(step), *limit_lines(walk, step.limits)) if isinstance(step, Fix) else ()),
        Block("choice", tuple(choice_line(choice) for choice in choices(walk))),
    )
    return tuple(block for block in blocks if block.lines)


def in_the_lines(walk: Walk) -> bool:
    """Whether some, but not all, lines of a fix are done and no gate stands before the next."""
    phase = walk.key.phase
    return phase.stage == Stage.DO and phase.line > 0 and walk.site.gate(walk.key) is None


def _now(walk: Walk) -> Iterator[Block]:
    gate = walk.site.gate(walk.key)
    if gate == Gate.OCCUPANT:
        yield from _occupant_gate(walk)
    elif gate == Gate.ROLE:
        yield from _role_gate(walk)
    elif gate == Gate.PEOPLE:
        yield Block("title", (f"Next: {words_of_now(walk)}",))
        people = walk.site.needs(walk.key).people
        more = (ONE_MORE,) if occupant_may_be_on(walk) else ()
        yield Block("gate", (f"This takes {people} people. Go on when {people} are here.", *more))
    elif gate == Gate.WARNINGS:
        yield Block("title", (f"Next: {words_of_now(walk)}",))
        yield from (notice_block(notice) for notice in walk.site.pending(walk.key))
    else:
        yield from _known_notices(walk)
        yield from _work(walk)


def _occupant_gate(walk: Walk) -> Iterator[Block]:
    occupant = walk.library.occupant
    ask = occupant.ask if occupant else ""
    who = walk.site.needs(walk.key).who
    yield Block("question", (ask,)) if walk.key.occupant != ON else Block("gate", (f"{ask} Yes.",))
    if in_danger(walk):
        lines = ["Do first what stands at OPEN. Nothing else is to be done here while somebody is on it."]
    else:
        lines = ["Nothing more is to be done here while somebody is on it."]
    if not walk.library.may(walk.key.role, who):
        lines.append(f"The next step is for: {who}. Hand over.")
    yield Block("gate", tuple(lines))
    yield Block("hurry", (HURRY,) if walk.tree.fallback else ())


def _role_gate(walk: Walk) -> Iterator[Block]:
    who = walk.site.needs(walk.key).who
    left = walk.key.phase.stage == Stage.LEFT_OPEN
    # Which of it is whose stands at OPEN; somebody who may not do such work does not say that it is closed either.
    what = f"{_how_over(walk)} What is still open is for: {who}." if left else f"The next step is for: {who}."
    yield Block("gate", (f"{what} Hand over, or let a person of that role take over here.",))


def _how_over(walk: Walk) -> str:
    """What has come before the question for what is still open."""
    return "The operational check passed." if isinstance(walk.step, Fix) else "No fault was found."


def _known_notices(walk: Walk) -> Iterator[Block]:
    """Notices of a step whose gates are passed: those acknowledged in one line, notes in full."""
    for notice in walk.site.notices(walk.site.needs(walk.key).notices):
        yield notice_line(notice) if notice.needs_acknowledging else notice_block(notice)


def _work(walk: Walk) -> Iterator[Block]:
    step, stage = walk.step, walk.key.phase.stage
    if isinstance(step, Check):
        yield Block("question", (step.text,))
        yield from _accesses(walk, step)
        yield Block("how", sentences(step.do))
        yield from _aids(walk, step)
        yield from _measuring(walk, step)
        yield from remaining_blocks(walk)
    elif stage == Stage.LEFT_OPEN:
        yield Block("question", (f"{_how_over(walk)} This is still open. Close it, then say so.",))
    elif isinstance(step, Fix):
        yield from _fixing(walk, step, stage)
    else:
        yield Block("question", ("May it be deferred? Each of these must be so:",))
        yield Block("tick", _ticks(step.when, walk.key.phase.line))


def _ticks(lines: tuple[str, ...], done: int) -> tuple[str, ...]:
    """Lines in order: those done, the one that is next, those to come. No numbers: these stand at the answers."""
    marks = ("done", "NEXT", "later")
    return tuple(f"{marks[(at > done) + (at > done + 1)]}: {sentence(line)}" for at, line in enumerate(lines, 1))


def _accesses(walk: Walk, step: Check | Fix) -> Iterator[Block]:
    """What must be open, or how the equipment must stand, before the step's own lines."""
    for name in step.accesses:
        yield Block("access", (f"First: {sentence(walk.library.accesses[name].text)}",))


def _aids(walk: Walk, step: Check | Fix) -> Iterator[Block]:
    library = walk.library
    tools = tools_of(walk, step)
    if tools:
        yield Block("aids", (f"With: {', '.join(library.tools[name].text for name in tools)}.",))
    if step.picture:
        yield Block("aids", (f"Picture: {step.picture}",))
    if step.consumables and sees_figures(walk):
        yield Block("aids", (f"Uses: {', '.join(_use(library.consumables[name]) for name in step.consumables)}.",))
    if step.lift:
        yield Block(
            "needs", (f"Lift of {step.lift.mass:g} kg by {one_or_more(step.lift.people, 'person', 'people')}.",)
        )
    if step.data and sees_figures(walk):
        yield Block("aids", (f"Data: {'; '.join(document_words(library, step.data))}.",))


def _use(consumable: Consumable) -> str:
    """What is used, and how long before anything that it was used on may be used itself."""
    service = f" ({duration_words(consumable.service)} before use)" if consumable.service else ""
    return f"{consumable.text}{service}"


def _measuring(walk: Walk, step: Check) -> Iterator[Block]:
    if not step.measure:
        return
    limit = walk.library.limits[step.measure]
    lines = [f"Measure: {sentence(limit.text)}"]
    setting = limit.settings.get(walk.key.model)
    if setting:
        lines.append(f"New or set: {setting} {limit.unit}.")
    lines.append(f"{TYPE_READING}, such as {example(limit, walk.key.model)} {limit.unit}.")
    data = limit.data.get(walk.key.model)
    if data and sees_figures(walk):
        lines.append(f"Limit from: {'; '.join(document_words(walk.library, data))}.")
    yield Block("measure", tuple(lines))


def band_lines(limit: Limit, scale: Scale) -> tuple[str, ...]:
    """The bands of a scale in words, each with where it ends."""
    return tuple(
        f"{band.label}: {band_edge(limit, band)}{f' ({band.says})' if band.says else ''}" for band in scale.bands
    )


def _fixing(walk: Walk, step: Fix, stage: Stage) -> Iterator[Block]:
    library = walk.library
    if stage == Stage.DO:
        yield Block("question", (sentence(step.text),))
        yield from _accesses(walk, step)
        yield from _aids(walk, step)
        yield Block("needs", fix_needs(walk, step))
        yield Block("tick", _ticks(step.lines, walk.key.phase.line))
    elif stage == Stage.WAIT:
        yield Block("question", (f"Wait {step.wait:g} minutes before the operational check.",))
        slow = [library.consumables[name] for name in step.consumables if library.consumables[name].service]
        yield Block("how", tuple(_long_before_use(each, step.wait) for each in slow))
    elif stage == Stage.INSPECT and step.second_inspection:
        yield Block("question", ("Second inspection, by somebody other than who did the work.",))
        who = step.second_inspection.who
        yield Block("how", (f"Look: {sentence(step.second_inspection.look)}", *([f"By: {who}."] if who else [])))
    else:
        check = library.operational_checks[step.operational_check]
        yield Block("title", (f"Operational check: {sentence(check.text)}",))
        yield from _proof_aids(walk, check)
        yield Block("how", tuple(f"{at}. {sentence(line)}" for at, line in enumerate(check.lines(walk.key.model), 1)))
        yield Block("question", (check.ask,))


def _long_before_use(used: Consumable, wait: float) -> str:
    """How long what it was used on is not to be used; a time that was just named is not named again."""
    how_long = "before that either" if used.service == wait else f"for {duration_words(used.service)}"
    return f"{used.text}: what it is on is not to be used {how_long}."


def _proof_aids(walk: Walk, check: OperationalCheck) -> Iterator[Block]:
    """Tools, limits and documents of an operational check."""
    yield Block("needs", limit_lines(walk, check.limits))
    if check.tools:
        yield Block("aids", (f"With: {', '.join(walk.library.tools[name].text for name in check.tools)}.",))
    data = check.data.get(walk.key.model)
    if data and sees_figures(walk):
        yield Block("aids", (f"Data: {'; '.join(document_words(walk.library, data))}.",))


def fix_needs(walk: Walk, step: Fix) -> tuple[str, ...]:
    """Parts, torques and limits of a fix, as lines."""
    lines = []
    if step.parts and sees_figures(walk):
        parts = (f"{name} {walk.library.parts[name].text} ({count})" for name, count in step.parts.items())
        lines.append(f"Parts: {'; '.join(parts)}.")
    return (*lines, *torque_lines(step), *limit_lines(walk, step.limits))


def limit_lines(walk: Walk, names: tuple[str, ...]) -> tuple[str, ...]:
    """Each limit that work is set or judged by: what it is new or set to, and its bands."""
    lines = []
    for name in names:
        limit = walk.library.limits[name]
        scale = limit.scales.get(walk.key.model)
        if scale is not None:
            setting = limit.settings.get(walk.key.model)
            set_to = f" New or set: {setting} {limit.unit}." if setting else ""
            lines.append(f"Limit, {limit.text}: {'; '.join(band_lines(limit, scale))}.{set_to}")
    return tuple(lines)


def torque_lines(step: Fix) -> tuple[str, ...]:
    """Each torque in two units."""
    return tuple(f"Torque, {each.where}: {torque_in_two_units(each.value)}." for each in step.torques)
