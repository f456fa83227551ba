"""The steps of a variant as a directed graph: what is reached, in which order, and where it runs in a circle."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from faulttree.model import Check, Fix, Step, Variant
from faulttree.value import Value


class Graph(Value):
    """Successors by step; ``order`` is topological from the start, or empty where ``cycle`` has a circle of steps."""

    successors: Mapping[str, Sequence[str]]
    order: tuple[str, ...]
    cycle: tuple[str, ...]

    @property
    def reached(self) -> frozenset[str]:
        """The steps that a way from the start can come to."""
        return frozenset(self.order)


def targets(step: Step) -> list[str]:
    """Where the ways of a step lead, in the order of `moves.routes`, which also has what leads there."""
    if isinstance(step, Check):
        found = [finding.goto for finding in step.findings if finding.goto]
        return [*found, step.unable.to] if step.unable else found
    routes = (step.failed, step.cannot) if isinstance(step, Fix) else (None, step.cannot)
    return [route.to for route in routes if route]


def graph_of(variant: Variant) -> Graph:
    """The graph of ``variant`` from its start. Names that are no step are left out."""
    steps = variant.steps
    successors = {name: [to for to in dict.fromkeys(targets(step)) if to in steps] for name, step in steps.items()}
    order, cycle = depth_first(successors, variant.start) if variant.start in steps else ((), ())
    return Graph(successors, order, cycle)


def depth_first(successors: Mapping[str, Sequence[str]], start: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The steps from ``start`` in topological order, or the first circle; no recursion, for trees may be long."""
    finished: list[str] = []
    done: set[str] = set()
    path = {start: iter(successors[start])}
    while path:
        step = next(reversed(path))
        following = next(path[step], None)
        if following is None:
            del path[step]
            done.add(step)
            finished.append(step)
        elif following in path:
            names = list(path)
            return (), tuple(names[names.index(following) :])
        elif following not in done:
            path[following] = iter(successors[following])
    return tuple(reversed(finished)), ()
