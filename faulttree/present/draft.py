"""The entry draft of a walk that ended with a passed operational check: what was recorded, and nothing beyond it.

It is a draft: nobody has signed it, and what was not recorded is a blank that says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from faulttree.keys import Kind, Move
from faulttree.model import Cause, Fix, Library, Limit, OperationalCheck, Step
from faulttree.possible import left_by_findings, possible
from faulttree.present.after import IF_NEEDED, duration_words
from faulttree.present.blanks import Text, filled, seen_on_the_way
from faulttree.present.blocks import document_words, sentence
from faulttree.present.choices import band_edge
from faulttree.present.progress import checks_answered
from faulttree.present.worked import Worked, work_of
from faulttree.units import convert, format_quantity, parse_reading
from faulttree.walk import Walk

NOTHING_FITS = "___. The findings speak against all that this clears."
ONE_OF = "one of these, strike what does not apply: "
NOT_SEEN = "concluded from the way and the work that helped, strike what was not seen: "
TITLE = "ENTRY DRAFT, not signed:"
WORK_TITLE = "WORK DONE, not signed:"


class Line(NamedTuple):
    """A line of the draft: what it begins with, its texts with their blanks, and what stands behind them."""

    head: str
    texts: tuple[Text, ...] = ()
    tail: str = ""


def entry_draft(walk: Walk, fix: Fix) -> tuple[str, ...]:
    """FOUND, READ, the work with its operational checks, and the words of the entry; blanks are marked INCOMPLETE."""
    return (TITLE, *_told(walk, _lines(walk, fix)))


def work_done(walk: Walk) -> tuple[str, ...]:
    """The work of a walk that came to its end without a passed operational check; empty where none was done."""
    lines = _told(walk, _undecided(walk))
    return (WORK_TITLE, *lines) if lines else ()


def draft_texts(walk: Walk) -> tuple[Text, ...]:
    """The texts of the draft, or of the work done, that may hold blanks, in order."""
    lines = _lines(walk, walk.step) if isinstance(walk.step, Fix) else _undecided(walk)
    return tuple(text for line in lines for text in line.texts)


def _told(walk: Walk, lines: Iterable[Line]) -> tuple[str, ...]:
    return tuple(f"{each.head}{' / '.join(filled(walk, text) for text in each.texts)}{each.tail}" for each in lines)


def _lines(walk: Walk, fix: Fix) -> Iterator[Line]:
    yield _found(walk, fix)
    if not found_causes(walk, fix):
        yield from _seen(walk)
    yield from (Line(f"READ: {line}") for line in readings(walk))
    told = set(_measured(walk))
    yield from _all_work(walk, fix.id, told)
    proof = walk.library.operational_checks[fix.operational_check]
    yield from _proved(walk, proof)
    yield from _limits(walk.library, walk.key.model, proof.limits, told)


def _undecided(walk: Walk) -> Iterator[Line]:
    """The work where none has helped: what was begun, at least."""
    if any(each.ticked for each in work_of(walk)):
        yield from _all_work(walk, "", set(_measured(walk)))


def _all_work(walk: Walk, helped: str, told: set[str]) -> Iterator[Line]:
    """All work of the log; the last of the step that ``helped`` is what the draft is for."""
    work = work_of(walk)
    last = max((at for at, each in enumerate(work) if each.fix.id == helped), default=None)
    for at, each in enumerate(work):
        yield from _work(walk, each, at == last, told)


def _found(walk: Walk, fix: Fix) -> Line:
    causes = found_causes(walk, fix)
    if not causes:
        return Line("FOUND: ", (Text(NOTHING_FITS, "found"),))
    texts = tuple(_cause_text(walk, cause) for cause in causes)
    how = ONE_OF if len(causes) > 1 else "" if _is_shown(walk, causes[0]) else NOT_SEEN
    return Line(f"FOUND: {how}", texts)


def _cause_text(walk: Walk, cause: Cause) -> Text:
    return Text(sentence(cause.found or cause.text), "found", tuple(seen_on_the_way(walk, cause)))


def _is_shown(walk: Walk, cause: Cause) -> bool:
    """Whether an answer of the way shows the cause: one of some that it names, and not the usual one."""
    for step, answer in checks_answered(walk):
        if answer.label in step.usual:
            continue
        named = cause.shows.get(step.base, ())
        if answer.label in named and any(each.label not in named for each in step.findings):
            return True
    return False


def _seen(walk: Walk) -> Iterator[Line]:
    """What was found on the way beside what is usual, where no cause says it in words of its own."""
    for step, answer in checks_answered(walk):
        if answer.kind == Kind.FINDING and answer.label not in step.usual:
            yield Line(f"SEEN: {step.text} {answer.label}.")


# -- work


def _work(walk: Walk, work: Worked, has_helped: bool, told: set[str]) -> Iterator[Line]:
    """Work with what belongs to it: parts, limits, waits, inspections, documents, and what became of it."""
    fix, library, failed = work.fix, work.library, bool(work.moves(Kind.FAILED))
    given_up = "".join(f"Cannot: {move.text or 'no reason was recorded'}. " for move in work.moves(Kind.CANNOT))
    if not work.is_done:
        yield Line(f"NOT DONE, {work.ticked} of {len(fix.lines)} lines: {given_up}{sentence(fix.text)}")
        return
    yield Line(
        f"DID{'' if has_helped else _what_came_of(work)}: {given_up}",
        (Text(sentence(fix.did or fix.text), work.place),),
    )
    if fix.parts:
        yield Line("PARTS: ", (Text(_parts(library, fix), work.place),))
    yield from _limits(library, walk.key.model, fix.limits, told)
    for move in work.moves(Kind.WAITED):
        yield Line(f"WAIT of {duration_words(fix.wait)}: {sentence(move.text or 'said to be over')}")
    look = fix.second_inspection.look if fix.second_inspection else ""
    for move in work.moves(Kind.INSPECTED):
        yield Line(f"SECOND INSPECTION recorded, not signed: {move.text}. To look at: {sentence(look)}")
    if fix.data:
        yield Line(f"REF: {'; '.join(document_words(library, fix.data))}.")
    if failed:
        proof = library.operational_checks[fix.operational_check]
        yield Line(f"FAILED: {sentence(proof.ask)}{_by(library, walk.key.model, proof)}")


def _what_came_of(work: Worked) -> str:
    """What became of work that the walk did not end by; after a passed check with something open one may go back."""
    if work.moves(Kind.FAILED):
        return ", and it did not help"
    answer = "answered as passed, gone back after it" if work.moves(Kind.PASSED) else "not answered"
    return f", operational check {answer}"


def _parts(library: Library, fix: Fix) -> str:
    """The parts that the work takes; of one that it may take, a blank for whether it did."""
    return f"{'; '.join(_part(library, name, count) for name, count in fix.parts.items())}."


def _part(library: Library, name: str, count: str) -> str:
    how_many = ", used: ___ (yes / no)" if count == IF_NEEDED else f" ({count})"
    return f"{name} {library.parts[name].text}{how_many}"


# -- the operational check


def _proved(walk: Walk, proof: OperationalCheck) -> Iterator[Line]:
    """How often the check was answered as passed; then the words of the entry, for whoever can say that it was so.

    One press says that the question was answered, and no more: what the check counts and measures was not recorded.
    """
    answers = [line.move.kind for line in walk.log if _asked(line.at_step) == proof.id]
    passed, failed = answers.count(Kind.PASSED), answers.count(Kind.FAILED)
    asked = f"{sentence(proof.ask)}{_by(walk.library, walk.key.model, proof)}"
    yield Line(f"PROVED: answered as passed, {passed} of {passed + failed}: {asked}")
    yield Line("WORDS, where it was so: ", (Text(sentence(proof.proved), "proved"),))


def _by(library: Library, model: str, proof: OperationalCheck) -> str:
    data = proof.data.get(model)
    return f" By {'; '.join(document_words(library, data))}." if data else ""


def _asked(step: Step) -> str:
    """The operational check of a step; empty where it is no fix."""
    return step.operational_check if isinstance(step, Fix) else ""


# -- numbers


def readings(walk: Walk) -> Iterator[str]:
    """Each reading of the way: what was measured, the value as it was typed, the band, the limit it was judged by."""
    for step, answer in checks_answered(walk):
        if answer.kind == Kind.READING:
            limit = walk.library.limits[step.measure]
            also = f"; {answer.text}" if answer.text else ""
            edges = _edges(walk.library, walk.key.model, limit)
            yield f"{limit.text}: {_value(answer, limit)} ({answer.label}{also}). Limit: {edges}."


def _value(answer: Move, limit: Limit) -> str:
    """The reading as it was typed; beside it in the limit's unit, where it was typed in another."""
    typed = parse_reading(answer.value)
    if typed.unit == limit.unit:
        return answer.value
    return f"{answer.value} = {format_quantity(convert(typed, limit.unit), limit.unit, figures=4)}"


def _measured(walk: Walk) -> Iterator[str]:
    """The limits of the readings."""
    yield from (step.measure for step, answer in checks_answered(walk) if answer.kind == Kind.READING)


def _limits(library: Library, model: str, names: Iterable[str], told: set[str]) -> Iterator[Line]:
    """The limits that work is set or judged by, where the model has them, each once in a draft."""
    for name in names:
        limit = library.limits[name]
        if name not in told and model in limit.scales:
            told.add(name)
            yield Line(f"LIMIT: {limit.text}: {_edges(library, model, limit)}.")


def _edges(library: Library, model: str, limit: Limit) -> str:
    """The bands with where they end, and where the limit is from."""
    bands = ", ".join(f"{band.label} {band_edge(limit, band)}" for band in limit.scales[model].bands)
    data = limit.data.get(model)
    return f"{bands} ({'; '.join(document_words(library, data))})" if data else bands


def found_causes(walk: Walk, fix: Fix) -> tuple[Cause, ...]:
    """The causes that the passed fix clears and that the way leaves possible.

    Where only an operational check that failed before spoke against them, those that the findings leave: work that
    did not help the first time has helped now.
    """
    left = [name for name in possible(walk) if name in fix.clears]
    left = left or [name for name in left_by_findings(walk) if name in fix.clears]
    return tuple(walk.site.variant.causes[name] for name in left)
