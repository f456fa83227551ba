"""What a person meant by a typed line: a move, or an aside that changes nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from difflib import get_close_matches
from typing import NamedTuple

from faulttree.model import Check
from faulttree.moves import Kind, Move, Stage
from faulttree.present.progress import visit_words
from faulttree.present.step import Choice, choices
from faulttree.problems import MoveError
from faulttree.walk import Walk

ASIDES = ("help", "so far", "open", "code", "fallback", "take over")
"""Words that a shell answers itself; fallback and take over ask for more before they become a move."""

WORDS = {
    "note": "note TEXT: write something down; no patient data",
    "also found": "also found TEXT: another defect that you saw",
    "back": "back: to the step before; back NUMBER: to that line of what was done so far",
    "fallback": "fallback: what to do at once when it cannot wait",
    "occupant on": "occupant on: somebody is on it again; occupant off: nobody is",
    "hand over": "hand over ROLE: the walk waits for the next person",
    "take over": "take over ROLE: another person goes on here",
    "start over": "start over: from the first step, after a failed operational check",
    "so far": "so far: what was done so far",
    "open": "open: what must not be forgotten",
    "code": "code: the read-back code of this walk",
    "stop": "stop: save and leave; the walk can be resumed",
    "help": "help: these words",
}
"""Words that may be typed at every step, each with what it does."""

FREE_TEXT = (Kind.NOTE, Kind.ALSO_FOUND, Kind.UNABLE, Kind.CANNOT, Kind.INSPECTED)
NEEDED = {
    Kind.NOTE: "What (no patient data)",
    Kind.ALSO_FOUND: "What",
    Kind.UNABLE: "Why",
    Kind.CANNOT: "Why",
    Kind.INSPECTED: "Name or initials of who inspected",
}
"""The question for a text that a move cannot do without."""


class Aside(NamedTuple):
    """A word that the shell answers itself, with what was typed after it."""

    word: str
    rest: str


class Meant(NamedTuple):
    """A move, and the question for the text that it still needs; empty where nothing is needed."""

    move: Move
    asks: str = ""


def understand(walk: Walk, line: str) -> Meant | Aside:
    """What ``line`` means now. Raises MoveError, saying what may be typed, where it is not clear."""
    typed = " ".join(line.split())
    offered = choices(walk)
    if not typed:
        raise MoveError("nothing was typed", _what_may_be_typed(offered))
    if typed.isdigit():
        return _by_number(walk, typed, offered)
    lower = typed.casefold()
    for choice in offered:
        if lower == choice.words.casefold() and not _said_of_several(choice, offered):
            return Meant(choice.move, choice.asks)
    return _by_word(walk, typed, offered)


def _said_of_several(choice: Choice, offered: Sequence[Choice]) -> bool:
    return sum(other.words == choice.words for other in offered) > 1


def _by_number(walk: Walk, typed: str, offered: Sequence[Choice]) -> Meant:
    if _measures(walk):
        limit = walk.library.limits[_step(walk).measure]
        raise MoveError(
            f'"{typed}" can be a reading or the number of a finding',
            f'type "{typed} {limit.unit}" for the reading, or "finding {typed}" for the finding',
        )
    for choice in offered:
        if choice.number == int(typed):
            return Meant(choice.move, choice.asks)
    raise MoveError(f"there is no answer {typed} here", _what_may_be_typed(offered))


def _measures(walk: Walk) -> bool:
    """Whether a reading is asked for now."""
    return walk.key.phase.stage == Stage.ASK and bool(_step(walk).measure) and walk.site.gate(walk.key) is None


def _step(walk: Walk) -> Check:
    step = walk.step
    if not isinstance(step, Check):
        raise MoveError("this is no check", "answer what is asked")
    return step


def _by_word(walk: Walk, typed: str, offered: Sequence[Choice]) -> Meant | Aside:
    for word in sorted((*(str(kind) for kind in Kind), *ASIDES, "?"), key=len, reverse=True):
        if typed.casefold() == word or typed.casefold().startswith((f"{word} ", f"{word}: ")):
            rest = typed[len(word) :].lstrip(": ")
            found = _of_word(walk, "help" if word == "?" else word, rest, offered)
            if found is not None:
                return found
    if _measures(walk) and typed[0] in "0123456789+-.,":
        return Meant(Move(Kind.READING, value=typed))
    known = [*(choice.words for choice in offered), *WORDS]
    near = get_close_matches(typed.casefold(), [word.casefold() for word in known], n=1, cutoff=0.6)
    raise MoveError(
        f'"{typed}" is no answer here', f'did you mean "{near[0]}"?' if near else _what_may_be_typed(offered)
    )


def _of_word(walk: Walk, word: str, rest: str, offered: Sequence[Choice]) -> Meant | Aside | None:
    if word in ASIDES:
        return Aside(word, rest)
    kind = Kind(word)
    if kind == Kind.FINDING:
        return _finding(rest, offered)
    if kind == Kind.READING:
        return Meant(Move(kind, value=rest))
    if kind == Kind.CLOSED:
        return _closed(rest, offered)
    if kind in FREE_TEXT:
        return Meant(Move(kind, text=rest), "" if rest else NEEDED[kind])
    if kind == Kind.BACK:
        return Meant(Move(kind, to=_place(walk, rest)))
    if kind == Kind.HAND_OVER:
        return Meant(Move(kind, to=rest))
    return Meant(Move(kind, text=rest)) if kind != Kind.BEGIN else None


def _finding(rest: str, offered: Sequence[Choice]) -> Meant:
    for choice in offered:
        if choice.move.kind == Kind.FINDING and rest.casefold() in (str(choice.number), choice.words.casefold()):
            return Meant(choice.move)
    raise MoveError(f'there is no finding "{rest}" here', _what_may_be_typed(offered))


def _closed(rest: str, offered: Sequence[Choice]) -> Meant:
    able = [choice for choice in offered if choice.move.kind == Kind.CLOSED]
    for choice in able:
        if rest.casefold() in (str(choice.number), choice.move.item, choice.says.casefold()):
            return Meant(choice.move)
    if len(able) == 1 and not rest:
        return Meant(able[0].move)
    raise MoveError(f'"{rest}" is not asked for here', _what_may_be_typed(offered))


def _place(walk: Walk, rest: str) -> str:
    """The step that ``rest`` names: by its line in what was done so far, or by its own name."""
    if not rest.isdigit():
        return rest
    told = [visit.step for visit in walk.way if visit_words(walk, visit)]
    if not 1 <= int(rest) <= len(told):
        raise MoveError(f"there is no line {rest} in what was done so far", 'type "so far" to see the lines')
    return told[int(rest) - 1]


def _what_may_be_typed(offered: Sequence[Choice]) -> str:
    shown = ", ".join(f'{choice.number} or "{choice.words}"' for choice in offered)
    return f"type {shown}; or help" if shown else "type help for the words"


def completed(meant: Meant, text: str) -> Move:
    """The move with the text that it asked for. Raises MoveError where it cannot do without and nothing was given."""
    if not text.strip():
        raise MoveError(f'"{meant.move.kind}" needs a text', "type it in the same line or when asked")
    return replace(meant.move, text=text.strip())
