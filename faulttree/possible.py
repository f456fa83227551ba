"""What is still possible: the causes that the findings on the way and the failed fixes have not ruled out.

Only firm findings rule out; a check that is a matter of feel leaves a cause possible. A failed fix rules out what
it clears.
"""

from __future__ import annotations

from faulttree.keys import Kind
from faulttree.model import Check, Fix
from faulttree.walk import Walk


def possible(walk: Walk) -> tuple[str, ...]:
    """The causes that the way of ``walk`` has not ruled out, in the tree's order."""
    left = dict.fromkeys(walk.site.variant.causes)
    for visit in walk.way:
        step = walk.site.variant.steps[visit.step]
        answer = visit.answer
        if answer is None:
            continue
        if isinstance(step, Check) and step.sure >= 1 and answer.kind in (Kind.FINDING, Kind.READING):
            for name, cause in walk.site.variant.causes.items():
                if answer.label not in walk.site.variant.shown(step, cause):
                    left.pop(name, None)
        elif isinstance(step, Fix) and answer.kind == Kind.FAILED:
            for name in step.clears:
                left.pop(name, None)
    return tuple(left)
