"""How a walk ends: its title, the report, what is due later, and the hand-over page; the draft is in `draft`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime

from faulttree.keys import Kind, Move, Stage
from faulttree.model import End, Fix, Recheck
from faulttree.present.after import after_blocks
from faulttree.present.another import Another, another_blocks
from faulttree.present.blocks import (
    Block,
    action_blocks,
    document_words,
    first_action_blocks,
    first_line,
    item_words,
    occupant_may_be_on,
    open_items,
    open_lines,
    sees_figures,
    sentence,
    sentences,
    status_block,
)
from faulttree.present.draft import entry_draft, found_causes, readings, work_done
from faulttree.present.filling import blanks_block, report_line
from faulttree.present.progress import done_so_far, set_aside, words_of_now
from faulttree.readback import begin, encode
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
NOT_LOOKED = "Nothing was looked at yet. "
NOT_CARRIED = "Not in the code: fallback lines, notes, readings, names, times, waits."


UNKNOWN = Another()


def end_blocks(
    walk: Walk, practice: bool, times: Sequence[datetime] = (), another: Another = UNKNOWN
) -> Iterator[Block]:
    """The page of a walk that has ended, with what comes after it and all that was done."""
    yield from ending(walk, practice, another)
    yield from after_blocks(walk, times)
    yield from _done(walk)


def ending(walk: Walk, practice: bool, another: Another = UNKNOWN) -> Iterator[Block]:
    """How a walk has ended: title, entry draft or report, what is due later; ``another`` is the tree it leads on to."""
    step = walk.step
    if isinstance(step, Fix):
        yield Block("title", (_practised(CORRECTED, practice),))
        yield from _passed(walk, step, another)
    elif isinstance(step, End):
        yield Block("title", (_practised(TITLES[step.kind], practice),))
        yield from _without_passing(walk, step, another)


def _done(walk: Walk) -> Iterator[Block]:
    done = done_so_far(walk)
    if done.lines:
        yield Block("title", ("Done so far",))
        yield done
    yield set_aside(walk)


def _practised(title: str, practice: bool) -> str:
    return f"PRACTICE. {title}" if practice else title


def _passed(walk: Walk, fix: Fix, another: Another) -> Iterator[Block]:
    yield Block("draft", entry_draft(walk, fix))
    yield blanks_block(walk)
    yield Block("text", _later(walk, fix.recheck))
    yield Block("text", tuple(_also_look(walk, fix)))
    yield Block("watch", tuple(_watched(walk, fix)))
    yield from another_blocks(walk, another)
    yield Block("gate", (AUTHORISED,))


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


def _without_passing(walk: Walk, end: End, another: Another) -> Iterator[Block]:
    yield Block("text", tuple(_where(walk, end)))
    yield from another_blocks(walk, another)
    yield Block("how", sentences(end.do))
    yield Block("draft", (*_read(walk), *work_done(walk)))
    yield report_block(walk)
    yield blanks_block(walk)
    yield Block("text", _later(walk, end.recheck))
    if end.reportable:
        yield Block("text", ("This may have to be reported to the authority. Follow the operator's procedure.",))
    yield from code_blocks(walk)


def _read(walk: Walk) -> tuple[str, ...]:
    return tuple(f"READ: {line}" for line in readings(walk)) if sees_figures(walk) else ()


def _where(walk: Walk, end: End) -> Iterator[str]:
    if end.kind == "deferred":
        yield f"Under: {'; '.join(document_words(walk.library, end.under))}."
        yield f"Until: {sentence(end.until)}"
    if end.to:
        yield f"To: {end.to}."
    if end.data:
        yield f"Data: {'; '.join(document_words(walk.library, end.data))}."


def code_blocks(walk: Walk) -> Iterator[Block]:
    """The read-back code, the words to say it in, and what it does not say."""
    code = encode(walk)
    words = [" ".join(spell(group)) for group in code.split("-")]
    yield Block("code", (f"Read-back code: {code}", *words, NOT_CARRIED, *said_beside(walk, code)))


def said_beside(walk: Walk, code: str) -> tuple[str, ...]:
    """What is open but would not be for whoever goes on from the code: a line of the fallback may have opened it."""
    heard = begin(walk.tree, walk.library, Move(Kind.BEGIN, role=walk.library.first_role, code=code)).key.open_items
    return tuple(
        f"SAY ALSO, it is not in the code: {item_words(item)}" for item in open_items(walk) if item.id not in heard
    )


def hand_over_page(walk: Walk, practice: bool = False, goes_on: bool = True) -> Iterator[Block]:
    """For whoever comes next: what is open, what to do now, what was found, the code, the report with its blanks.

    Where it ``goes_on`` no more, as its tree was withdrawn, there is no next step, and no code to go on from.
    """
    yield Block("title", (_practised("HAND-OVER. NOT APPROVED FOR RETURN TO SERVICE.", practice),))
    yield status_block(walk, practice)
    yield from first_line(walk)
    if not open_lines(walk):
        looked = any(visit.answer for visit in walk.way)
        yield Block("open", (f"{'' if looked else NOT_LOOKED}Nothing is recorded as open.",))
    left = walk.key.phase.stage == Stage.LEFT_OPEN
    step = "Close what is still open, then say so." if left else words_of_now(walk)
    following = (f"Next: {step}", *_for_whom(walk))
    yield Block("text", following if goes_on else _handed_to(walk))
    yield from now_blocks(walk)
    yield from _done(walk)
    yield from code_blocks(walk) if goes_on else ()
    if occupant_may_be_on(walk):
        yield from fallback_blocks(walk)
    yield report_block(walk)


def _for_whom(walk: Walk) -> Iterator[str]:
    """Whom it was handed over to, and whom the step is for where that is somebody else."""
    who = walk.site.needs(walk.key).who or "anybody"
    yield from _handed_to(walk)
    if walk.handed_to != who:
        yield f"The step is for: {who}."


def _handed_to(walk: Walk) -> tuple[str, ...]:
    """Whom it was handed over to, where that was said."""
    return (f"Handed over to: {walk.handed_to}.",) if walk.handed_to else ()


def now_blocks(walk: Walk) -> Iterator[Block]:
    """What to do now with occupant, equipment and aircraft, in short: the first actions."""
    yield from first_action_blocks(walk, "Now", short=True, where=" above")


def report_block(walk: Walk) -> Block:
    """The report of the end, else the defect report, without causes; blanks that nothing recorded fills are marked."""
    return Block("text", report_line(walk))


def fallback_blocks(walk: Walk) -> Iterator[Block]:
    """What to do at once when the occupant cannot wait."""
    yield from action_blocks(walk, "Fallback: when it cannot wait", walk.tree.fallback)
