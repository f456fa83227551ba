"""What is still possible, in words; where nothing is, which answer to look at again first. Not for the first role."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from faulttree.keys import Kind
from faulttree.possible import misread, possible
from faulttree.present.blocks import Block, sees_figures
from faulttree.present.progress import visit_words
from faulttree.walk import Walk

NOTHING_LEFT = "No listed cause fits all that was found."
NO_SINGLE = "Two or more answers do not fit together, or the fault is none that is listed here."


class Again(NamedTuple):
    """The answer to look at again first: its step, and its line in what was done so far."""

    step: str
    line: int


def remaining_blocks(walk: Walk) -> Iterator[Block]:
    """After a finding of the person's own: the causes that are left, in the tree's order; or what to look at again."""
    if not _is_told(walk):
        return
    causes = walk.site.variant.causes
    left = [causes[name].text for name in possible(walk)]
    if left:
        yield Block("possible", (f"Still possible, {len(left)} of {len(causes)}: {'; '.join(left)}.",))
    elif causes:
        yield Block("possible", (f"{NOTHING_LEFT} {_where_to_look(walk)}",))
        again = look_again(walk)
        yield Block("again", (f"To look there again, type: back {again.line}",) if again else ())


def look_again(walk: Walk) -> Again | None:
    """The answer to look at again first, where that is told here; None where it is not, or none explains it alone."""
    found = misread(walk) if _is_told(walk) else None
    if found is None:
        return None
    return Again(walk.way[found.at].step, sum(bool(visit_words(walk, visit)) for visit in walk.way[: found.at + 1]))


def _is_told(walk: Walk) -> bool:
    own = any(line.role == walk.key.role and line.move.kind in (Kind.FINDING, Kind.READING) for line in walk.log)
    return sees_figures(walk) and own


def _where_to_look(walk: Walk) -> str:
    found, again = misread(walk), look_again(walk)
    if found is None or again is None:
        return NO_SINGLE
    count = len(walk.site.variant.causes)
    answered = visit_words(walk, walk.way[found.at])
    left = f"{len(found.left)} of {count} {'is' if len(found.left) == 1 else 'are'} possible"
    return f"Look again first at line {again.line}: {answered} Without it {left}."
