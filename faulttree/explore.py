"""What the engine must keep on every way of a tree, found by visiting all of it.

It is searched by key, for each role and occupant state: every forward key is visited, with a step's notices taken once
as all new and once as all acknowledged. Ways are not listed for that; they are counted. What a tree can break is
searched in `left_open`.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator

from faulttree.graph import Graph
from faulttree.keys import OFF, ON, UNANSWERED, Gate, Key, Kind, Move, Stage
from faulttree.model import Check, End, Fix, Library, Step, Variant
from faulttree.moves import after, allowed, forward, routes
from faulttree.open_items import must_close
from faulttree.site import Site
from faulttree.value import Value


class Explored(Value):
    """What a full exploration of one variant saw. ``broken`` is empty where every rule held in every key."""

    model: str
    steps: int
    ways: int
    longest: int
    keys: int
    broken: tuple[str, ...]


HOLDS = (
    "no role meets a step it may not do",
    "no step that is not allowed with an occupant is shown while there is one",
    "no finding or result is taken before the warnings of its step",
    "a failed operational check never ends as passed",
    "nothing that must be closed is open where a walk ends as passed or no fault found",
    "every key goes on, ends, or is handed over",
)
"""What is looked at in every key, in words."""


def explore(library: Library, variant: Variant, graph: Graph) -> Explored:
    """Visit every forward key of ``variant`` for each role and occupant state. ``graph`` must have no circle."""
    site = Site(library, variant)
    broken: dict[str, None] = {}
    seen = set(_starts(site))
    queue = deque(seen)
    while queue:
        key = queue.popleft()
        for rule in broken_in(site, key):
            broken[f"{rule}: {key.step}, {key.phase.stage}, {key.role}, occupant {key.occupant}"] = None
        for move in allowed(site, key):
            for following in successors(site, key, move):
                if failed_but_passed(site, key, move, following):
                    broken[f"{HOLDS[3]}: {key.step}"] = None
                if following not in seen:
                    seen.add(following)
                    queue.append(following)
    ways, longest = count_ways(variant, graph)
    return Explored(variant.model, len(graph.order), ways, longest, len(seen), tuple(broken))


def _starts(site: Site) -> Iterator[Key]:
    occupants = (ON, OFF, UNANSWERED) if site.library.occupant else (OFF,)
    for role in site.library.roles:
        for occupant in occupants:
            for known in _known(site):
                yield site.settle(site.before_start(role, occupant)._replace(acknowledged=known))


def _known(site: Site) -> tuple[frozenset[str], frozenset[str]]:
    """The notices all new, and all acknowledged."""
    return frozenset(), frozenset(site.library.notices)


def successors(site: Site, key: Key, move: Move) -> Iterator[Key]:
    """The keys after a forward move; on arriving at another step once with all notices new and once with none."""
    following = forward(site, key, move)
    if following.step == key.step:
        yield following
        return
    for known in _known(site):
        yield after(site, key._replace(acknowledged=known), move)


def broken_in(site: Site, key: Key) -> Iterator[str]:
    """The rules that ``key`` breaks, judged from the model and not by the gates' own code."""
    step = site.step(key)
    shown = site.gate(key) is None
    who, occupied, notices = _asked_of(site.library, step, key.phase.stage)
    if shown and key.phase.stage != Stage.ENDED and not all(site.library.may(key.role, each) for each in who):
        yield HOLDS[0]
    if shown and not occupied and site.library.occupant and key.occupant != OFF:
        yield HOLDS[1]
    taken = {move.kind for move in allowed(site, key)} & TAKEN
    told = (site.library.notices[name] for name in notices if name not in key.acknowledged)
    is_off = site.library.occupant is not None and key.occupant == OFF
    unread = [each.id for each in told if each.signal != "note" and not (each.occupied_only and is_off)]
    if taken and unread:
        yield HOLDS[2]
    if key.phase.stage == Stage.ENDED and _must_be_closed(step) and must_close(site.library, key.open_items):
        yield HOLDS[4]
    if not _goes_on(site, key):
        yield HOLDS[5]


def _goes_on(site: Site, key: Key) -> bool:
    """Whether the walk has ended, can be handed over, or has a move of its own; an occupant on or off is none."""
    if key.phase.stage == Stage.ENDED or site.gate(key) in (Gate.ROLE, Gate.OCCUPANT):
        return True
    return bool({move.kind for move in allowed(site, key)} - {Kind.OCCUPANT_ON, Kind.OCCUPANT_OFF})


TAKEN = {Kind.FINDING, Kind.DONE, Kind.WAITED, Kind.INSPECTED, Kind.PASSED, Kind.FAILED}


def _asked_of(library: Library, step: Step, stage: Stage) -> tuple[tuple[str, ...], bool, tuple[str, ...]]:
    """Who, whether with an occupant, and which notices: of a step with its accesses, or of the operational check."""
    if isinstance(step, End):
        return (step.who,), True, ()
    if stage in (Stage.LEFT_OPEN, Stage.ENDED):
        return (), True, ()
    if stage == Stage.PROVE and isinstance(step, Fix):
        proof = library.operational_checks[step.operational_check]
        return (proof.who,), proof.occupied, proof.notices
    accesses = [library.accesses[name] for name in step.accesses]
    notices = (*step.notices, *(name for access in accesses for name in access.notices))
    return (step.who, *(access.who for access in accesses)), step.occupied, notices


def _must_be_closed(step: Step) -> bool:
    return isinstance(step, Fix) or (isinstance(step, End) and step.kind == "no fault found")


def failed_but_passed(site: Site, key: Key, move: Move, following: Key) -> bool:
    """Whether a failed operational check led to a walk that ends as passed."""
    ended_at_fix = following.phase.stage in (Stage.ENDED, Stage.LEFT_OPEN) and isinstance(site.step(following), Fix)
    return ended_at_fix and move.kind not in (Kind.PASSED, Kind.CLOSED) and key.phase.stage == Stage.PROVE


def count_ways(variant: Variant, graph: Graph) -> tuple[int, int]:
    """How many ways lead from the start to an end or a passed check, and the steps of the longest."""
    ways: dict[str, int] = {}
    longest: dict[str, int] = {}
    for name in reversed(graph.order):
        step = variant.steps[name]
        following = [to for _, to in routes(step) if to in variant.steps]
        ends_here = not isinstance(step, Check)
        ways[name] = sum(ways[to] for to in following) + ends_here
        longest[name] = 1 + max((longest[to] for to in following), default=0)
    start = graph.order[0] if graph.order else ""
    return ways.get(start, 0), longest.get(start, 0)


def every_way(variant: Variant) -> Iterator[tuple[tuple[tuple[str, str], ...], str]]:
    """Every way from the start, in file order: the steps left with their answers, and the step it ends at.

    A way that ends by a passed operational check ends at its fix. There can be very many: take what you need.
    """
    stack: list[tuple[str, tuple[tuple[str, str], ...]]] = [(variant.start, ())]
    while stack:
        name, way = stack.pop()
        step = variant.steps[name]
        if not isinstance(step, Check):
            yield way, name
        for answer, to in reversed(list(routes(step))):
            if to in variant.steps:
                stack.append((to, (*way, (name, answer))))
