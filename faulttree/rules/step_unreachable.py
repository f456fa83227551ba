"""No way leads to a step.

Meaning:
    Nobody who walks the tree on this model can come to this step. A check that stands in the fault table only needs no
    way to it.

Why:
    What is never reached is never done: either a way is missing, or the step is left over.

Wrong:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Clean: fit-cell, Film: fit-cell}
    wipe-contacts:               # nothing leads here
      fix: Wipe the contacts

Right:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Clean: fit-cell, Film: wipe-contacts}
    wipe-contacts:
      fix: Wipe the contacts
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Check
from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each step that is not reached; none where a circle or the start hides what is reached."""
    graph = context.graph
    if not graph.order or len(graph.order) == len(context.variant.steps):
        return
    reached = graph.reached
    for name, step in context.variant.steps.items():
        if name not in reached and not (isinstance(step, Check) and step.table_only):
            yield Hit(("steps", name, "~"), f'no way leads to the step "{name}"', "lead a way to it, or take it out")
