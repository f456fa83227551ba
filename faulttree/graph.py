"""The steps of a variant as a directed graph: what is reached, in which order, and where it runs in a circle."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from faulttree.model import Variant
from faulttree.moves import routes


class Graph(NamedTuple):
    """Successors by step; ``order`` is topological from the start, or empty where ``cycle`` has a circle of steps."""

    successors: Mapping[str, Sequence[str]]
    order: tuple[str, ...]
    cycle: tuple[str, ...]

    @property
    def reached(self) -> frozenset[str]:
        """The steps that a way from the start can come to."""
        return frozenset(self.order)


def graph_of(variant: Variant) -> Graph:
    """The graph of ``variant`` from its start. Names that are no step are left out."""
    steps = variant.steps
    successors = {
        name: tuple(dict.fromkeys(to for _, to in routes(step) if to in steps)) for name, step in steps.items()
    }
    order, cycle = _depth_first(successors, variant.start) if variant.start in steps else ((), ())
    return Graph(successors, order, cycle)


def _depth_first(successors: Mapping[str, Sequence[str]], start: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
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
