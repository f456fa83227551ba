"""A variant made ready for following causes: which causes take each way on from a step, and which it rules out.

Causes are the bits of a number, so that all of them are carried along together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from faulttree.graph import Graph
from faulttree.keys import Kind
from faulttree.model import Check, Fix, Step, Variant
from faulttree.value import Value


class Edge(NamedTuple):
    """A way on from a step: the causes that take it, those it rules out, and how."""

    answer: str
    to: str
    takes: int
    rules_out: int
    firm: bool
    gave_up: bool
    """Whether it is `unable` or `cannot`."""
    failed: bool


class Plan(Value):
    """A variant made ready for following causes: bits by cause, edges by step in topological order."""

    variant: Variant
    bits: dict[str, int]
    order: tuple[str, ...]
    edges: dict[str, tuple[Edge, ...]]

    def names(self, mask: int) -> list[str]:
        """The causes whose bits are set, in file order."""
        return [name for name, bit in self.bits.items() if mask & bit] if mask else []

    def mask(self, names: Iterable[str]) -> int:
        """The bits of ``names``; names that are no cause count nothing."""
        total = 0
        for name in names:
            total |= self.bits.get(name, 0)
        return total


def plan_of(variant: Variant, graph: Graph) -> Plan:
    """The plan of ``variant``; ``graph`` must have no circle."""
    bits = {name: 1 << at for at, name in enumerate(variant.causes)}
    plan = Plan(variant, bits, graph.order, {})
    naming = _naming(plan)
    for name in graph.order:
        edges = _edges(plan, variant.steps[name], naming)
        plan.edges[name] = tuple(edge for edge in edges if edge.to in variant.steps)
    return plan


Naming = dict[str, list[tuple[int, tuple[str, ...]]]]
"""By base check, the bits of the causes that name it, with what they show there."""


def _naming(plan: Plan) -> Naming:
    naming: Naming = {}
    for name, cause in plan.variant.causes.items():
        for check, labels in cause.shows.items():
            if labels:
                naming.setdefault(check, []).append((plan.bits[name], labels))
    return naming


def _takers(check: Check, naming: list[tuple[int, tuple[str, ...]]], every: int) -> dict[str, int]:
    """By label, the causes that may show it: `Variant.shown` for all causes together."""
    takers = dict.fromkeys((finding.label for finding in check.findings), 0)
    rest = every
    for bit, labels in naming:
        rest &= ~bit
        for label in [each for each in labels if each in takers] or takers:
            takers[label] |= bit
    for label in [each for each in check.usual if each in takers] or takers:
        takers[label] |= rest
    return takers


def _edges(plan: Plan, step: Step, naming: Naming) -> Iterator[Edge]:
    every = (1 << len(plan.bits)) - 1
    if isinstance(step, Check):
        takers = _takers(step, naming.get(step.base, []), every)
        for finding in step.findings:
            takes = takers[finding.label]
            yield Edge(finding.label, finding.goto, takes, every & ~takes, step.sure >= 1, False, False)
        if step.unable:
            yield Edge(Kind.UNABLE, step.unable.to, every, 0, True, True, False)
        return
    if isinstance(step, Fix) and step.failed:
        clears = plan.mask(step.clears)
        yield Edge(Kind.FAILED, step.failed.to, every & ~clears & ~plan.mask(step.misses), clears, True, False, True)
    if step.cannot:
        yield Edge(Kind.CANNOT, step.cannot.to, every, 0, True, True, False)
