"""Checks that stood on every way to an end that lets the equipment go, and can be left out now."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from faulttree.compare.answers import LETS_GO, strictness
from faulttree.compare.changes import WEAKER, Change, Found, at
from faulttree.graph import Graph
from faulttree.model import Check, Variant


def checks_left_out(tree: str, old: Variant, new: Variant, graphs: tuple[Graph, Graph]) -> Iterator[Change]:
    """At most one change for each deferral and each no fault found. Steps of ``old`` have their new names.

    An end that is new, or let nothing go before, has to have the checks that stood before all of the old ones.
    """
    before, after = (_letting_go(variant, graph) for variant, graph in zip((old, new), graphs, strict=True))
    common = frozenset.intersection(*before.values()) if before else frozenset[str]()
    for name, kept in after.items():
        gone = before.get(name, common) - kept
        checks = tuple(each for each, step in old.steps.items() if each in gone and isinstance(step, Check))
        if checks:
            says = f"can be reached without {' and without '.join('{}' for _ in checks)} now"
            yield from at(tree, "step", name, [Found(WEAKER, "check-left-out", says, checks)], new.model)


def _letting_go(variant: Variant, graph: Graph) -> dict[str, frozenset[str]]:
    """The ends that let the equipment go and are reached, with the steps on every way to them."""
    ways = on_every_way(graph)
    return {name: ways[name] for name in variant.steps if name in ways and strictness(variant, name) == LETS_GO}


def on_every_way(graph: Graph) -> Mapping[str, frozenset[str]]:
    """By step that is reached, the steps on every way from the start to it, itself among them: its dominators.

    In topological order they are the step and what the dominators of all its predecessors share.
    """
    found: dict[str, frozenset[str]] = {}
    coming: dict[str, frozenset[str]] = {}
    for name in graph.order:
        found[name] = coming.get(name, frozenset()) | {name}
        for to in graph.successors[name]:
            coming[to] = coming[to] & found[name] if to in coming else found[name]
    return found
