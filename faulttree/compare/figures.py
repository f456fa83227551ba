"""What follows from a change: causes that are no longer reached, things left open, and the longest way in minutes."""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.compare.changes import JUDGE, WEAKER, Change, Found, at
from faulttree.graph import Graph, targets
from faulttree.left_open import left_open
from faulttree.minutes import added_minutes
from faulttree.model import Library, Variant
from faulttree.proof import EARLY, FEEL, LOST, SHADOWED, Failure, prove
from faulttree.value import Value

MOST_STATES = 4096
"""More ways to stand at one step than these are cut, the shortest first; the longest way is then a lower bound."""

SAYS = {
    LOST: "is not brought to a fix that clears it or an end that names it: a way comes to {}",
    SHADOWED: "can be missed by the operational check of {}",
    FEEL: "can come to {} while {} was ruled out on feel alone",
    EARLY: "can come to {} while {} is not ruled out",
}


class Longest(Value):
    """The longest way of a tree on one model, in minutes, before and after; None where there is none."""

    tree: str
    model: str
    before: float | None
    after: float | None


State = tuple[frozenset[str], tuple[tuple[str, str], ...]]
"""Who is here, and which access is open at each place: all that the minutes of a later step depend on."""


def longest_minutes(library: Library, variant: Variant, graph: Graph) -> float | None:
    """The minutes of the longest way through ``variant``, `unable` and `cannot` included; None at a circle of steps.

    The greatest over all ways of `minutes.minutes_of`, found without listing them: the steps are taken in topological
    order, and of all ways to a step that leave the same people and accesses the longest is kept.
    """
    if not graph.order:
        return None
    start: State = (frozenset({library.first_role}), ())
    waiting: dict[str, dict[State, float]] = {graph.order[0]: {start: 0.0}}
    longest = 0.0
    for name in graph.order:
        here: dict[State, float] = {}
        for (roles, places), so_far in _kept(waiting.pop(name, {})).items():
            people, open_at = set(roles), dict(places)
            total = so_far + added_minutes(library, variant.model, variant.steps[name], people, open_at)
            state = (frozenset(people), tuple(sorted(open_at.items())))
            here[state] = max(total, here.get(state, 0.0))
        longest = max(longest, *here.values(), 0.0)
        for to in dict.fromkeys(targets(variant.steps[name])):
            if to in variant.steps:
                there = waiting.setdefault(to, {})
                for state, total in here.items():
                    there[state] = max(total, there.get(state, 0.0))
    return longest


def _kept(states: dict[State, float]) -> dict[State, float]:
    if len(states) <= MOST_STATES:
        return states
    return dict(sorted(states.items(), key=lambda each: -each[1])[:MOST_STATES])


def consequences(
    tree: str, old_library: Library, new_library: Library, old: Variant, new: Variant, graphs: tuple[Graph, Graph]
) -> Iterator[Change]:
    """What can go wrong on the new side of a variant and could not on the old."""
    before, after = graphs
    if after.cycle and not before.cycle:
        found = Found(WEAKER, "circle", "the steps run in a circle: nothing is proved", after=_way(after.cycle))
        yield from at(tree, "tree", tree, [found], new.model)
        return
    if old != new:
        yield from _failures(tree, old, new, graphs)
    known = {(each.step, item) for each in left_open(old_library, old, before) for item in each.items}
    for each in left_open(new_library, new, after):
        for item in each.items:
            if (each.step, item) not in known:
                says = "open item {} can be open where its operational check can pass, or no fault is found"
                yield from at(tree, "step", each.step, [Found(WEAKER, "left-open", says, (item,))], new.model)
    for name in before.order:
        if name in new.steps and name not in after.reached:
            yield from at(tree, "step", name, [Found(JUDGE, "not-reached", "no way leads to it any more")], new.model)


def _failures(tree: str, old: Variant, new: Variant, graphs: tuple[Graph, Graph]) -> Iterator[Change]:
    known = {_key(each) for each in prove(old, graphs[0])}
    told = set()
    for failure in prove(new, graphs[1]):
        key = _key(failure)
        if failure.rule in SAYS and key not in known and key not in told:
            told.add(key)
            names = (failure.step, failure.other)[: SAYS[failure.rule].count("{}")]
            found = Found(WEAKER, failure.rule, SAYS[failure.rule], names, after=_shown(failure))
            yield from at(tree, "cause", failure.cause, [found], new.model)


def _key(failure: Failure) -> tuple[str, str, str]:
    return failure.rule, failure.cause, failure.other


def _shown(failure: Failure) -> str:
    return " > ".join([*(f"{step}: {answer}" for step, answer in failure.way), failure.step])


def _way(steps: tuple[str, ...]) -> str:
    return " > ".join(steps)
