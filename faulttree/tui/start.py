"""The start page on the screen: first actions and what must be so, with Enter for the first step."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from faulttree.cells import cells
from faulttree.keys import Gate
from faulttree.present import Block, start_page
from faulttree.present.blocks import occupant_may_be_on
from faulttree.tui.canvas import Canvas
from faulttree.tui.fit import Form, Part, fitted
from faulttree.tui.forms import block_rows, one_row
from faulttree.tui.keyed import ENTER
from faulttree.tui.needed import SHOWN_BY, list_forms
from faulttree.tui.page import head_parts, so_far_part, told_part
from faulttree.tui.rows import Row, cropped, cut, paragraphs, rows_of
from faulttree.walk import Walk


def start(walk: Walk, canvas: Canvas, told: Sequence[str] = ()) -> tuple[Row, ...]:
    """The start page in the rows of the screen."""
    blocks = list(start_page(walk, canvas.practice))
    urgency = [line for block in blocks if block.kind == "text" for line in block.lines[:1]][:1]
    go_on = rows_of(go_on_words(walk), canvas.width, "strong", "Enter  ", "       ", ENTER, "key")
    how_soon, actions = _joined(
        (paragraphs(urgency, canvas.width), *(_urgency(line, canvas) for line in urgency)),
        _action_forms(walk, blocks, canvas),
        canvas,
    )
    parts = [
        told_part(told, canvas),
        *head_parts(walk, canvas),
        Part("urgency", how_soon),
        Part("actions", actions),
        _before(blocks, canvas),
        Part("list", list_forms(walk, canvas)),
        Part("answers", (go_on,), apart=True),
        so_far_part(walk, canvas),
    ]
    return fitted(parts, canvas.height)


def _action_forms(walk: Walk, blocks: Iterable[Block], canvas: Canvas) -> tuple[Form, ...]:
    """What is done at once, with its notices in full where nobody is on it; else in short, which the title says."""
    full = _actions(blocks, canvas)
    short = _actions(_said_short(start_page(walk, canvas.practice, short=True)), canvas)
    return (full,) if full == _actions(start_page(walk, canvas.practice, short=True), canvas) else (full, short)


Forms = tuple[Form, ...]


def _joined(urgency: Forms, actions: Forms, canvas: Canvas) -> tuple[Forms, Forms]:
    """The same, but where the actions have one form, their title stands in the row of how soon: a row less to read."""
    if len(actions) > 1 or not actions[0]:
        return urgency, actions
    (title, *rest), (*fuller, last) = actions[0], urgency
    one = Row((*last[0].pieces, (" ", "plain"), *title.pieces)) if len(last) == 1 else title
    below = (one,) if len(last) == 1 and cells(one.text) <= canvas.width else (*last, title)
    return (*((*form, title) for form in fuller), below), (tuple(rest),)


def _said_short(blocks: Iterable[Block]) -> Iterator[Block]:
    for block in blocks:
        lines = tuple(f"{line.removesuffix(':')} (notices in full: key e):" for line in block.lines)
        yield block._replace(lines=lines) if block.kind == "title" else block


def _actions(blocks: Iterable[Block], canvas: Canvas) -> Form:
    """What is done at once, each with its notices; the first title is that of the page itself."""
    shown = [block for block in blocks if block.kind in ("title", "how", "warning", "caution", "note")][1:]
    return tuple(row for block in shown for row in block_rows(block, canvas))


def _urgency(line: str, canvas: Canvas) -> Form:
    """How soon it must be dealt with, in one row: its first sentences, which say the most."""
    if cells(line) <= canvas.width:
        return one_row(line, canvas)
    room = canvas.width - cells(f" {SHOWN_BY}")
    fits = next(cut(line, room))
    whole = line[: line.rfind(". ", 0, len(fits) + 1) + 1]
    return one_row(f"{whole or cropped(line, room)} {SHOWN_BY}", canvas)


def _before(blocks: Sequence[Block], canvas: Canvas) -> Part:
    before = [line for block in blocks if block.kind == "before" for line in block.lines]
    together = rows_of(" ".join(before), canvas.width, "plain", "", "  ") if before else ()
    return Part("before", (paragraphs(before, canvas.width), together), apart=True)


def go_on_words(walk: Walk) -> str:
    """What Enter says on the start page: where people are needed first, that they are here as well."""
    step = "first step" if len(walk.way) == 1 else "next step"
    if walk.site.gate(walk.key) == Gate.PEOPLE:
        people = walk.site.needs(walk.key).people
        more = " and one for whoever is on it" if occupant_may_be_on(walk) else ""
        return f"all this is so, {people} people{more} are here"
    return f"all this is so: to the {step}"
