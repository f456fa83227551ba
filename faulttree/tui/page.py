"""A walk as the page of now: the blocks that line mode prints too, put in place, keyed and fitted to the screen.

Pure: from a walk and the size of the screen to rows.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from faulttree.keys import Gate, Kind
from faulttree.model import Notice
from faulttree.present import Block, done_so_far, screen
from faulttree.present.blocks import first_line, notice_block, sentence
from faulttree.present.progress import set_aside
from faulttree.present.step import TYPE_READING
from faulttree.tui.canvas import Canvas
from faulttree.tui.fit import Form, Part, fitted
from faulttree.tui.forms import (
    MARGIN,
    USUAL_WIDTH,
    about_form,
    block_rows,
    how_form,
    known_forms,
    measure_forms,
    needs_forms,
    note_forms,
    one_row,
    open_forms,
    possible_forms,
    status_forms,
    tick_forms,
)
from faulttree.tui.keyed import LOOK_AGAIN, READING, Keyed, keyed
from faulttree.tui.looks import Look
from faulttree.tui.needed import PARTS, USES, aids_forms, parts_forms
from faulttree.tui.rows import Row, paragraphs, rows_of
from faulttree.walk import Walk

FALLBACK_KEY = "key f"
"""How the fallback is come to where its key is one."""

HURRY_KEY = "It cannot wait? Key f"

LOOK_THERE = f"{LOOK_AGAIN}  look there again"


def walk_page(walk: Walk, canvas: Canvas, told: Sequence[str] = (), due: Sequence[str] = ()) -> tuple[Row, ...]:
    """The page of a walk at its work or at a gate other than warnings.

    ``told`` is what the program has to say first, ``due`` what has to be waited for.
    """
    blocks = screen(walk, canvas.practice)
    parts = [
        told_part(told, canvas),
        *head_parts(walk, canvas),
        *_body(walk, blocks, due, canvas),
        so_far_part(walk, canvas),
    ]
    return fitted(parts, canvas.height)


def blocks_page(blocks: Iterable[Block], canvas: Canvas, told: Sequence[str] = ()) -> tuple[Row, ...]:
    """Blocks one after another, as they are: for ends, hand-overs and everything that may be longer than the screen."""
    parts = [told_part(told, canvas)]
    for at, block in enumerate(blocks):
        if block.lines:
            parts.append(Part(f"{block.kind} {at}", (block_rows(block, canvas),), apart=block.kind != "choice"))
    return fitted(parts, canvas.height)


def warning_pages(walk: Walk, canvas: Canvas, told: Sequence[str] = ()) -> tuple[tuple[Row, ...], ...]:
    """The new warnings and cautions in full, on as many pages as they need; each page says which they are."""
    head, cards = _warning_parts(walk, canvas, told)
    return tuple(_warning_page(head, cards, page, canvas) for page in warning_groups(walk, canvas, told))


def warning_groups(walk: Walk, canvas: Canvas, told: Sequence[str] = ()) -> tuple[tuple[int, ...], ...]:
    """Which of the new warnings and cautions stand on each of these pages, by their places from 0."""
    head, cards = _warning_parts(walk, canvas, told)
    longest = rows_of(f"I have read these: {len(cards)} to {len(cards)} of {len(cards)}", canvas.width - len("a  "))
    room = canvas.height - sum(len(part.forms[-1]) for part in head) - len(longest)
    pages: list[list[int]] = [[]]
    used = 0
    for at, card in enumerate(cards):
        if pages[-1] and used + len(card) > room:
            pages.append([])
            used = 0
        pages[-1].append(at)
        used += len(card)
    return tuple(map(tuple, pages))


def _warning_parts(walk: Walk, canvas: Canvas, told: Sequence[str]) -> tuple[list[Part], list[Form]]:
    """The head with the title, and each notice, of the pages of warnings."""
    title = next((block.lines[0] for block in screen(walk) if block.kind == "title"), "")
    # After a line of the fallback that worked handing over stands first here too; the other answers come later.
    first = [row for each in keyed(walk) if each.choice.move.kind == Kind.HAND_OVER for row in _answer(each, 1, canvas)]
    full, row = rows_of(title, canvas.width, "strong"), one_row(title, canvas, "strong")
    # Where a warning fills the screen, what comes next may be cut; the warning never is.
    named = Part("next", (full,) if canvas.width >= USUAL_WIDTH else (full, row), apart=True)
    head = [told_part(told, canvas), *head_parts(walk, canvas), Part("hand over", (tuple(first),), apart=True), named]
    return head, [_notice(notice, canvas) for notice in walk.site.pending(walk.key)]


def _warning_page(head: Sequence[Part], cards: Sequence[Form], page: Sequence[int], canvas: Canvas) -> tuple[Row, ...]:
    all_here = len(page) == len(cards)
    which = f"{page[0] + 1}" if len(page) == 1 else f"{page[0] + 1} to {page[-1] + 1}"
    these = "this" if len(page) == 1 else "these"
    answer = f"a  I have read {these}" if all_here else f"a  I have read {these}: {which} of {len(cards)}"
    parts = [
        *head,
        *(Part(f"notice {at}", (cards[at],), apart=True) for at in page),
        Part("answers", (rows_of(answer[3:], canvas.width, "strong", "a  ", "   ", "a", "key"),), apart=True),
    ]
    return fitted(parts, canvas.height)


# -- the head: what walk it is, what is open, who comes first


def told_part(told: Sequence[str], canvas: Canvas) -> Part:
    """What the program has to say first."""
    return Part("told", (paragraphs(told, canvas.width, "strong"),))


def head_parts(walk: Walk, canvas: Canvas) -> list[Part]:
    """What walk it is, what is open, and who comes first."""
    first = [line for block in screen(walk, canvas.practice) if block.kind == "first" for line in block.lines]
    return [
        Part("status", status_forms(walk, canvas), pinned=True),
        Part("open", open_forms(walk, canvas), pinned=True),
        Part("first", (_hurry(walk, canvas) if first else (),), pinned=True),
    ]


def _hurry(walk: Walk, canvas: Canvas, key: str = FALLBACK_KEY) -> Form:
    """The patient's line: its first sentence and the key of the fallback, which on a narrow screen is not cut off."""
    occupant = walk.library.occupant
    words = occupant.first.split(". ")[0] if occupant else ""
    return rows_of(
        f"{sentence(words)} Cannot wait: {key}.", canvas.width, "strong", "", MARGIN, "f" if key == FALLBACK_KEY else ""
    )


def beside(walk: Walk, canvas: Canvas, key: str, name: str = "") -> Form:
    """What stays in sight on a page beside the walk: which it is, the patient's line, what is open, each in short."""
    hurry = _hurry(walk, canvas, key) if first_line(walk) and not walk.over else ()
    rows = (*about_form(walk, canvas, name), *hurry, *open_forms(walk, canvas)[-1])
    return tuple(row._replace(pinned=True) for row in rows)


# -- the body: notices that were read, the question, the work, the answers


def _body(walk: Walk, blocks: Sequence[Block], due: Sequence[str], canvas: Canvas) -> list[Part]:
    texts: dict[str, list[str]] = {}
    for block in blocks:
        texts.setdefault(block.kind, []).extend(block.lines)

    def plain(kind: str, look: Look = "plain", first: str = "") -> Form:
        return tuple(row for text in texts.get(kind, ()) for row in rows_of(text, canvas.width, look, first, "  "))

    needs = texts.get("needs", [])
    aids = texts.get("aids", [])
    parts = [
        Part("known", known_forms(walk, canvas)),
        Part("notes", note_forms(blocks, canvas)),
        Part("next", (plain("title", "strong"),), apart=True),
        Part("gate", (plain("gate", "strong"),), apart=True),
        Part("hurry", (rows_of(HURRY_KEY, canvas.width, "strong", key="f") if texts.get("hurry") else (),)),
        Part("question", (plain("question", "strong"),), apart=True),
        Part("access", (plain("access"),)),
        Part("how", (how_form(texts.get("how", []), canvas),)),
        Part("measure", measure_forms(texts.get("measure", []), canvas)),
        Part("parts", parts_forms(walk, (*needs, *aids), canvas)),
        Part("needs", needs_forms([line for line in needs if not line.startswith(PARTS)], canvas)),
        Part("aids", aids_forms([line for line in aids if not line.startswith(USES)], canvas)),
        Part("tick", tick_forms(texts.get("tick", []), canvas)),
        Part("possible", possible_forms(texts.get("possible", []), canvas)),
        Part("again", (rows_of(LOOK_THERE, canvas.width, key=LOOK_AGAIN) if "again" in texts else (),)),
        Part("due", (paragraphs(due, canvas.width, "strong"),)),
        Part("answers", (_answers(walk, texts.get("measure", []), canvas),), apart=True),
    ]
    # An operational check is done before it is asked about; everything else is asked first.
    asked_last = [block.kind for block in blocks if block.kind in ("how", "question")] == ["how", "question"]
    return _question_last(parts) if asked_last else parts


def _question_last(parts: Sequence[Part]) -> list[Part]:
    question = [part for part in parts if part.name == "question"]
    return [*(part for part in parts[:-1] if part.name != "question"), *question, parts[-1]]


def _notice(notice: Notice, canvas: Canvas) -> Form:
    return block_rows(notice_block(notice), canvas)


def _answers(walk: Walk, measuring: Sequence[str], canvas: Canvas) -> Form:
    answers = keyed(walk)
    wide = max((len(each.label) for each in answers), default=1)
    rows = [row for each in answers for row in _answer(each, wide, canvas)]
    how = [f"t{line[1:]}" for line in measuring if line.startswith(TYPE_READING)]
    reading = [
        row for line in how for row in rows_of(line, canvas.width, "plain", f"{READING}  ", "   ", READING, "key")
    ]
    return (*reading, *rows)


def _answer(each: Keyed, wide: int, canvas: Canvas) -> Form:
    says = f" - {sentence(each.choice.says)}" if each.choice.says else ""
    first, rest = f"{each.label.ljust(wide)}  ", " " * (wide + 2)
    return rows_of(f"{each.choice.words}{says}", canvas.width, "plain", first, rest, each.key, "key")


def so_far_part(walk: Walk, canvas: Canvas, aside: bool = True) -> Part:
    """What was done so far: all of it, with what was gone back over or else stands ``aside``; the way; its last line.

    What was gone back over was done all the same, so it is counted at the least.
    """
    lines, beside = done_so_far(walk).lines, set_aside(walk).lines if aside else ()
    if not lines and not beside:
        return Part("so far", ((),))
    more = f", and {len(beside) - 1} more in the log" if beside else ""
    way = (*rows_of("Done so far:", canvas.width, "faint"), *paragraphs(lines, canvas.width, "faint", "   "))
    all_of_it = (*(way if lines else ()), *paragraphs(beside, canvas.width, "faint", "   "))
    last = f"In the log: {len(beside) - 1} (key l)."
    if lines:
        last = f"Done so far, {len(lines)}{more} (key l). Last: {lines[-1]}"
    short = rows_of(last, canvas.width, "faint", "", MARGIN), one_row(last, canvas, "faint")
    return Part("so far", (all_of_it, *((way,) if lines and not beside else ()), *short, ()), apart=True)


def is_warned(walk: Walk) -> bool:
    """Whether new warnings stand before the step."""
    return walk.site.gate(walk.key) == Gate.WARNINGS
