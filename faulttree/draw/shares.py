"""The share of all weight that takes each route of a variant.

Each cause brings its weight to the start. Where it may show either of several findings, each is equally likely. At a
fix that does not clear it, it takes ``failed``. At one that clears it, or whose operational check misses it, it stays.
``unable`` and ``cannot`` have no share: they depend on the place and the day, not on the cause. A cause without a
weight counts as much as the mean of the others.
"""

from __future__ import annotations

from faulttree.graph import graph_of
from faulttree.model import Check, Fix, Step, Variant
from faulttree.possible import weights_of


def shares_of(variant: Variant) -> dict[tuple[str, str], float]:
    """By step and answer, a number from 0 to 1. The steps must not run in a circle."""
    weights = weights_of(variant)
    total = sum(weights.values()) or 1.0
    here: dict[str, dict[str, float]] = {variant.start: {name: weight / total for name, weight in weights.items()}}
    shares: dict[tuple[str, str], float] = {}
    for name in graph_of(variant).order:
        step = variant.steps[name]
        gone: dict[str, float] = {}
        for cause, mass in here.get(name, {}).items():
            for answer, to, part in _onward(variant, step, cause):
                going = mass * part
                gone[answer] = gone.get(answer, 0.0) + going
                there = here.setdefault(to, {})
                there[cause] = there.get(cause, 0.0) + going
        shares |= {(name, answer): share for answer, share in gone.items()}
    return shares


def _onward(variant: Variant, step: Step, cause: str) -> list[tuple[str, str, float]]:
    """Where a cause goes on from a step: the answer, the next step, and the part of it that goes there."""
    if isinstance(step, Check):
        labels = variant.shown(step, variant.causes[cause])
        found = [(each.label, each.goto) for each in step.findings if each.label in labels and each.goto]
        return [(label, to, 1 / len(labels)) for label, to in found]
    if isinstance(step, Fix) and step.failed and cause not in step.clears and cause not in step.misses:
        return [("failed", step.failed.to, 1.0)]
    return []
