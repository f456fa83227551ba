"""What was done so far: the way as numbered lines, and what the log keeps beside it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import groupby

from faulttree.closing import said_closed
from faulttree.keys import Kind, Move, Stage
from faulttree.model import Check, Fix, Step
from faulttree.present.blocks import Block, sentence
from faulttree.walk import Logged, Visit, Walk


def done_so_far(walk: Walk) -> Block:
    """The way as numbered lines: each step with its answer. Empty at the start."""
    lines = [line for visit in walk.way if (line := visit_words(walk, visit))]
    return Block("text", tuple(f"{number}. {line}" for number, line in enumerate(lines, 1)))


def visit_words(walk: Walk, visit: Visit) -> str:
    """A step of the way and what was answered there; empty where nothing was yet."""
    step = walk.site.variant.steps[visit.step]
    told = [words for move in visit.moves if (words := _told(move))]
    ticked = sum(move.kind == Kind.DONE for move in visit.moves)
    if isinstance(step, Fix) and ticked:
        told.insert(0, f"{ticked} of {len(step.lines)} lines done")
    return f"{step_words(step)} {'; '.join(told)}." if told else ""


def step_words(step: Step) -> str:
    """A step's own words as a sentence: its question, its work, or how it ends."""
    return sentence(step.text) if isinstance(step, Check | Fix) else sentence(step.kind.capitalize())


def words_of_now(walk: Walk) -> str:
    """The words of the step where a walk stands; at the operational check, those of the check."""
    step = walk.step
    if walk.key.phase.stage == Stage.PROVE and isinstance(step, Fix):
        check = walk.library.operational_checks[step.operational_check]
        return sentence(f"{check.text.rstrip('.')} (operational check)")
    return step_words(step)


def checks_answered(walk: Walk) -> Iterator[tuple[Check, Move]]:
    """The checks that the way has left, in order, each with the answer."""
    for visit in walk.way:
        step = walk.site.variant.steps[visit.step]
        if isinstance(step, Check) and visit.answer is not None:
            yield step, visit.answer


def _told(move: Move) -> str:
    why = f" ({move.text})" if move.text else ""
    if move.kind == Kind.READING:
        return f"{move.value}, {move.label}"
    if move.kind == Kind.FINDING:
        return move.label
    if move.kind in (Kind.UNABLE, Kind.CANNOT, Kind.INSPECTED):
        return f"{move.kind}{why}"
    if move.kind == Kind.WAITED and move.text:
        return f"the wait {move.text}"
    if move.kind in (Kind.PASSED, Kind.FAILED):
        return f"operational check {move.kind}"
    return ""


ASIDE = "Also in the log, no findings of this way:"


def set_aside(walk: Walk) -> Block:
    """What the log keeps beside the way: answers before going back, work done, failed checks, notes, take-overs.

    Each line begins with what it is, so that none reads as a finding that counts.
    """
    lines = tuple(_aside(walk))
    return Block("text", (ASIDE, *lines) if lines else ())


def _on_the_way(walk: Walk) -> set[int]:
    """The lines of the log that the way holds, by their places: of equal ones the latest, as going back leaves them."""
    left = Counter((visit.step, move) for visit in walk.way for move in visit.moves)
    places = set()
    for at in reversed(range(len(walk.log))):
        line = walk.log[at]
        if left[line.step, line.move]:
            left[line.step, line.move] -= 1
            places.add(at)
    return places


def _aside(walk: Walk) -> Iterator[str]:
    on_the_way = _on_the_way(walk)
    beside = [at for at in range(len(walk.log)) if at not in on_the_way]
    for (mark, step, is_work), group in groupby(beside, lambda at: _sort_of(walk, at)):
        places = list(group)
        if is_work:
            numbers = [walk.log[at].phase.line + 1 for at in places]
            which = f"line {numbers[0]}" if len(numbers) == 1 else f"lines {', '.join(map(str, numbers))}"
            yield f'{mark}, but done: "{step}", {which}.'
        else:
            for at in places:
                yield from _beside(walk.log[at], mark)


def _sort_of(walk: Walk, at: int) -> tuple[str, str, bool]:
    """Why a line of the log is beside the way, its step, and whether it is work: lines of it are told together."""
    line = walk.log[at]
    mark = "Before starting over" if at < walk.stale_before() else "Gone back over"
    return mark, _title(line), line.move.kind == Kind.DONE


def _title(line: Logged) -> str:
    return step_words(line.at_step).removesuffix(".")


def _beside(line: Logged, mark: str) -> Iterator[str]:
    """A line of the log that is no work and not on the way, in sentences that say so."""
    move, at = line.move, _title(line)
    if answered := _told(move):
        was = "" if move.kind in (Kind.PASSED, Kind.FAILED, Kind.INSPECTED, Kind.WAITED) else " was answered"
        yield f'{mark}: "{at}"{was}: {answered}.'
    elif move.kind == Kind.NOTE and move.line:
        yield f'Filled in by {line.role}: "{move.text}", blank {move.line} of "{move.label}".'
    elif move.kind == Kind.NOTE:
        yield f'Note at "{at}": {sentence(move.text)}'
    elif move.kind == Kind.ALSO_FOUND:
        yield f'Also found at "{at}": {sentence(move.text)}'
    elif move.kind == Kind.FALLBACK and move.line:
        yield f'Fallback line that worked: "{line.site.fallback[move.line - 1].do}"'
    elif move.kind == Kind.CLOSED:
        yield _closed(line, move.item, line.role, move.text)
    elif move.kind == Kind.STOP and move.label:
        yield f"{move.label.capitalize()}: {sentence(move.text)}"
    elif move.kind == Kind.TAKE_OVER:
        yield f'Taken over by {move.role} at "{at}".'
    elif move.kind == Kind.START_OVER:
        yield "Started over."
    elif move.kind == Kind.REVISED:
        yield f"Gone on with revision {move.text} from here."
    role = move.role or line.site.library.first_role
    yield from (_closed(line, item, role, who) for item, who in said_closed(move))


def _closed(line: Logged, item: str, role: str, who: str) -> str:
    """An item that was said to be closed, and by whom where that was said."""
    by = f" ({role}: {who})" if who else ""
    return f'Closed: "{line.site.library.open_items[item].text}"{by}.'
