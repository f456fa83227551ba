"""What a person meant by a typed line: a move, or an aside that changes nothing."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches
from typing import NamedTuple

from faulttree.closing import GIVEN_UP, check_may_be_given_up
from faulttree.keys import ASIDES, GIVE_UP, Kind, Move, Stage
from faulttree.model import Check
from faulttree.present.choices import WHO_INSPECTED, WHY, Choice, choices
from faulttree.present.progress import visit_words
from faulttree.problems import MoveError
from faulttree.value import replace
from faulttree.visible import visible
from faulttree.walk import Walk

WORDS = {
    "note": "note TEXT: write something down; no patient data",
    "also found": "also found TEXT: another defect that you saw; no patient data",
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
    GIVE_UP: "give up WHY: end the walk here; it is not gone on with",
    "help": "help: these words",
}
"""Words that may be typed at every step, each with what it does."""

ASKING = ("fallback", "take over")
"""Moves that a shell asks more about before it makes them."""

FREE_TEXT = (Kind.NOTE, Kind.ALSO_FOUND, Kind.UNABLE, Kind.CANNOT, Kind.INSPECTED)
NEEDED = {
    Kind.NOTE: "What (no patient data)",
    Kind.ALSO_FOUND: "What else was found (no patient data)",
    Kind.UNABLE: WHY,
    Kind.CANNOT: WHY,
    Kind.INSPECTED: WHO_INSPECTED,
    Kind.STOP: "Why it is given up (no patient data)",
}
"""The question for a text that a move cannot do without."""


MOST_DIGITS = 4

READ = "a"
"""The key by which warnings are acknowledged on the screen; whoever is used to it may type it."""


class Aside(NamedTuple):
    """A word that the shell answers itself, or asks more about, with what was typed after it."""

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
    _check_letters(typed)
    number = whole_number(typed)
    if number is not None:
        return _by_number(walk, number, offered)
    lower = typed.casefold().rstrip(".")
    for choice in offered:
        if lower in _wordings(choice) and not _said_of_several(choice, offered):
            return Meant(choice.move, choice.asks)
    return _by_word(walk, typed, offered)


def whole_number(typed: str) -> int | None:
    """The whole number that was typed, in plain digits; None where it is none."""
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) <= MOST_DIGITS else None


def _wordings(choice: Choice) -> tuple[str, ...]:
    """What a choice may be called: its words; the occupant also by the library's own words, reading by its key."""
    words = (choice.words.casefold(), *((READ,) if choice.move.kind == Kind.ACKNOWLEDGE else ()))
    occupant = choice.move.kind in (Kind.OCCUPANT_OFF, Kind.OCCUPANT_ON)
    return (*words, choice.says.casefold().rstrip(".")) if occupant else words


def _said_of_several(choice: Choice, offered: Sequence[Choice]) -> bool:
    return sum(other.words == choice.words for other in offered) > 1


def _by_number(walk: Walk, number: int, offered: Sequence[Choice]) -> Meant:
    choice = next((choice for choice in offered if choice.number == number), None)
    if _measures(walk):
        unit = walk.library.limits[_step(walk).measure].unit
        other = f', or "{choice.words}" for answer {number}' if choice else ""
        raise MoveError(
            f'"{number}" can be a reading or the number of an answer', f'type "{number} {unit}" for the reading{other}'
        )
    if choice is None:
        raise MoveError(f"there is no answer {number} here", _what_may_be_typed(offered))
    return Meant(choice.move, choice.asks)


def _measures(walk: Walk) -> bool:
    """Whether a reading is asked for now."""
    return walk.key.phase.stage == Stage.ASK and bool(_step(walk).measure) and walk.site.gate(walk.key) is None


def _step(walk: Walk) -> Check:
    step = walk.step
    if not isinstance(step, Check):
        raise MoveError("this is no check", "answer what is asked")
    return step


def _by_word(walk: Walk, typed: str, offered: Sequence[Choice]) -> Meant | Aside:
    for word in sorted((*(str(kind) for kind in Kind), *ASIDES, GIVE_UP), key=len, reverse=True):
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
    if word in ASIDES or word in ASKING:
        return Aside(word, rest)
    if word == GIVE_UP:
        check_may_be_given_up(walk.library, walk.key)
        return Meant(Move(Kind.STOP, label=GIVEN_UP, text=rest), "" if rest else NEEDED[Kind.STOP])
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
    return _bare(kind, rest) if kind != Kind.BEGIN else None


def _bare(kind: Kind, rest: str) -> Meant:
    """A move that carries nothing. What was typed after its word may turn its sense round, so it is not guessed at."""
    if rest:
        raise MoveError(f'"{kind} {rest}" is not clear', f'type "{kind}" alone, or another answer; a note says more')
    return Meant(Move(kind))


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
    number = whole_number(rest)
    if number is None:
        return rest
    told = [visit.step for visit in walk.way if visit_words(walk, visit)]
    if not 1 <= number <= len(told):
        raise MoveError(f"there is no line {number} in what was done so far", 'type "so far" to see the lines')
    return told[number - 1]


def _what_may_be_typed(offered: Sequence[Choice]) -> str:
    shown = ", ".join(f'{choice.number} or "{choice.words}"' for choice in offered)
    return f"type {shown}; or help" if shown else "type help for the words"


def completed(meant: Meant, text: str) -> Move:
    """The move with the text that it asked for. Raises MoveError where it cannot do without and nothing was given."""
    if not text.strip():
        raise MoveError(
            f'"{meant.move.label or meant.move.kind}" needs a text', "type it in the same line or when asked"
        )
    _check_letters(text.strip())
    return replace(meant.move, text=text.strip())


def _check_letters(typed: str) -> None:
    """Raises MoveError where what was typed would act on a terminal when it is shown again."""
    if visible(typed) != typed:
        raise MoveError("the line has characters that cannot be recorded", "type it again, in letters")
