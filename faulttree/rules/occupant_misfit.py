"""A step is allowed with an occupant in a library that knows none.

Meaning:
    A step has `occupied: allowed`, but library.yaml has no `occupant`.

Why:
    The key does nothing here: nobody is asked whether there is an occupant. Whoever wrote it expected that somebody
    would be asked.

Wrong:
    # library.yaml has no occupant
    lamp-lights:
      check: Does the lamp light?
      who: crew
      occupied: allowed

Right:
    # library.yaml
    occupant: {ask: Is a patient on the cot?, off: Patient off the cot, first: Patient first.}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each step."""
    if context.library.occupant is None:
        for step in context.own_work:
            if step.occupied:
                message = f'"{step.id}" is allowed with an occupant, and the library knows none'
                advice = "take it out, or add `occupant` to library.yaml"
                yield Hit(("steps", step.id, "occupied", "~"), message, advice)
