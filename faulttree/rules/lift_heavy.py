"""A lift is too heavy, or has nobody to share it.

Meaning:
    A `lift` is more than 23 kg for each of its people, or the notices of a step speak of lifting and the step, with its
    accesses, asks for one person only. 23 kg is the load constant of the revised NIOSH lifting equation: what may be
    lifted where everything else is at its best, and never the limit of a lift under an aircraft, which is lower.

Why:
    The back that is hurt is that of the person who did what the page said.

Wrong:
    lay-on-side:
      check: How deep is the flat?
      lift: {mass: 47, people: 2}        # 23.5 kg each

Right:
    lay-on-side:
      check: How deep is the flat?
      do: Take the mattress off. Lay the cot on its side.
      lift: {mass: 42, people: 2}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Work
from faulttree.rules.context import Context, Hit
from faulttree.rules.hazard_words import LIFTING
from faulttree.rules.sentences import first_word

LOAD_CONSTANT = 23.0
"""Kilograms: Applications Manual for the Revised NIOSH Lifting Equation, publication 94-110."""


def check(context: Context) -> Iterator[Hit]:
    """At most one hit for each step."""
    lifting = None
    for step in context.own_work:
        if step.lift:
            yield from _too_heavy(step)
        elif step.notices and step.people == 1:
            lifting = _lifting(context) if lifting is None else lifting
            if named := next((name for name in step.notices if name in lifting), ""):
                message = f'"{step.id}" warns of a lift by "{named}" and asks for one person'
                yield Hit(("steps", step.id, "~"), message, "say how many by `people` or by `lift`, or lift nothing")


def _too_heavy(step: Work) -> Iterator[Hit]:
    lift = step.lift
    if lift and lift.mass > LOAD_CONSTANT * lift.people:
        each = lift.mass / lift.people
        share = f"{each:.1f} kg for each of {lift.people} people" if lift.people > 1 else f"{each:g} kg for one person"
        message = f'the lift of "{step.id}" is {share}, more than {LOAD_CONSTANT:g} kg'
        yield Hit(("steps", step.id, "lift", "~"), message, "lift with more people or with a hoist, or take weight off")


def _lifting(context: Context) -> frozenset[str]:
    """The warnings of lifting."""
    every = context.library.notices.values()
    return frozenset(notice.id for notice in every if notice.signal == "warning" and first_word(notice.hazard, LIFTING))
