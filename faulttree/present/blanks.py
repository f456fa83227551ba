"""Blanks in the texts of an entry: where they stand, what of the record fills them, and what a person filled in.

A blank is ``___``. Behind it may stand what it is chosen from, ``(broken / whole)``, or a hint, ``(place)``. Only what
was recorded fills it, and only where no doubt is left; else it stays, and says that it is INCOMPLETE.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from faulttree.keys import ON, UNANSWERED, Kind, Move
from faulttree.model import Cause, End
from faulttree.present.progress import checks_answered
from faulttree.problems import MoveError
from faulttree.unit_table import SYMBOLS, key_of
from faulttree.units import parse_reading
from faulttree.visible import visible
from faulttree.walk import Walk

BLANK = re.compile(r"_{3,}(?: \(([^()_]*)\))?")
"""A blank; in group 1 what stands in parentheses behind it."""

CLAUSE = re.compile(r"[.,;:/()?]+")
"""What parts the words that belong to a blank from those that do not."""

FEWEST_LETTERS = 3
"""Shorter words say nothing of what was measured."""

LEFT = "___ (INCOMPLETE)"
HERE = "[___]"
"""The blank that is asked for, among the others of its text."""

YES_OR_NO = ("yes", "no")
REASON = ("reason", "because")
"""Words before the blank for why the way came to its end."""


class Seen(NamedTuple):
    """What was read or found at a check: the reading as it was typed and its limit's unit, empty where nothing was
    measured; what the finding is called, by its label and at length; the words of what was looked at."""

    value: str
    unit: str
    names: frozenset[str]
    words: frozenset[str]


class Text(NamedTuple):
    """A text with blanks as the tree has it, what it belongs to, and what was seen that may stand in its blanks."""

    words: str
    place: str
    seen: tuple[Seen, ...] = ()


class Blank(NamedTuple):
    """A blank that the record itself does not fill: which one of its text it is, from 1, and what is filled in."""

    text: Text
    at: int
    options: tuple[str, ...]
    value: str = ""


class _Filling(NamedTuple):
    """What stands in a blank, and the unit behind the blank that it takes the place of."""

    value: str
    unit: str = ""


def filled(walk: Walk, text: Text, here: int = 0) -> str:
    """The text with its blanks filled, by the record itself or by hand; those that are left are marked.

    ``here`` is the number of the one that is asked for now.
    """
    done, at = [], 0
    fillings = {**_by_hand(walk, text), **_recorded(walk, text)}
    for number, blank in enumerate(BLANK.finditer(text.words), 1):
        done.append(text.words[at : blank.start()])
        at = blank.end()
        filling = None if number == here else fillings.get(number)
        if filling is None:
            done.append(f"{HERE if number == here else LEFT}{blank[0].lstrip('_')}")
            continue
        done.append(f"{filling.value}{_kept(blank)}")
        if filling.unit:
            at = len(text.words) - len(text.words[at:].lstrip().removeprefix(filling.unit))
    return "".join((*done, text.words[at:]))


def blanks_of(walk: Walk, text: Text) -> tuple[Blank, ...]:
    """The blanks that the record itself does not fill, with what was filled in by hand."""
    recorded, by_hand = _recorded(walk, text), _by_hand(walk, text)
    return tuple(
        Blank(text, number, _options(blank), by_hand[number].value if number in by_hand else "")
        for number, blank in enumerate(BLANK.finditer(text.words), 1)
        if number not in recorded
    )


def _options(blank: re.Match[str]) -> tuple[str, ...]:
    return tuple(blank[1].split(" / ")) if blank[1] and " / " in blank[1] else ()


def _kept(blank: re.Match[str]) -> str:
    """What stays behind a blank that is filled: the limit that it is judged by, which has a number; no hint."""
    return f" ({blank[1]})" if blank[1] and not _options(blank) and re.search(r"\d", blank[1]) else ""


# -- by hand


def fill_in(blank: Blank, typed: str) -> Move:
    """The note that says what stands in the blank. Where it is chosen, the number of the choice is as good."""
    text = visible(" ".join(typed.split()))
    if text.isdigit() and text.isascii() and 1 <= int(text) <= len(blank.options):
        text = blank.options[int(text) - 1]
    return Move(Kind.NOTE, text=text, label=blank.text.words, line=blank.at, to=blank.text.place)


def _by_hand(walk: Walk, text: Text) -> Mapping[int, _Filling]:
    """What was filled in last, by the number of the blank."""
    notes = [line.move for line in walk.log if line.move.kind == Kind.NOTE and line.move.line]
    here = [note for note in notes if (note.label, note.to) == (text.words, text.place)]
    return {note.line: _Filling(note.text, _unit_behind(text.words, note)) for note in here}


def _unit_behind(words: str, note: Move) -> str:
    """The unit behind the blank, where what was typed has a unit of its own."""
    behind = [words[blank.end() :].split() for blank in BLANK.finditer(words)]
    unit = behind[note.line - 1][0].rstrip(".,;)") if note.line <= len(behind) and behind[note.line - 1] else ""
    try:
        return unit if key_of(unit) in SYMBOLS and parse_reading(note.text).unit else ""
    except MoveError:
        return ""


# -- by the record


def _recorded(walk: Walk, text: Text) -> Mapping[int, _Filling]:
    blanks = list(BLANK.finditer(text.words))
    said = {at: _Filling(said) for at, blank in enumerate(blanks, 1) if (said := _said(walk, text.words, blank))}
    return {**_alone(text, blanks), **said}


def _said(walk: Walk, words: str, blank: re.Match[str]) -> str:
    """The model, the occupant or the reason, where the words before the blank ask for it; else nothing."""
    before = _before(words, blank)
    last = before.split()[-1].casefold() if before.split() else ""
    if last == "model":
        # Where nothing depends on the model nobody was asked for it.
        return walk.key.model if not walk.tree.alike or len(walk.tree.models) == 1 else ""
    if last in REASON:
        return _reason(walk)
    return _occupant(walk) if _options(blank) == YES_OR_NO and _asks_for_occupant(walk, before) else ""


def _asks_for_occupant(walk: Walk, before: str) -> bool:
    asked = _words(walk.library.occupant.ask) if walk.library.occupant else frozenset()
    return bool(_words(before)) and _words(before) <= asked


def _occupant(walk: Walk) -> str:
    """Whether somebody was on it as the walk began, and where that has changed, whether somebody is now."""
    first, now = walk.log[0].occupant, walk.key.occupant
    if first == UNANSWERED:
        return ""
    answer = {True: "yes", False: "no"}
    later = "" if now in (first, UNANSWERED) else f", {answer[now == ON]} later"
    return f"{answer[first == ON]} as the walk began{later}"


def _reason(walk: Walk) -> str:
    """Why the way came to this end: what was answered at the step before, and at which."""
    if len(walk.way) < 2 or not isinstance(walk.step, End):
        return ""
    before = walk.way[-2]
    step, answer = walk.site.variant.steps[before.step], before.answer
    if answer is None or isinstance(step, End):
        return ""
    why = "operational check failed" if answer.kind == Kind.FAILED else answer.text or answer.label
    if answer.kind == Kind.READING:
        why = f"{answer.value}, {answer.label}"
    return f"{why.rstrip('.')} ({step.text.rstrip('.')})" if why else ""


def _alone(text: Text, blanks: Sequence[re.Match[str]]) -> Mapping[int, _Filling]:
    """What was seen, in its blank: only where neither has another to go with.

    A reading stands before its limit's unit, a finding where it is one of those to choose from, each behind words of
    what was looked at.
    """
    pairs = [
        (at, each, found)
        for at, blank in enumerate(blanks, 1)
        for each in text.seen
        if (found := _fitting(text.words, blank, each))
    ]
    return {at: found for at, each, found in pairs if _is_alone(pairs, at, each, found)}


def _is_alone(pairs: Sequence[tuple[int, Seen, _Filling]], at: int, seen: Seen, filling: _Filling) -> bool:
    """Whether neither the blank nor what was seen has another to go with; a reading and its band go apart."""
    alike = [(other, one) for other, one, found in pairs if bool(found.unit) == bool(filling.unit) or other == at]
    return sum(other == at or one is seen for other, one in alike) == 1


def _fitting(words: str, blank: re.Match[str], seen: Seen) -> _Filling | None:
    before, after = _words(_before(words, blank)), words[blank.end() :].lstrip()
    if not before or not all(any(_alike(word, other) for other in seen.words) for word in before):
        return None
    chosen = [option for option in _options(blank) if option.casefold() in seen.names]
    if chosen:
        return _Filling(chosen[0])
    fits = seen.unit and after.startswith(seen.unit) and not after[len(seen.unit) :][:1].isalnum()
    return _Filling(seen.value, seen.unit) if fits else None


def _before(words: str, blank: re.Match[str]) -> str:
    """The words before a blank that belong to it."""
    return CLAUSE.split(words[: blank.start()].rstrip(" :"))[-1].strip()


def _words(text: str) -> frozenset[str]:
    return frozenset(word for word in re.findall(r"[^\W\d_]+", text.casefold()) if len(word) >= FEWEST_LETTERS)


def _alike(one: str, other: str) -> bool:
    """The same word, or one with an ending: frayed and fray, thick and thickness."""
    return one.startswith(other) or other.startswith(one)


def seen_on_the_way(walk: Walk, cause: Cause | None = None) -> Iterator[Seen]:
    """What was read and found on the way; of a ``cause``, at the checks that it names, where it shows it."""
    for step, answer in checks_answered(walk):
        if answer.kind not in (Kind.READING, Kind.FINDING):
            continue
        if cause is not None and answer.label not in cause.shows.get(step.base, ()):
            continue
        finding = step.finding(answer.label)
        names = frozenset(
            each.casefold().rstrip(".") for each in (answer.label, finding.says if finding else "") if each
        )
        words = f"{answer.label} {step.text}"
        if answer.kind == Kind.READING:
            limit = walk.library.limits[step.measure]
            yield Seen(answer.value, limit.unit, names, _words(f"{limit.text} {limit.id} {words}"))
        else:
            yield Seen("", "", names, _words(words))
