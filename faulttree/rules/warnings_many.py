"""A step shows more than three warnings in full.

Meaning:
    Who comes to the step on one of its ways has more than three warnings to read there: those that are new, and those
    with `every_time`. Warnings of the steps before, and of the first actions, were read before and stand in one line.
    Somebody who takes over reads anew; that is not counted.

Why:
    A wall of warnings is acknowledged unread. Three are read.

Wrong:
    fit-springs:
      notices: [stored-spring-force, pinch-points, heavy-lift, adhesive-vapour]

Right:
    # two at the check before, where the cot is lifted, and two here
    fit-springs:
      notices: [stored-spring-force, pinch-points]
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Fix, Work
from faulttree.rules.advice import listed
from faulttree.rules.context import Context, Hit

MOST = 3


def check(context: Context) -> Iterator[Hit]:
    """One hit for each step, with the warnings that are new on some way."""
    notices = context.library.notices
    warnings = {name for name, notice in notices.items() if notice.signal == "warning"}
    steps = context.variant.steps
    full = {
        name: [each for each in step.notices if each in warnings]
        for name, step in steps.items()
        if isinstance(step, Work) and len(step.notices) > MOST
    }
    if any(len(each) > MOST for each in full.values()):
        read = _read_before(context, warnings)
        for name, shown in full.items():
            known = read.get(name, frozenset())
            new = [each for each in shown if each not in known or notices[each].every_time]
            step = steps[name]
            if name in read and len(new) > MOST and isinstance(step, Work) and step.base == name:
                message = f'"{name}" shows {len(new)} warnings in full: {listed(new)}'
                advice = "split the step, or let a step before it show what belongs there"
                yield Hit(("steps", name, "notices", "~"), message, advice)


def _read_before(context: Context, warnings: set[str]) -> dict[str, frozenset[str]]:
    """By step that is reached, the warnings that were read on every way to it."""
    steps, graph = context.variant.steps, context.graph
    at_once = frozenset(name for action in context.tree.first_actions for name in action.notices)
    read = {context.variant.start: at_once}
    for name in graph.order:
        step = steps[name]
        known = read[name]
        if isinstance(step, Work):
            known = known | (warnings & set(step.notices))
        for to in graph.successors[name]:
            after = known | _at_check(context, step, warnings) if _by_failed(step, to) else known
            read[to] = read[to] & after if to in read else after
    return read


def _by_failed(step: object, to: str) -> bool:
    """Whether a failed operational check, and nothing else, leads there."""
    if not isinstance(step, Fix) or step.failed is None or step.failed.to != to:
        return False
    return step.cannot is None or step.cannot.to != to


def _at_check(context: Context, step: object, warnings: set[str]) -> frozenset[str]:
    proof = context.library.operational_checks.get(step.operational_check) if isinstance(step, Fix) else None
    return frozenset(warnings & set(proof.notices)) if proof else frozenset()
