"""A step needs two accesses that exclude each other.

Meaning:
    Two accesses of the step have one place. Opening one closes the other, so the step can never have both.

Why:
    What the first access opened would count as closed although nobody closed it: a hazard would drop out of sight.

Wrong:
    clean-cam:
      fix: Clean the cam
      access: [cover-off, cover-propped]      # both have place: mount cover

Right:
    clean-cam:
      fix: Clean the cam
      access: [cover-off]
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Work
from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each second access of a place."""
    accesses = context.library.accesses
    for step in context.variant.steps.values():
        if not isinstance(step, Work) or len(step.accesses) < 2 or step.base != step.id:
            continue
        taken: dict[str, str] = {}
        for at, name in enumerate(step.accesses):
            place = accesses[name].place if name in accesses else ""
            if place and place in taken:
                message = f'"{name}" and "{taken[place]}" exclude each other: both have the place "{place}"'
                yield Hit(("steps", step.id, "access", at), message, "keep the one that the step is done in")
            taken.setdefault(place, name)
