"""All findings of a check lead to one place.

Meaning:
    Whatever is found, the next step is the same, and no finding opens or closes an item.

Why:
    The answer changes nothing, so the check costs time and decides nothing. If the look is for the record, make it a
    line of `do` in the step that follows.

Wrong:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Clean: fit-cell, Film: fit-cell}

Right:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Clean: fit-cell, Film: wipe-contacts}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Check
from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each check whose findings all lead directly to the same step."""
    for step in context.checks:
        first = step.findings[0].goto if step.findings else ""
        if first and len(step.findings) > 1 and _all_alike(step, first) and not _from_base(context, step):
            path = ("steps", step.id, "findings", "~")
            message = f'all findings of the check "{step.id}" lead to "{first}"'
            yield Hit(path, message, "lead one of them elsewhere, or take the check out")


def _all_alike(step: Check, first: str) -> bool:
    return all(each.goto == first and not each.opens and not each.closes for each in step.findings)


def _from_base(context: Context, step: Check) -> bool:
    """Whether the step repeats another with the same ways; it is reported there."""
    base = context.variant.steps.get(step.base)
    return base is not step and isinstance(base, Check) and base.findings == step.findings
