"""The blanks of a walk's end that the record does not fill: how many are left, and how a person fills them in.

Each is a note of the journal that says which blank it fills. None has to be filled in.
"""

from __future__ import annotations

from typing import NamedTuple

from faulttree.model import End, Fix
from faulttree.present.blanks import HERE, Blank, Text, blanks_of, filled, seen_on_the_way
from faulttree.present.blocks import Block, one_or_more, sentence
from faulttree.present.draft import draft_texts
from faulttree.walk import Walk

FILL_IN = "fill in"
"""The word of line mode for filling them in."""

SKIP = "-"
"""What leaves a blank as it is where an empty line cannot be typed, in a file of answers."""


class Asked(NamedTuple):
    """A blank as it is asked for: its sentence, the question, and the blank itself."""

    sentence: str
    question: str
    blank: Blank


def report_line(walk: Walk) -> tuple[str, ...]:
    """The report of the end, or of the tree; none where neither has one."""
    return tuple(f"REPORT: {filled(walk, text)}" for text in report_texts(walk))


def report_texts(walk: Walk) -> tuple[Text, ...]:
    """The text of that report, which readings and findings of the way may fill."""
    own = walk.step.report if isinstance(walk.step, End) else ""
    report = own or walk.tree.report
    return (Text(sentence(report), "report", tuple(seen_on_the_way(walk))),) if report else ()


def blanks_left(walk: Walk) -> tuple[Blank, ...]:
    """The blanks of an ended walk that the record does not fill, with what was filled in by hand, in order."""
    if not walk.ended:
        return ()
    texts = draft_texts(walk) if isinstance(walk.step, Fix) else (*draft_texts(walk), *report_texts(walk))
    return tuple(blank for text in texts for blank in blanks_of(walk, text))


def blanks_block(walk: Walk) -> Block:
    """How many blanks are left; empty where none is."""
    count = sum(not blank.value for blank in blanks_left(walk))
    lines = (f"INCOMPLETE: {one_or_more(count, 'blank is', 'blanks are')} left.",) if count else ()
    return Block("blanks", lines)


def asked_for(walk: Walk) -> tuple[Asked, ...]:
    """Each blank as a question; one that was filled in says what it holds."""
    blanks = blanks_left(walk)
    return tuple(
        Asked(filled(walk, blank.text, blank.at), _question(blank, f"{at} of {len(blanks)}"), blank)
        for at, blank in enumerate(blanks, 1)
    )


def _question(blank: Blank, which: str) -> str:
    options = ", ".join(f"{number} {option}" for number, option in enumerate(blank.options, 1))
    chosen = f": {options}" if options else ""
    now = f"; now: {blank.value}" if blank.value else ""
    return f"{which}. What stands in {HERE}{chosen} (no patient data{now})"
