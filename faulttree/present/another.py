"""The tree that an ended walk leads on to: by its symptom, which whoever shows the walk looks up in the library."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from faulttree.model import End, Fix
from faulttree.present.blocks import Block
from faulttree.walk import Walk


class Another(NamedTuple):
    """The symptom of the tree that a walk leads on to, and how that is begun, each empty where it is not known."""

    symptom: str = ""
    how: str = ""


def other_tree(walk: Walk) -> str:
    """The id of the tree that the walk leads on to, once it has ended; empty where it leads nowhere."""
    if not walk.ended:
        return ""
    step = walk.step
    return step.then if isinstance(step, Fix) else step.tree if isinstance(step, End) else ""


def another_blocks(walk: Walk, another: Another) -> Iterator[Block]:
    """Which tree comes next, and how it is begun."""
    tree = other_tree(walk)
    if tree:
        named = f": {another.symptom} (tree {tree})" if another.symptom else f" the tree {tree}"
        how = (another.how,) if another.symptom and another.how else ()
        yield Block("another", (f"{'Then walk' if isinstance(walk.step, Fix) else 'Walk'}{named}.", *how))
