"""The entry draft and the work done on the end page, in full and shorter; each form says what it leaves out."""

from __future__ import annotations

from collections.abc import Sequence

from faulttree.tui.canvas import Canvas
from faulttree.tui.fit import Form
from faulttree.tui.forms import USUAL_WIDTH, one_row
from faulttree.tui.rows import paragraphs

LIMIT = "LIMIT: "
OF_A_READING = " Limit: "
BESIDE = (LIMIT, "PARTS: ", "WAIT of ", "SECOND INSPECTION ", "REF: ", "FAILED: ")
"""Heads of the lines that stand beside the work."""

CHIEF = ("FOUND: ", "DID", "NOT DONE", "PROVED: ")
NO_LIMITS = "The limits: key e."
NOTHING_BESIDE = "Limits, parts, waits, inspections and documents of the work: key e."


def draft_forms(lines: Sequence[str], canvas: Canvas) -> tuple[Form, ...]:
    """In full; without limits; without all that stands beside the work; a row each; how many lines there are.

    A narrow page is moved anyway, so that nothing is left out of it.
    """
    full = paragraphs(lines, canvas.width)
    if canvas.width < USUAL_WIDTH:
        return (full,)
    bare = [line.partition(OF_A_READING)[0] for line in lines if not line.startswith(LIMIT)]
    work = [line for line in bare if not line.startswith(BESIDE)]
    rows = [row for line in work if line.startswith(CHIEF) for row in one_row(line, canvas)]
    shorter = (
        paragraphs((*bare, NO_LIMITS), canvas.width),
        paragraphs((*work, NOTHING_BESIDE), canvas.width),
        (*paragraphs(lines[:1], canvas.width), *rows, *one_row(f"{len(lines)} lines in full: key e.", canvas)),
        one_row(f"{lines[0].rstrip(':')}: {len(lines)} lines, key e.", canvas),
    )
    return (full, *(form for form in shorter if len(form) < len(full)))
