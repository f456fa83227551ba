"""The aircraft is wanted now: what is open, in one look. It never says that the aircraft may go."""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.present.blocks import Block, open_lines
from faulttree.present.ends import CORRECTED
from faulttree.present.over import how_over
from faulttree.walk import Walk

NOT_AVAILABLE = "NOT AVAILABLE."


def wanted_blocks(walk: Walk) -> Iterator[Block]:
    """What stands against using it now, and who decides."""
    yield Block("title", (NOT_AVAILABLE,))
    yield Block("text", (_how_far(walk),))
    yield Block("open", open_lines(walk) or ("Nothing else is recorded as open.",))
    yield Block(
        "text",
        ("Whether it may be used is decided by an authorised person and approved data, not by this program.",),
    )


def _how_far(walk: Walk) -> str:
    if walk.passed:
        return CORRECTED
    if walk.ended:
        return "The walk has ended without a corrective action that was confirmed."
    if walk.given_up:
        return f"The walk {how_over(walk)} before its end: the fault is not confirmed as corrected."
    return "The walk is not at its end: the fault is not confirmed as corrected."
