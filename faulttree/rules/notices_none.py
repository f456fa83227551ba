"""A step says by a key that somebody can be hurt, and has no warning or caution at all.

Meaning:
    A step has a `lift` or, in a library with an occupant, a step or an operational check is `occupied: allowed`, and
    neither it nor its accesses have a warning or a caution. Whether those that there are speak of it is the question of
    notice-missing.

Why:
    That there is a hazard is not guessed here, the file says it. Who lifts, or works beside a patient, is told what can
    happen and how it is avoided before the step, and the walk waits until it is acknowledged.

Wrong:
    turn-cot:
      fix: Turn the cot on its side
      lift: {mass: 42, people: 2}

Right:
    turn-cot:
      fix: Turn the cot on its side
      lift: {mass: 42, people: 2}
      notices: [heavy-lift]
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.notice_missing import is_warned, of_lift, of_occupant

LACK = "and has no warning or caution"


def check(context: Context) -> Iterator[Hit]:
    """One hit for each key."""
    library = context.library
    for step in context.own_work:
        if (step.lift or step.occupied) and not is_warned(library, step.notices):
            path = ("steps", step.id)
            if step.occupied and library.occupant:
                yield from of_occupant(library, (), step.id, path, LACK)
            if step.lift:
                yield from of_lift(library, (), step.id, path, LACK)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each operational check."""
    library = shared.library
    for proof in library.operational_checks.values():
        if proof.occupied and library.occupant and not is_warned(library, proof.notices):
            path = ("operational_checks", proof.id)
            yield from of_occupant(library, (), proof.id, path, LACK)
