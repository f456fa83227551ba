"""A way asks the same check or does the same fix twice.

Meaning:
    On the way that is shown, a check or fix comes that was met before on this way, by its own name or by `again`.

Why:
    The person has answered already, or has done the work and seen it fail. Doing it again costs minutes, and a second
    answer that differs from the first leaves nobody wiser. On other ways the same check may stand again.

Wrong:
    wipe-contacts:
      fix: Wipe the contacts
      failed: contacts-again     # the way came from contacts
    contacts-again:
      again: contacts

Right:
    wipe-contacts:
      fix: Wipe the contacts
      failed: fit-switch
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator

from faulttree.graph import Graph
from faulttree.model import Variant, Work
from faulttree.moves import routes
from faulttree.rules.context import Context, Hit
from faulttree.rules.ways import failing_path, shown_way
from faulttree.value import Value


class Repeat(Value):
    """A step at which work comes a second time, with a way on which it does."""

    step: str
    way: tuple[tuple[str, str], ...]


def check(context: Context) -> Iterator[Hit]:
    """One hit for each step at which work comes a second time."""
    for repeat in repeats(context.variant, context.graph):
        step = context.variant.steps[repeat.step]
        base = step.base if isinstance(step, Work) else step.id
        yield Hit(
            failing_path(repeat.way, repeat.step),
            f'"{base}" comes a second time on one way, at "{repeat.step}"',
            "lead this way past it",
            shown_way(context, repeat.way, repeat.step),
        )


def repeats(variant: Variant, graph: Graph) -> Iterator[Repeat]:
    """Every step at which some way repeats work, in topological order.

    What was met on some way to a step is carried along as bits, one for each base.
    """
    bases = {name: step.base for name in graph.order if isinstance(step := variant.steps[name], Work)}
    if len(set(bases.values())) == len(bases):
        return
    bits = {base: 1 << at for at, base in enumerate(dict.fromkeys(bases.values()))}
    met = dict.fromkeys(graph.order, 0)
    for name in graph.order:
        bit = bits.get(bases.get(name, ""), 0)
        if met[name] & bit:
            yield Repeat(name, _way(variant, bases[name], name))
        for to in graph.successors[name]:
            met[to] |= met[name] | bit


def _way(variant: Variant, base: str, goal: str) -> tuple[tuple[str, str], ...]:
    """The shortest way to ``goal`` that has met ``base`` before."""
    came: dict[tuple[str, bool], tuple[tuple[str, bool], str] | None] = {(variant.start, False): None}
    waiting = deque(came)
    while (goal, True) not in came:
        here = name, met = waiting.popleft()
        step = variant.steps[name]
        met = met or (isinstance(step, Work) and step.base == base)
        for answer, to in routes(step):
            if to in variant.steps and (to, met) not in came:
                came[to, met] = here, answer
                waiting.append((to, met))
    way: list[tuple[str, str]] = []
    place = (goal, True)
    while (before := came[place]) is not None:
        place, answer = before
        way.append((place[0], answer))
    return tuple(reversed(way))
