"""What work needs, in forms: parts and what has to cure, tools and documents, and the list of the start page.

The shortest form of each says how many there are and the key that shows them: nothing is left out without a mark.
"""

from __future__ import annotations

from collections.abc import Sequence

from faulttree.model import Check, Fix
from faulttree.present.after import duration_words
from faulttree.present.blocks import one_or_more
from faulttree.present.start import list_is_shown, needed_line, people_line, people_needed, things_needed
from faulttree.tui.canvas import Canvas
from faulttree.tui.fit import Form
from faulttree.tui.forms import MARGIN, one_row
from faulttree.tui.rows import cropped, paragraphs, rows_of
from faulttree.walk import Walk

PARTS, USES = "Parts:", "Uses:"
SHOWN_BY = "(key e)"


def parts_forms(walk: Walk, lines: Sequence[str], canvas: Canvas) -> tuple[Form, ...]:
    """Parts and consumables in full; those that cure alone by name; part numbers and times, or the longest; how many.

    A check, which has no parts and cures nothing that is used afterwards, can do without.
    """
    lines = [line for line in lines if line.startswith((PARTS, USES))]
    step = walk.step
    if not lines or not isinstance(step, Check | Fix):
        return ((),)
    parts = [line for line in lines if line.startswith(PARTS)]
    curing = _curing(walk, step)
    numbers = _numbers(step) if parts else ""
    uses, count = _counted(walk, step), f"{PARTS} {len(step.parts)}." if isinstance(step, Fix) and parts else ""
    counted = one_row(_joined(count, uses or SHOWN_BY), canvas)
    return (
        paragraphs(lines, canvas.width),
        paragraphs([*parts, *([curing] if curing else [])], canvas.width),
        rows_of(_joined(numbers, curing), canvas.width, "plain", "", MARGIN),
        rows_of(_joined(numbers, uses), canvas.width, "plain", "", MARGIN),
        counted,
        () if isinstance(step, Check) else counted,
    )


def _numbers(step: Check | Fix) -> str:
    parts = step.parts.items() if isinstance(step, Fix) else ()
    return f"{PARTS} {', '.join(f'{name} ({count})' for name, count in parts)}."


def _curing(walk: Walk, step: Check | Fix) -> str:
    """The consumables that take time before use, each with it; of the others how many there are."""
    uses = [walk.library.consumables[name] for name in step.consumables]
    named = [f"{each.text} ({duration_words(each.service)} before use)" for each in uses if each.service]
    more = len(uses) - len(named)
    named += [f"{more}{' more' if named else ''} {SHOWN_BY}"] if more else []
    return f"{USES} {', '.join(named)}." if named else ""


def _counted(walk: Walk, step: Check | Fix) -> str:
    """How many consumables, and the longest time before use."""
    longest = max((walk.library.consumables[name].service for name in step.consumables), default=0)
    cures = f", up to {duration_words(longest)} before use" if longest else ""
    return f"{USES} {len(step.consumables)}{cures} {SHOWN_BY}" if step.consumables else ""


def _joined(*texts: str) -> str:
    return " ".join(text for text in texts if text)


def aids_forms(lines: Sequence[str], canvas: Canvas) -> tuple[Form, ...]:
    """Tools, documents and what else helps: all, in one paragraph, fewer and fewer rows of it, or none."""
    if not lines:
        return ((),)
    together = rows_of(" ".join(lines), canvas.width, "plain", "", MARGIN)
    cut = (_cut(" ".join(lines), rows, canvas) for rows in range(len(together) - 1, 0, -1))
    return (paragraphs(lines, canvas.width), together, *cut, ())


def _cut(text: str, rows: int, canvas: Canvas) -> Form:
    """The first rows of the text; the last of them says by which key the rest is shown."""
    shown = rows_of(text, canvas.width, "plain", "", MARGIN)
    rest = " ".join(row.text.strip() for row in shown[rows - 1 :])
    margin = MARGIN if rows > 1 else ""
    mark = f" {SHOWN_BY}"
    last = f"{margin}{cropped(rest, max(canvas.width - len(margin) - len(mark), 1))}{mark}"
    return (*shown[: rows - 1], *one_row(last, canvas))


def list_forms(walk: Walk, canvas: Canvas) -> tuple[Form, ...]:
    """People, tools, parts, consumables and documents: all; fewer sorts in full, the others in a row; else how many."""
    if not list_is_shown(walk):
        return ((),)
    people, needed = rows_of(people_line(walk), canvas.width, "plain", "", MARGIN), things_needed(walk)
    full = [rows_of(needed_line(each), canvas.width, "plain", "", MARGIN) for each in needed]
    short = [
        one_row(f"{each.title}, {len(each.names)} {SHOWN_BY}: {'; '.join(each.names)}.", canvas) for each in needed
    ]
    counts = [f"{each.title.lower()} {len(each.names)}" for each in needed]

    def form(in_full: int, in_a_row: int) -> Form:
        rows = [*full[:in_full], *short[in_full:in_a_row]]
        rest = f"{', '.join(counts[in_a_row:]).capitalize()} {SHOWN_BY}."
        counted = rows_of(rest, canvas.width, "plain", "", MARGIN) if counts[in_a_row:] else ()
        return (*people, *(row for each in rows for row in each), *counted)

    many = len(needed)
    return (
        *(form(in_full, many) for in_full in range(many, -1, -1)),
        *(form(0, in_a_row) for in_a_row in range(many - 1, -1, -1)),
        rows_of(_summary(walk, counts), canvas.width, "plain", "", MARGIN),
    )


def _summary(walk: Walk, counts: Sequence[str]) -> str:
    people, roles = people_needed(walk)
    who = f"{one_or_more(people, 'person', 'people')} ({', '.join(roles)})"
    return f"May be needed: {', '.join([who, *counts])} {SHOWN_BY}."
