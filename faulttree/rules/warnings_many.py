"""A step shows more than three warnings in full.

Meaning:
    Who comes to the step on one of its ways has more than three warnings to read there: those that are new, and those
    with `every_time`. Warnings of the steps before, and of the first actions, were read before and stand in one line.
    So may an operational check, which comes after its fix. Somebody who takes over reads anew; that is not counted.

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

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from faulttree.model import Fix, Work
from faulttree.rules.advice import listed
from faulttree.rules.context import Context, Hit, Path

MOST = 3


def check(context: Context) -> Iterator[Hit]:
    """One hit for each step, and for each fix with what its operational check shows, with the warnings that are new."""
    notices = context.library.notices
    warnings = {name for name, notice in notices.items() if notice.signal == "warning"}
    shown = [each for each in _shown(context) if sum(name in warnings for name in each.notices) > MOST]
    read = _read_before(context, warnings) if shown else {}
    for step, names, before, path, what, advice in shown:
        if step in read:
            known = read[step].union(before)
            new = [each for each in names if each in warnings and (each not in known or notices[each].every_time)]
            if len(new) > MOST:
                yield Hit(path, f"{what} shows {len(new)} warnings in full: {listed(new)}", advice)


class Shown(NamedTuple):
    """Notices that are shown together at a step or at its operational check."""

    step: str
    notices: Sequence[str]
    before: Sequence[str]
    """What the same step has shown before."""
    path: Path
    what: str
    advice: str


def _shown(context: Context) -> Iterator[Shown]:
    for step in context.own_work:
        path = ("steps", step.id)
        advice = "split the step, or let a step before it show what belongs there"
        yield Shown(step.id, step.notices, (), (*path, "notices", "~"), f'"{step.id}"', advice)
        proof = context.library.operational_checks.get(step.operational_check) if isinstance(step, Fix) else None
        if proof:
            what = f'the operational check "{proof.id}" of "{step.id}"'
            advice = "let the fix show what belongs there, or take out what another warning says"
            yield Shown(step.id, proof.notices, step.notices, (*path, "operational_check", "~"), what, advice)


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
