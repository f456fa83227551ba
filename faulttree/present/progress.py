"""What was done so far: the way as numbered lines, and what the log keeps beside it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from faulttree.closing import said_closed
from faulttree.keys import Kind, Move
from faulttree.model import Check, Fix, Library, Step
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


def set_aside(walk: Walk) -> Block:
    """What the log keeps beside the way: answers before going back, work done, failed checks, notes, take-overs."""
    lines = tuple(_aside(walk))
    return Block("text", ("Also in the log:", *lines) if lines else ())


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
    stale_before = walk.stale_before()
    for at, line in enumerate(walk.log):
        move = line.move
        if at in on_the_way:
            continue
        if move.kind == Kind.NOTE and move.line:
            yield f'Filled in by {line.role}: "{move.text}", blank {move.line} of "{move.label}"'
            continue
        stale = "Before starting over: " if at < stale_before else ""
        step = step_words(line.at_step)
        if told := _told(move):
            yield f"{stale}{step} {told}."
        elif marked := _marked(walk, line).rstrip("."):
            yield f"{stale}{marked[0].upper()}{marked[1:]}, at: {step}"


def _marked(walk: Walk, line: Logged) -> str:
    move = line.move
    if move.kind == Kind.DONE:
        return f"line {line.phase.line + 1} was done"
    if move.kind == Kind.NOTE:
        return f"note: {move.text}"
    if move.kind == Kind.ALSO_FOUND:
        return f"also found: {move.text}"
    if move.kind == Kind.FALLBACK and move.line:
        return f'the fallback line "{line.site.fallback[move.line - 1].do}" worked'
    if move.kind == Kind.CLOSED:
        return _closed(line.site.library, move.item, line.role, move.text)
    if move.closed:
        role = move.role or line.site.library.first_role
        said = "; ".join(_closed(line.site.library, item, role, who) for item, who in said_closed(move))
        return f"taken over by {role}; {said}" if move.kind == Kind.TAKE_OVER else said
    if move.kind == Kind.STOP and move.label:
        return f"{move.label} ({move.text})"
    if move.kind == Kind.REVISED:
        return f"gone on with revision {move.text} from here"
    return {Kind.TAKE_OVER: f"taken over by {move.role}", Kind.START_OVER: "started over"}.get(move.kind, "")


def _closed(library: Library, item: str, role: str, who: str) -> str:
    """An item that was said to be closed, and by whom where that was said."""
    by = f" ({role}: {who})" if who else ""
    return f'closed: "{library.open_items[item].text}"{by}'
