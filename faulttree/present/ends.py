"""How a walk ends: its title, the entry draft, the report, what is due later, and the hand-over page."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from faulttree.keys import Kind
from faulttree.model import Cause, Check, End, Fix, Recheck
from faulttree.possible import possible
from faulttree.present.blocks import (
    Block,
    action_blocks,
    document_words,
    first_line,
    occupant_may_be_on,
    open_lines,
    sees_figures,
    sentence,
    sentences,
    status_block,
)
from faulttree.present.progress import done_so_far, set_aside, step_words
from faulttree.readback import encode
from faulttree.spelling import spell
from faulttree.walk import Walk

CORRECTED = "FAULT CORRECTED. NOT YET APPROVED FOR RETURN TO SERVICE."
TITLES: Mapping[str, str] = {
    "out of service": "OUT OF SERVICE.",
    "deferred": "DEFERRED, ONCE AN AUTHORISED PERSON HAS ENTERED IT. NOT YET APPROVED.",
    "hand over": "HANDED OVER. NOT APPROVED FOR RETURN TO SERVICE.",
    "see document": "GO ON BY THE DOCUMENT NAMED HERE. NOT APPROVED FOR RETURN TO SERVICE.",
    "no fault found": "NO FAULT FOUND. NOT APPROVED FOR RETURN TO SERVICE.",
    "see another tree": "GO ON WITH ANOTHER SYMPTOM. NOT APPROVED FOR RETURN TO SERVICE.",
}
AUTHORISED = (
    "An authorised person must still: check the work against current approved data, complete and sign the entry, "
    "and approve for return to service or not."
)
BLANK = re.compile(r"_{3,}")


def end_blocks(walk: Walk, practice: bool) -> Iterator[Block]:
    """The page of a walk that has ended, with all that was done."""
    yield from ending(walk, practice)
    yield from _done(walk)


def ending(walk: Walk, practice: bool) -> Iterator[Block]:
    """How a walk has ended: title, entry draft or report, what is due later."""
    step = walk.step
    if isinstance(step, Fix):
        yield Block("title", (_practised(CORRECTED, practice),))
        yield from _passed(walk, step)
    elif isinstance(step, End):
        yield Block("title", (_practised(TITLES[step.kind], practice),))
        yield from _without_passing(walk, step)


def _done(walk: Walk) -> Iterator[Block]:
    done = done_so_far(walk)
    if done.lines:
        yield Block("title", ("Done so far",))
        yield done
    yield set_aside(walk)


def _practised(title: str, practice: bool) -> str:
    return f"PRACTICE. {title}" if practice else title


def _passed(walk: Walk, fix: Fix) -> Iterator[Block]:
    yield Block("text", entry_draft(walk, fix))
    yield Block("text", _later(walk, fix.recheck))
    yield Block("text", tuple(_also_look(walk, fix)))
    yield Block("watch", tuple(_watched(walk, fix)))
    if fix.then:
        yield Block("text", (f"Then walk the tree {fix.then}.",))
    yield Block("gate", (AUTHORISED,))


def entry_draft(walk: Walk, fix: Fix) -> tuple[str, ...]:
    """FOUND, DID, PROVED and the documents, as far as they were recorded; blanks are marked INCOMPLETE."""
    causes = found_causes(walk, fix)
    found = " / ".join(sentence(cause.found or cause.text) for cause in causes)
    proof = walk.library.operational_checks[fix.operational_check]
    lines = [
        "ENTRY DRAFT, not signed:",
        f"FOUND: {_one_of(causes)}{_blanks(found) or NOTHING_FITS}",
        *(f"READ: {line}" for line in readings(walk)),
        *(f"DID, and it did not help: {_blanks(sentence(each.did or each.text))}" for each in did_not_help(walk)),
        f"DID: {_blanks(sentence(fix.did or fix.text))}",
        f"PROVED: {_blanks(sentence(proof.proved))}",
        *(f"WAIT: {sentence(move.text)}" for move in walk.way[-1].moves if move.kind == Kind.WAITED and move.text),
    ]
    if fix.data:
        lines.append(f"REF: {'; '.join(document_words(walk.library, fix.data))}.")
    return tuple(lines)


NOTHING_FITS = "___ (INCOMPLETE). The findings speak against every cause that this clears."


def readings(walk: Walk) -> Iterator[str]:
    """Each reading of the way: what was measured, the value as it was typed, the band, what else was read."""
    for visit in walk.way:
        step, answer = walk.site.variant.steps[visit.step], visit.answer
        if isinstance(step, Check) and answer is not None and answer.kind == Kind.READING:
            also = f"; {answer.text}" if answer.text else ""
            yield f"{walk.library.limits[step.measure].text}: {answer.value} ({answer.label}{also})."


def did_not_help(walk: Walk) -> tuple[Fix, ...]:
    """The fixes of the log whose operational check failed, in order."""
    done = (walk.site.variant.steps[line.step] for line in walk.log if line.move.kind == Kind.FAILED)
    return tuple(step for step in done if isinstance(step, Fix))


def _one_of(causes: tuple[Cause, ...]) -> str:
    return "one of these, strike what does not apply: " if len(causes) > 1 else ""


def found_causes(walk: Walk, fix: Fix) -> tuple[Cause, ...]:
    """The causes that the passed fix clears and that the findings leave possible."""
    return tuple(walk.site.variant.causes[name] for name in possible(walk) if name in fix.clears)


def _blanks(text: str) -> str:
    """Blanks that nobody filled in, marked."""
    return BLANK.sub("___ (INCOMPLETE)", text)


def _later(walk: Walk, recheck: Recheck | None) -> tuple[str, ...]:
    if recheck is None:
        return ()
    return (f"RECHECK DUE: {recheck.after}, by: {recheck.who}. {sentence(recheck.look)}",)


def _watched(walk: Walk, fix: Fix) -> Iterator[str]:
    """The recurring looks that watch the causes that were found."""
    for name in dict.fromkeys(name for cause in found_causes(walk, fix) for name in cause.watch):
        item = walk.library.inspection[name]
        yield f"Watched by {name} ({item.every}): {sentence(item.look)}"


def _also_look(walk: Walk, fix: Fix) -> Iterator[str]:
    for cause in found_causes(walk, fix):
        yield from (f"Also look: {sentence(text)}" for text in cause.also_look)
        if cause.reportable:
            yield "This may have to be reported to the authority. Follow the operator's procedure."


def _without_passing(walk: Walk, end: End) -> Iterator[Block]:
    yield Block("text", tuple(_where(walk, end)))
    yield Block("text", tuple(f"READ: {line}" for line in readings(walk)) if sees_figures(walk) else ())
    yield Block("how", sentences(end.do))
    yield Block("open", open_lines(walk))
    yield Block("text", (f"REPORT: {end.report}",)) if end.report else report_block(walk)
    yield Block("text", _later(walk, end.recheck))
    if end.reportable:
        yield Block("text", ("This may have to be reported to the authority. Follow the operator's procedure.",))
    yield from code_blocks(walk)


def _where(walk: Walk, end: End) -> Iterator[str]:
    if end.kind == "deferred":
        yield f"Under: {'; '.join(document_words(walk.library, end.under))}."
        yield f"Until: {sentence(end.until)}"
    if end.to:
        yield f"To: {end.to}."
    if end.data:
        yield f"Data: {'; '.join(document_words(walk.library, end.data))}."
    if end.tree:
        yield f"Walk the tree {end.tree}."


def code_blocks(walk: Walk) -> Iterator[Block]:
    """The read-back code, and the words to say it in."""
    code = encode(walk)
    words = [" ".join(spell(group)) for group in code.split("-")]
    yield Block("code", (f"Read-back code: {code}", *words))


def hand_over_page(walk: Walk, practice: bool = False, goes_on: bool = True) -> Iterator[Block]:
    """For whoever comes next: what was found, what is open, the code, what to do now, the report with its blanks.

    Where it ``goes_on`` no more, as its tree was withdrawn, there is no next step, and no code to go on from.
    """
    yield Block("title", (_practised("HAND-OVER. NOT APPROVED FOR RETURN TO SERVICE.", practice),))
    yield status_block(walk, practice)
    yield from first_line(walk)
    if not open_lines(walk):
        yield Block("open", ("Nothing is recorded as open.",))
    who = walk.site.needs(walk.key).who or "anybody"
    yield Block("text", (f"Next: {step_words(walk.step)}", f"It is for: {who}.") if goes_on else ())
    yield from _done(walk)
    yield from code_blocks(walk) if goes_on else ()
    yield from now_blocks(walk)
    yield report_block(walk)


def now_blocks(walk: Walk) -> Iterator[Block]:
    """What to do now with occupant, equipment and aircraft.

    The first actions, and the fallback while somebody is or may be on it. Once a line of the fallback worked,
    things stand otherwise than the first actions take for granted, and what is open says what is to be done.
    """
    if any(line.move.kind == Kind.FALLBACK and line.move.line for line in walk.log):
        return
    yield from action_blocks(walk, "Now", walk.tree.first_actions)
    if occupant_may_be_on(walk):
        yield from fallback_blocks(walk)


def report_block(walk: Walk) -> Block:
    """The defect report with the blanks that the person fills in; no causes."""
    return Block("text", (f"REPORT: {walk.tree.report}",) if walk.tree.report else ())


def fallback_blocks(walk: Walk) -> Iterator[Block]:
    """What to do at once when the occupant cannot wait."""
    yield from action_blocks(walk, "Fallback: when it cannot wait", walk.tree.fallback)
