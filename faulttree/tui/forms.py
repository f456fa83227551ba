"""The parts of a page in their forms, from the fullest to the shortest that may stand where there is no room."""

from __future__ import annotations

from collections.abc import Sequence

from faulttree.cells import cells
from faulttree.model import Notice, OpenItem
from faulttree.present import Block
from faulttree.present.blocks import one_or_more, open_items, open_lines, sentence, short_words, status_line
from faulttree.present.remaining import NOTHING_LEFT
from faulttree.present.step import TYPE_READING
from faulttree.tui.canvas import Canvas
from faulttree.tui.fit import Form
from faulttree.tui.looks import Look
from faulttree.tui.rows import Row, cropped, cropped_at_a_word, paragraphs, rows_of
from faulttree.walk import Walk

MARGIN = "  "

LIMIT = "Limit, "
"""How the line of a limit begins."""

USUAL_WIDTH = 80
"""Columns of a usual terminal, on which every page fits."""

SYMPTOM = 12
"""Cells of the symptom that tell it from others at the least."""


def one_row(text: str, canvas: Canvas, look: Look = "plain") -> Form:
    """The text in one row, cropped."""
    return (Row(((cropped(text, canvas.width), look),)),)


def block_rows(block: Block, canvas: Canvas) -> Form:
    """A block as rows; the signal word of a notice stands out."""
    rows: list[Row] = []
    for at, line in enumerate(block.lines):
        if block.kind in ("warning", "caution", "note") and at == 0:
            word, _, text = line.partition(":")
            look: Look = "warning" if block.kind == "warning" else "caution" if block.kind == "caution" else "note"
            rows += rows_of(text, canvas.width, "strong", f"{canvas.looks.sign(block.kind)}{word}: ", MARGIN, mark=look)
        else:
            look = "strong" if block.kind in ("title", "gate", "question", "open", "first", "code") else "plain"
            look = "status" if block.kind == "status" else look
            rows += rows_of(line, canvas.width, look, MARGIN if block.kind in ("warning", "caution") else "", MARGIN)
    return tuple(rows)


def status_forms(walk: Walk, canvas: Canvas) -> tuple[Form, ...]:
    """What walk it is and how it stands: in full; else of the symptom as much as there is room for, in few rows."""
    symptom = sentence(walk.tree.symptom)
    worth, who = short_words(walk, canvas.practice)
    full = rows_of(status_line(walk, canvas.practice), canvas.width, "status", "", MARGIN)
    return full, _short_status(symptom, worth, who, canvas)


def _short_status(symptom: str, worth: str, who: str, canvas: Canvas) -> Form:
    least = min(cells(symptom), SYMPTOM)
    for beside, below in ((f"{worth} {who}".strip(), ""), (worth, who)):
        room = canvas.width - cells(beside) - 1
        if room >= least:
            first = f"{cropped_at_a_word(symptom, room)} {beside}"
            return (*one_row(first, canvas, "status"), *paragraphs([below] if below else [], canvas.width, "status"))
    rest = rows_of(f"{worth} {who}".strip(), canvas.width, "status", "", MARGIN)
    return (*one_row(cropped_at_a_word(symptom, canvas.width), canvas, "status"), *rest)


def about_form(walk: Walk, canvas: Canvas, name: str = "") -> Form:
    """Which walk a page beside it is about: its name, where it has one, the symptom and what the tree is worth.

    Not who walks nor who is on it: that may be what the page asks.
    """
    symptom = f"{name}: {sentence(walk.tree.symptom)}" if name else sentence(walk.tree.symptom)
    return _short_status(symptom, short_words(walk, canvas.practice)[0], "", canvas)


def open_forms(walk: Walk, canvas: Canvas) -> tuple[Form, ...]:
    """What is open: a line each; else of hazards a line and of the rest the names; else all names; in one row.

    A hazard stands first and by its signal word, so that it is the last to be cut off.
    """
    lines = open_lines(walk)
    if not lines:
        return ((),)
    hazards = [item for item in open_items(walk) if item.kind == "hazard"]
    rest = _names([item for item in open_items(walk) if item.kind != "hazard"])
    named = f"HAZARD {_names(hazards)}" if hazards else ""
    short = f"OPEN, {len(lines)}: {'; '.join(text for text in (named, rest) if text)}."
    says = [line for line, item in zip(lines, open_items(walk), strict=True) if item.kind == "hazard"]
    first = [*says, f"OPEN besides: {rest}."] if says and rest else says or [short]
    return (
        paragraphs(lines, canvas.width, "strong"),
        paragraphs(first, canvas.width, "strong"),
        rows_of(short, canvas.width, "strong", "", "  "),
        one_row(short, canvas, "strong"),
    )


def _names(items: Sequence[OpenItem]) -> str:
    return ", ".join(item.id.replace("-", " ") for item in items)


def how_form(lines: Sequence[str], canvas: Canvas) -> Form:
    """Lines that are done, each with a dash; those with a number have that."""
    # A number before a line would look like the digit of an answer.
    plain = [line.partition(". ")[2] if line.partition(". ")[0].isdigit() else line for line in lines]
    return tuple(row for line in plain for row in rows_of(line, canvas.width, "plain", "- ", MARGIN))


def known_forms(walk: Walk, canvas: Canvas) -> tuple[Form, ...]:
    """Notices that were read, in full; a row each; fewer so, the last ones by their names; all by names; how many."""
    if walk.site.gate(walk.key) is not None or walk.ended:
        return ((),)
    needs = walk.site.needs(walk.key)
    known = [notice for notice in walk.site.notices(needs.notices) if notice.needs_acknowledging]
    if not known:
        return ((),)
    rows = [row for notice in known for row in _read_row(notice, canvas)]
    full = tuple(row for notice in known for row in _read_before(notice, canvas))
    if canvas.width < USUAL_WIDTH:
        # Narrow pages are moved anyway, and rather once more than that a warning is but counted.
        return full, tuple(rows)
    return (
        full,
        tuple(rows),
        *((*rows[:count], *_named(known[count:], canvas)) for count in range(len(known) - 1, -1, -1)),
        one_row(f"Read before: {one_or_more(len(known), 'notice')}, key e.", canvas, "strong"),
    )


def _named(notices: Sequence[Notice], canvas: Canvas) -> Form:
    named = "; ".join(f"{notice.signal.upper()} {notice.id.replace('-', ' ')}" for notice in notices)
    return rows_of(f"Read before: {named}.", canvas.width, "strong", "", MARGIN)


def _read_before(notice: Notice, canvas: Canvas) -> Form:
    word = f"{canvas.looks.sign(notice.signal)}{notice.signal.upper()}, read before: "
    return rows_of(f"{sentence(notice.hazard)}", canvas.width, "plain", word, MARGIN, mark=notice.signal)


def _read_row(notice: Notice, canvas: Canvas) -> Form:
    """A notice that was read in one row: the signal word, and of the hazard what there is room for."""
    word = f"{canvas.looks.sign(notice.signal)}{notice.signal.upper()}, read: "
    hazard = cropped_at_a_word(sentence(notice.hazard), canvas.width - cells(word))
    return (Row(((word, notice.signal), (hazard, "plain"))),)


def note_forms(blocks: Sequence[Block], canvas: Canvas) -> tuple[Form, ...]:
    """Notes in full; else their first lines, one row each."""
    notes = [block for block in blocks if block.kind == "note"]
    if not notes:
        return ((),)
    full = tuple(row for block in notes for row in block_rows(block, canvas))
    return full, tuple(
        row for block in notes for row in one_row(f"{cropped(block.lines[0], canvas.width - 8)} (key e)", canvas)
    )


def measure_forms(lines: Sequence[str], canvas: Canvas) -> tuple[Form, ...]:
    """What is measured, and what it is new or set to; else in one paragraph."""
    lines = [line for line in lines if not line.startswith(TYPE_READING)]
    if not lines:
        return ((),)
    return paragraphs(lines, canvas.width), rows_of(" ".join(lines), canvas.width, "plain", "", MARGIN)


def needs_forms(lines: Sequence[str], canvas: Canvas) -> tuple[Form, ...]:
    """Torques, lifts and limits; of the limits at the least what they are set to, where that is given."""
    if not lines:
        return ((),)
    return paragraphs(lines, canvas.width), paragraphs(map(_setting, lines), canvas.width)


def _setting(line: str) -> str:
    """A limit by what it is set to, and the key that shows its bands; other lines as they are."""
    name, found, setting = line.removeprefix(LIMIT).partition("New or set: ")
    return f"Limit (key e), {name.partition(':')[0]}: set {setting}" if found and line.startswith(LIMIT) else line


def possible_forms(lines: Sequence[str], canvas: Canvas) -> tuple[Form, ...]:
    """What is still possible: in full, how much of it there is room for in a row, or none.

    That nothing is, and where to look again, keeps a row at the least.
    """
    if not lines:
        return ((),)
    if "".join(lines).startswith(NOTHING_LEFT):
        said = lines[0].partition(": ")[0]
        return paragraphs(lines, canvas.width), one_row(f"{cropped(said, canvas.width - 8)} (key e)", canvas)
    together = " ".join(lines)
    short = one_row(f"{cropped(together, canvas.width - 8)} (key e)", canvas)
    return rows_of(together, canvas.width, "plain", "", MARGIN), short, ()


def tick_forms(lines: Sequence[str], canvas: Canvas) -> tuple[Form, ...]:
    """The lines of work: all; without those done; then less and less of those to come. The next one never goes.

    How many are done goes last of all: what Enter says counts the lines too.
    """
    if not lines:
        return ((),)
    done = [line for line in lines if line.startswith("done: ")]
    coming = [line for line in lines if line.startswith("later: ")]
    following = [line for line in lines if line.startswith("NEXT: ")]

    def form(count: int, counted: bool = True) -> Form:
        hidden = len(coming) - count
        more = [f"later: {hidden} more, key e"] if hidden else []
        past = [f"done: {len(done)} of {len(lines)}"] if done and counted else []
        return (
            *paragraphs(past, canvas.width, "faint"),
            *paragraphs(following, canvas.width, "strong"),
            *paragraphs(coming[:count], canvas.width, "plain"),
            *paragraphs(more, canvas.width, "faint"),
        )

    everything = tuple(
        row for line in lines for row in paragraphs([line], canvas.width, "strong" if line in following else "plain")
    )
    return (everything, *(form(count) for count in range(len(coming), -1, -1)), form(0, counted=False))
