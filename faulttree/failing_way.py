"""The shortest way on which a cause comes to what must not be. It is searched for only where something failed."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from typing import NamedTuple

from faulttree.proof_edges import Edge, Plan


class State(NamedTuple):
    """Where a search is: the step, whether one was given up, failed fixes, how the other cause stands."""

    step: str
    gave_up: bool
    fails: int
    stands: str


def shortest_way(
    plan: Plan, cause: str, other: str, goal: Callable[[State], bool], avoid_giving_up: bool = False
) -> tuple[tuple[str, str], ...]:
    """The shortest way of ``cause`` from the start to a state for which ``goal`` holds: steps with their answers."""
    start = State(plan.order[0], False, 0, "open")
    came: dict[State, tuple[State, str] | None] = {start: None}
    queue = deque([start])
    while queue:
        state = queue.popleft()
        if goal(state):
            return _unwound(came, state)
        for edge in plan.edges[state.step]:
            if edge.takes & plan.bits[cause] and not (edge.gave_up and avoid_giving_up):
                following = _following(state, edge, plan.bits.get(other, 0))
                if following not in came:
                    came[following] = (state, edge.answer)
                    queue.append(following)
    return ()


def _following(state: State, edge: Edge, other: int) -> State:
    stands = state.stands
    if edge.rules_out & other and stands != "firm":
        stands = "firm" if edge.firm else "feel"
    return State(edge.to, state.gave_up or edge.gave_up, min(2, state.fails + edge.failed), stands)


def _unwound(came: dict[State, tuple[State, str] | None], state: State) -> tuple[tuple[str, str], ...]:
    way: list[tuple[str, str]] = []
    while (before := came[state]) is not None:
        state, answer = before
        way.append((state.step, answer))
    return tuple(reversed(way))
