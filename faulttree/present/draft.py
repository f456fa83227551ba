"""The entry draft of a walk that ended with a passed operational check: what was recorded, and nothing beyond it.

It is a draft: nobody has signed it, and what was not recorded is a blank that says so.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from faulttree.keys import Kind
from faulttree.model import Cause, Check, Fix, OperationalCheck, Step
from faulttree.possible import left_by_findings, possible
from faulttree.present.blocks import document_words, sentence
from faulttree.walk import Walk

BLANK = re.compile(r"_{3,}")
CLAUSE = re.compile(r"[.,;:/()?]+")
"""What parts the words that belong to a blank from those that do not."""

FEWEST_LETTERS = 3
"""Shorter words say nothing of what was measured."""

NOTHING_FITS = "___ (INCOMPLETE). The findings speak against all that this clears."


def entry_draft(walk: Walk, fix: Fix) -> tuple[str, ...]:
    """FOUND, READ, DID, PROVED and the documents, as far as they were recorded; blanks are marked INCOMPLETE."""
    causes = found_causes(walk, fix)
    found = " / ".join(_with_readings(walk, cause) for cause in causes)
    lines = [
        "ENTRY DRAFT, not signed:",
        f"FOUND: {_one_of(causes)}{_blanks(found) or NOTHING_FITS}",
        *(f"READ: {line}" for line in readings(walk)),
        *(f"DID, and it did not help: {_blanks(sentence(each.did or each.text))}" for each in did_not_help(walk)),
        f"DID: {_blanks(sentence(fix.did or fix.text))}",
        *_proved(walk, walk.library.operational_checks[fix.operational_check]),
        *(f"WAIT: {sentence(move.text)}" for move in walk.way[-1].moves if move.kind == Kind.WAITED and move.text),
    ]
    if fix.data:
        lines.append(f"REF: {'; '.join(document_words(walk.library, fix.data))}.")
    return tuple(lines)


def _proved(walk: Walk, proof: OperationalCheck) -> Iterator[str]:
    """How often the check was answered as passed; then the words of the entry, for whoever can say that it was so.

    One press says that the question was answered, and no more: what the check counts and measures was not recorded.
    """
    answers = [line.move.kind for line in walk.log if _asked(line.at_step) == proof.id]
    passed, failed = answers.count(Kind.PASSED), answers.count(Kind.FAILED)
    yield f"PROVED: answered as passed, {passed} of {passed + failed}: {sentence(proof.ask)}"
    yield f"WORDS, where it was so: {_blanks(sentence(proof.proved))}"


def _asked(step: Step) -> str:
    """The operational check of a step; empty where it is no fix."""
    return step.operational_check if isinstance(step, Fix) else ""


def readings(walk: Walk) -> Iterator[str]:
    """Each reading of the way: what was measured, the value as it was typed, the band, what else was read."""
    for visit in walk.way:
        step, answer = walk.site.variant.steps[visit.step], visit.answer
        if isinstance(step, Check) and answer is not None and answer.kind == Kind.READING:
            also = f"; {answer.text}" if answer.text else ""
            yield f"{walk.library.limits[step.measure].text}: {answer.value} ({answer.label}{also})."


def did_not_help(walk: Walk) -> tuple[Fix, ...]:
    """The fixes of the log whose operational check failed, in order."""
    done = (line.at_step for line in walk.log if line.move.kind == Kind.FAILED)
    return tuple(step for step in done if isinstance(step, Fix))


def found_causes(walk: Walk, fix: Fix) -> tuple[Cause, ...]:
    """The causes that the passed fix clears and that the way leaves possible.

    Where only an operational check that failed before spoke against them, those that the findings leave: work that
    did not help the first time has helped now.
    """
    left = [name for name in possible(walk) if name in fix.clears]
    left = left or [name for name in left_by_findings(walk) if name in fix.clears]
    return tuple(walk.site.variant.causes[name] for name in left)


def _one_of(causes: tuple[Cause, ...]) -> str:
    return "one of these, strike what does not apply: " if len(causes) > 1 else ""


def _blanks(text: str) -> str:
    """Blanks that nobody filled in, marked."""
    return BLANK.sub("___ (INCOMPLETE)", text)


# -- blanks that a reading of the walk fills


class Read(NamedTuple):
    """A reading: as it was typed, the limit's unit, and the words of what was measured and found."""

    value: str
    unit: str
    words: frozenset[str]


def _with_readings(walk: Walk, cause: Cause) -> str:
    """What was found, with the readings in their blanks.

    A reading has its place where a check that the cause names was measured, the blank stands before the limit's unit,
    and all words of its clause before it are words of what was measured; and only where reading and blank have no
    other to go with. A blank in what was done stands for a value after the work, and no reading is taken after it.
    """
    text = sentence(cause.found or cause.text)
    read = tuple(_read_for(walk, cause))
    pairs = [(blank, each) for blank in BLANK.finditer(text) for each in read if _fits(text, blank, each)]
    for blank, each in reversed(pairs):
        if sum(blank is other or each is one for other, one in pairs) == 1:
            text = f"{text[: blank.start()]}{each.value}{text[blank.end() :].lstrip().removeprefix(each.unit)}"
    return text


def _read_for(walk: Walk, cause: Cause) -> Iterator[Read]:
    """The readings of the way at checks that the cause names, where it shows what was found."""
    for visit in walk.way:
        step, answer = walk.site.variant.steps[visit.step], visit.answer
        if not isinstance(step, Check) or answer is None or answer.kind != Kind.READING:
            continue
        if answer.label in cause.shows.get(step.base, ()):
            limit = walk.library.limits[step.measure]
            yield Read(answer.value, limit.unit, _words(f"{limit.text} {limit.id} {answer.label} {step.text}"))


def _fits(text: str, blank: re.Match[str], read: Read) -> bool:
    after = text[blank.end() :].lstrip()
    before = _words(CLAUSE.split(text[: blank.start()])[-1])
    unit = after.startswith(read.unit) and not after[len(read.unit) :][:1].isalnum()
    return unit and bool(before) and all(any(_alike(word, other) for other in read.words) for word in before)


def _words(text: str) -> frozenset[str]:
    return frozenset(word for word in re.findall(r"[^\W\d_]+", text.casefold()) if len(word) >= FEWEST_LETTERS)


def _alike(one: str, other: str) -> bool:
    """The same word, or one with an ending: frayed and fray, thick and thickness."""
    return one.startswith(other) or other.startswith(one)
