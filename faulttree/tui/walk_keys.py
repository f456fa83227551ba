"""The keys of a walk's page: those that answer what is asked, those that move the walk, those that show more."""

from __future__ import annotations

from faulttree.keys import Kind, Stage
from faulttree.model import Check
from faulttree.present.another import Another
from faulttree.present.filling import asked_for
from faulttree.present.remaining import look_again
from faulttree.present.resting import Resting
from faulttree.tui.keyed import ENTER, FILL_IN, GO_ON, LOOK_AGAIN, READING, Keyed, keyed
from faulttree.tui.screens.paged import Key
from faulttree.walk import GOING, Walk, possible_moves

MOVE_KEYS: tuple[tuple[Key, Kind | None], ...] = (
    (Key("f", "cannot wait", "fallback: what to do at once when it cannot wait"), Kind.FALLBACK),
    (Key("b", "back", "back to the step before"), Kind.BACK),
    (Key("w", "wanted now", "the aircraft is wanted now: what is open"), None),
    (Key("c", "closed", "record something that is open as closed; the end stays as it was"), Kind.CLOSED),
    (Key(FILL_IN, "fill in", "fill in the blanks of the draft or report, one by one; no patient data"), None),
    (Key("n", "note", "write something down; no patient data"), Kind.NOTE),
    (Key("s", "stop", "save and stop; the walk can be gone on with"), Kind.STOP),
    (Key("h", "hand over", "the walk waits for the next person"), Kind.HAND_OVER),
    (Key("l", "so far", "what was done so far; go back to any line of it"), None),
    (Key("o", "occupant", "somebody is on it, or nobody"), None),
    (Key("t", "take over", "another person goes on here"), Kind.TAKE_OVER),
    (Key("d", "defect", "also found: another defect that you saw; no patient data"), Kind.ALSO_FOUND),
    (Key("k", "code", "the read-back code, large"), None),
    (Key("e", "everything", "this page with nothing left out"), None),
    (Key("r", "restart", "start over from the first step, after a failed operational check"), Kind.START_OVER),
    (Key("x", "give up", "end the walk here with a reason; it is not gone on with"), Kind.STOP),
    (Key("y", "copy", "copy the page as text"), None),
    (Key("p", "file", "put the page into a file as text"), None),
)
"""The keys beside the answers, the most needed first, each with the move that it makes, if it makes one."""


def is_going(walk: Walk) -> bool:
    """Whether something is asked for now."""
    return walk.state == GOING and not walk.ended


def is_measured(walk: Walk) -> bool:
    """Whether a reading may be typed now."""
    step = walk.step
    findings = any(each.choice.move.kind == Kind.FINDING for each in keyed(walk))
    return isinstance(step, Check) and bool(step.measure) and findings


def answer_keys(walk: Walk) -> tuple[Key, ...]:
    """The keys of the answers, which the page itself shows; at the end, the one that leaves."""
    if not is_going(walk):
        return (Key(ENTER, "leave", "back to the first page"),)
    answers = [
        Key(each.key, "", f"{each.choice.words}. {each.choice.says}".strip(), shown=False, answer=_says_something(each))
        for each in keyed(walk)
    ]
    reading = Key(READING, "", "type the reading with its unit", shown=False, answer=True)
    return (*answers, reading) if is_measured(walk) else tuple(answers)


def _says_something(each: Keyed) -> bool:
    """Whether it says something of what the page asks. Handing over does not, and waits for no page to be seen."""
    return each.choice.move.kind != Kind.HAND_OVER


def look_again_keys(walk: Walk) -> tuple[Key, ...]:
    """Back to the answer that is to be looked at again first, where the page names one."""
    told = is_going(walk) and walk.key.phase.stage == Stage.ASK and walk.site.gate(walk.key) is None
    does = "back to the answer that does not fit"
    return (Key(LOOK_AGAIN, "", does, shown=False),) if told and look_again(walk) else ()


def go_on_keys(another: Another) -> tuple[Key, ...]:
    """On to the tree that the end leads to, where the library in use has it."""
    return (Key(GO_ON, "go on with it", f"begin with: {another.symptom}"),) if another.symptom else ()


def last_look_keys(found: Resting | None) -> tuple[Key, ...]:
    """Going on, and looking again where one look alone decides."""
    go_on = Key(ENTER, "go on", "it was read right: go on", answer=True)
    look = Key(LOOK_AGAIN, "look again", "back to the one look that decides")
    return (go_on, look) if found and found.alone else (go_on,)


def move_keys(walk: Walk, asked: bool = True) -> tuple[Key, ...]:
    """The other keys that do something now. Where the step's answers are ``asked``, their keys are not among them."""
    kinds = {move.kind for move in possible_moves(walk)}
    taken = {each.key for each in keyed(walk)} if asked and is_going(walk) else set()
    if not walk.ended:
        # What is closed while the walk goes on is asked for by the page itself.
        kinds.discard(Kind.CLOSED)
    return tuple(
        key
        for key, kind in MOVE_KEYS
        if key.key not in taken and (kind is None or kind in kinds) and _is_of_use(walk, key.key)
    )


def _is_of_use(walk: Walk, key: str) -> bool:
    """Whether there is something that the key is for."""
    if key == FILL_IN:
        return bool(asked_for(walk))
    return key != "o" or _has_occupant(walk)


def _has_occupant(walk: Walk) -> bool:
    return walk.library.occupant is not None and is_going(walk)
