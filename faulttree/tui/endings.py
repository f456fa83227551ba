"""Pages at a walk's turning points: the last look, the hand-over, the end; and the page as text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from faulttree.present import Block, done_so_far, hand_over_page, screen
from faulttree.present.after import after_blocks, due_block, tag_lines
from faulttree.present.another import Another
from faulttree.present.blocks import one_or_more, status_block, status_line
from faulttree.present.draft import work_done
from faulttree.present.ends import CORRECTED, UNKNOWN, end_blocks, ending
from faulttree.present.progress import set_aside
from faulttree.present.resting import resting, resting_blocks
from faulttree.present.wanted import wanted_blocks
from faulttree.problems import UnreadableError
from faulttree.readback import encode
from faulttree.sessions import Times, file_named
from faulttree.tui.canvas import Canvas
from faulttree.tui.drafts import draft_forms
from faulttree.tui.fit import Part, fitted
from faulttree.tui.forms import block_rows
from faulttree.tui.keyed import FILL_IN, GO_ON
from faulttree.tui.page import blocks_page, head_parts, so_far_part
from faulttree.tui.rows import Row, paragraphs, rows_of
from faulttree.visible import visible
from faulttree.walk import HANDED_OVER, Walk


def last_look(walk: Walk, canvas: Canvas, told: Sequence[str]) -> tuple[Row, ...]:
    """What the first work, or an end without work, rests on, and the one look that alone decides, offered again."""
    found = resting(walk)
    parts = [Part("told", (paragraphs(told, canvas.width, "strong"),)), *head_parts(walk, canvas)]
    for at, block in enumerate(resting_blocks(walk, found) if found else ()):
        rows = block_rows(block, canvas)
        parts.append(Part("possible", (rows, ()), True) if block.kind == "possible" else Part(f"{at}", (rows,), True))
    answers = rows_of("it was read right: go on", canvas.width, "plain", "Enter  ", "       ", "enter", "key")
    if found and found.alone:
        answers += rows_of("look again", canvas.width, "plain", "g      ", "       ", "g", "key")
    return fitted([*parts, Part("answers", (answers,), True)], canvas.height)


def hand_over(walk: Walk, canvas: Canvas, times: Times, told: Sequence[str]) -> tuple[Row, ...]:
    """The page for whoever comes next."""
    return blocks_page((*hand_over_page(walk, canvas.practice), due_block(walk, times)), canvas, told)


def end(walk: Walk, canvas: Canvas, times: Times, told: Sequence[str], another: Another = UNKNOWN) -> tuple[Row, ...]:
    """How the walk has ended; what was done so far gives way where there is no room."""
    parts = [Part("told", (paragraphs(told, canvas.width, "strong"),)), *head_parts(walk, canvas)]
    for at, block in enumerate((*ending(walk, canvas.practice, another), *after_blocks(walk, times))):
        if block.lines and block.kind != "open":
            parts.append(_end_part(walk, block, at, canvas))
        if block.kind == "blanks" and block.lines:
            fill = rows_of("fill them in", canvas.width, "plain", f"{FILL_IN}  ", "   ", FILL_IN, "key")
            parts.append(Part("fill in", (fill,)))
        if block.kind == "another" and another.symptom:
            go_on = rows_of("go on with it", canvas.width, "plain", f"{GO_ON}  ", "   ", GO_ON, "key")
            parts.append(Part("go on", (go_on,)))
    aside = block_rows(set_aside(walk), canvas)
    parts += [so_far_part(walk, canvas, aside=False), Part("aside", (aside, ()), apart=True)]
    return fitted(parts, canvas.height)


def _end_part(walk: Walk, block: Block, at: int, canvas: Canvas) -> Part:
    """A block of the end; the code, recurring looks, times and tags have shorter forms. What is open the head says."""
    full = block_rows(block, canvas)
    if block.kind == "code":
        return Part(
            "code", (full, rows_of(f"Read-back code: {encode(walk)} (key k, large)", canvas.width, "strong")), True
        )
    if block.kind == "draft":
        return Part("draft", draft_forms(block.lines, canvas), True)
    if block.kind == "watch":
        names = ", ".join(line.removeprefix("Watched by ").partition(":")[0] for line in block.lines)
        short = rows_of(f"Watched by {names} (key e).", canvas.width, "plain", "", "  ")
        count = rows_of(f"Watched by {one_or_more(len(block.lines), 'recurring look')} (key e).", canvas.width)
        return Part("watch", (full, short, count, ()), True)
    if block.kind == "order":
        titles = "; ".join(line.partition(":")[0] for line in block.lines)
        return Part("order", (full, rows_of(f"Parts: {titles} (key e).", canvas.width)), True)
    if block.kind == "due":
        # They come soonest first: before the last of them nothing is used.
        sooner = len(block.lines) - 1
        last = f"{block.lines[-1]}{f' {sooner} before that (key e).' if sooner else ''}"
        return Part("times", (full, paragraphs([last], canvas.width)), True)
    if block.kind == "tag":
        return Part("tags", (full, ()), True)
    return Part(f"end {at}", (full,), True)


def wanted(walk: Walk, times: Times) -> Iterable[Block]:
    """What stands against using the aircraft now, what has to be waited for, and the tags."""
    yield from wanted_blocks(walk)
    yield due_block(walk, times)
    yield Block("text", tuple(tag_lines(walk)))


def over(walk: Walk, practice: bool, times: Times, another: Another = UNKNOWN) -> Iterator[Block]:
    """A walk that is over, as it is shown later: what stands against using it, then its end.

    Nothing stands on it twice: what is open says what its tags say.
    """
    yield from (block for block in wanted_blocks(walk) if block.lines != (CORRECTED,))
    yield Block("status", (status_line(walk, practice),))
    end = end_blocks(walk, practice, times, another) if walk.ended else _given_up(walk, times)
    yield from (block for block in end if block.kind != "tag")


def _given_up(walk: Walk, times: Times) -> Iterator[Block]:
    yield Block("draft", work_done(walk))
    yield from after_blocks(walk, times)
    yield from _done_blocks(walk)


def _done_blocks(walk: Walk) -> Iterator[Block]:
    yield Block("title", ("Done so far",))
    yield done_so_far(walk)
    yield set_aside(walk)


# -- as text


def as_text(walk: Walk, practice: bool, times: Times, another: Another = UNKNOWN) -> str:
    """The page of now in full, as text to be kept or sent; at the end with all that comes after it."""
    lines: list[str] = []
    for block in as_blocks(walk, practice, times, another):
        lines += [*map(visible, block.lines), ""] if block.lines else []
    return "\n".join(lines)


def as_blocks(walk: Walk, practice: bool, times: Times, another: Another = UNKNOWN) -> Iterator[Block]:
    """The page of now in full, as blocks."""
    if walk.state == HANDED_OVER:
        yield from hand_over_page(walk, practice)
        yield due_block(walk, times)
        return
    # Nothing is asked any more of a walk that was given up.
    yield from (status_block(walk, practice),) if walk.given_up else screen(walk, practice, times, another)
    if not walk.ended:
        yield from _done_blocks(walk)


def save_text(path: str, text: str) -> Path:
    """Write the text as a new file; raises UnreadableError where that is not possible or the file is there."""
    target = file_named(path)
    try:
        with target.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        raise UnreadableError(f'"{path}" is there already', "choose another name") from None
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", "") or "the name cannot be used").lower()
        raise UnreadableError(f'"{path}" cannot be written: {reason}', "choose another name or folder") from None
    return target.resolve()
