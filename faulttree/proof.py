"""The proof: each cause, on each model, followed to a fix that clears it or an end that names it.

At a check a cause takes each finding that it may show, and `unable` apart; at a fix that does not clear it, it
takes `failed`. Four things can go wrong:

* **lost**: without `unable` or `cannot` it comes to an end that does not name it; with them, to such an end that is
  neither out of service nor a hand-over.
* **shadowed**: it comes to a fix whose operational check would pass although the cause remains.
* **on feel alone**: without `unable`, on its way to a fix with parts, another cause that this fix does not clear
  was ruled out by checks that are a matter of feel and by nothing else.
* **too early**: it comes to the fix of a cause by elimination while a cause that this fix does not clear is not
  ruled out by a firm finding or a failed fix.

Lost and shadowed follow one cause; the other two follow two causes at once, never sets of causes, which would
explode. All causes (or all second causes) are carried along together as the bits of a number, one pass over the
steps in topological order, so the proof of a tree takes time in the number of its steps and causes and not of its
ways. The way that fails is searched for only where something failed. A cause that reaches its fix after two or
more failed fixes is reported as a detour, because legal detours hide mistakes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from faulttree.failing_way import State, shortest_way
from faulttree.graph import Graph
from faulttree.model import Check, End, Fix, Step, Variant
from faulttree.proof_edges import Edge, Plan, plan_of
from faulttree.value import Value

LOST = "cause-lost"
SHADOWED = "cause-shadowed"
FEEL = "cause-on-feel-alone"
EARLY = "cause-too-early"
DETOUR = "cause-detour"


class Failure(Value):
    """One thing that went wrong: the rule, the cause followed, the other cause, the step, and the way there."""

    rule: str
    cause: str
    other: str
    step: str
    way: tuple[tuple[str, str], ...]
    """Steps with the answer that left each: a finding's label, or unable, failed, cannot."""


def prove(variant: Variant, graph: Graph) -> list[Failure]:
    """Every failure on ``variant``, in the order of its steps; empty where ``graph`` has a circle."""
    plan = plan_of(variant, graph)
    return [*_follow_one(plan), *_follow_two(plan)]


class Here(NamedTuple):
    """Causes that can be at a step: by failed fixes so far (none, one, more), and apart, after giving a step up."""

    fresh: int = 0
    once: int = 0
    often: int = 0
    gave_up: int = 0

    @property
    def straight(self) -> int:
        """Those that came without `unable` or `cannot`."""
        return self.fresh | self.once | self.often

    def along(self, edge: Edge) -> Here:
        """Those that take ``edge``."""
        takes = edge.takes
        if edge.gave_up:
            return Here(gave_up=(self.straight | self.gave_up) & takes)
        if edge.failed:
            return Here(0, self.fresh & takes, (self.once | self.often) & takes, self.gave_up & takes)
        return Here(self.fresh & takes, self.once & takes, self.often & takes, self.gave_up & takes)

    def joined(self, other: Here) -> Here:
        """Both together."""
        return Here(
            self.fresh | other.fresh, self.once | other.once, self.often | other.often, self.gave_up | other.gave_up
        )


def reach(plan: Plan) -> dict[str, Here]:
    """Which causes can be at each step."""
    here = {name: Here() for name in plan.order}
    if plan.order:
        here[plan.order[0]] = Here(fresh=(1 << len(plan.bits)) - 1)
    for name in plan.order:
        leaving = _leaving(plan, name, here[name])
        for edge in plan.edges[name]:
            here[edge.to] = here[edge.to].joined(leaving.along(edge))
    return here


def _leaving(plan: Plan, name: str, here: Here) -> Here:
    """Those that go on from a step: at a fix, the causes that it clears go on only by giving it up."""
    step = plan.variant.steps[name]
    if isinstance(step, End):
        return Here(gave_up=here.straight | here.gave_up)
    return here


def _follow_one(plan: Plan) -> Iterator[Failure]:
    for name, here in reach(plan).items():
        step = plan.variant.steps[name]
        if isinstance(step, End):
            yield from _lost(plan, step, here)
        elif isinstance(step, Fix):
            yield from _at_fix(plan, step, here)


def _lost(plan: Plan, end: End, here: Here) -> Iterator[Failure]:
    named = plan.mask(end.named)
    for cause in plan.names(here.straight & ~named):
        yield _failure(plan, LOST, cause, "", end.id, lambda state: not state.gave_up)
    if end.kind not in ("out of service", "hand over"):
        for cause in plan.names(here.gave_up & ~named & ~here.straight):
            yield _failure(plan, LOST, cause, "", end.id, lambda state: state.gave_up)


def _at_fix(plan: Plan, fix: Fix, here: Here) -> Iterator[Failure]:
    for cause in plan.names((here.straight | here.gave_up) & plan.mask(fix.misses)):
        yield _failure(plan, SHADOWED, cause, "", fix.id, lambda state: True)
    for cause in plan.names(here.often & plan.mask(fix.clears)):
        yield _failure(plan, DETOUR, cause, "", fix.id, lambda state: state.fails > 1 and not state.gave_up)


class Others(NamedTuple):
    """Second causes at a step, by how they stand on some way there: not ruled out, by feel alone, firmly."""

    open: int = 0
    feel: int = 0
    firm: int = 0

    def along(self, edge: Edge) -> Others:
        """How they stand after ``edge``."""
        out = edge.rules_out
        if edge.firm:
            return Others(self.open & ~out, self.feel & ~out, self.firm | (self.open | self.feel) & out)
        return Others(self.open & ~out, self.feel | self.open & out, self.firm)

    def joined(self, other: Others) -> Others:
        """Both together."""
        return Others(self.open | other.open, self.feel | other.feel, self.firm | other.firm)


def _follow_two(plan: Plan) -> Iterator[Failure]:
    steps = plan.variant.steps
    feel_matters = any(isinstance(steps[name], Check) and _sure(steps[name]) < 1 for name in plan.order)
    last = [name for name, cause in plan.variant.causes.items() if cause.by_elimination]
    for cause in plan.bits:
        if feel_matters:
            yield from _on_feel_alone(plan, cause)
        if last:
            yield from _too_early(plan, cause, plan.mask(last))


def _sure(step: Step) -> float:
    return step.sure if isinstance(step, Check) else 1.0


def _on_feel_alone(plan: Plan, cause: str) -> Iterator[Failure]:
    for name, others in stands(plan, cause, giving_up=False).items():
        step = plan.variant.steps[name]
        if isinstance(step, Fix) and step.parts:
            for other in plan.names(others.feel & ~plan.mask(step.clears)):
                yield _failure(plan, FEEL, cause, other, name, lambda state: state.stands == "feel")


def _too_early(plan: Plan, cause: str, last: int) -> Iterator[Failure]:
    for name, others in stands(plan, cause, giving_up=True).items():
        step = plan.variant.steps[name]
        if isinstance(step, Fix) and plan.mask(step.clears) & last:
            for other in plan.names((others.open | others.feel) & ~plan.mask(step.clears)):
                yield _failure(plan, EARLY, cause, other, name, lambda state: state.stands != "firm")


def stands(plan: Plan, cause: str, giving_up: bool) -> dict[str, Others]:
    """How every other cause stands at the steps that ``cause`` can come to, with or without giving steps up."""
    bit = plan.bits[cause]
    found: dict[str, Others] = {plan.order[0]: Others(open=(1 << len(plan.bits)) - 1)} if plan.order else {}
    for name in plan.order:
        here = found.get(name)
        if here is None:
            continue
        for edge in plan.edges[name]:
            if edge.takes & bit and (giving_up or not edge.gave_up):
                found[edge.to] = found.get(edge.to, Others()).joined(here.along(edge))
    return found


def _failure(plan: Plan, rule: str, cause: str, other: str, step: str, holds: Callable[[State], bool]) -> Failure:
    avoid_giving_up = rule == FEEL
    way = shortest_way(plan, cause, other, lambda state: state.step == step and holds(state), avoid_giving_up)
    return Failure(rule, cause, other, step, way)


def claims(variant: Variant, graph: Graph) -> list[tuple[str, tuple[str, ...]]]:
    """What the tree claims by silence: by fix, the causes that can meet it and would make its check fail."""
    plan = plan_of(variant, graph)
    claimed = []
    for name, here in reach(plan).items():
        step = variant.steps[name]
        if isinstance(step, Fix):
            causes = (here.straight | here.gave_up) & ~plan.mask(step.clears) & ~plan.mask(step.misses)
            if causes:
                claimed.append((name, tuple(plan.names(causes))))
    return claimed
