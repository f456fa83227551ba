"""What holds on every way of a tree, found by visiting all of it.

Two questions, two searches. What a *tree* can break is searched by (step, open items): no hazard or disturbance
may be open where an operational check can pass or no fault found is reached. What the *engine* must keep is
searched by key, for each role and occupant state: every forward key is visited, with a step's notices taken once
as all new and once as all acknowledged. Neither lists ways; they are counted.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from faulttree.graph import Graph
from faulttree.keys import OFF, ON, UNANSWERED, Gate, Key, Kind, Move, Stage
from faulttree.model import Access, Check, End, Fix, Library, Step, Variant, Work
from faulttree.moves import Site, after, allowed, forward, must_close, put_right, routes, shut_by
from faulttree.value import Value


class LeftOpen(Value):
    """Items that are open where they must not be: at a fix whose check can pass, or at no fault found."""

    step: str
    items: tuple[str, ...]
    way: tuple[tuple[str, str], ...]


class Change(NamedTuple):
    """What a step does to the open items, as bits: takes away, then adds."""

    away: int
    add: int

    def of(self, items: int) -> int:
        """The items after the change."""
        return items & ~self.away | self.add

    def then(self, other: Change) -> Change:
        """Both in turn."""
        return Change(self.away | other.away, self.add & ~other.away | other.add)


class Items:
    """The library's open items as bits, with what steps and accesses do to them."""

    def __init__(self, library: Library) -> None:
        self.library = library
        self.bits = {name: 1 << at for at, name in enumerate(library.open_items)}
        self.hold = self.mask(must_close(library, frozenset(library.open_items)))
        self._openings: dict[tuple[tuple[str, ...], tuple[str, ...]], Change] = {}

    def mask(self, names: tuple[str, ...] | frozenset[str]) -> int:
        """The bits of ``names``; names that are no item count nothing."""
        return sum(self.bits.get(name, 0) for name in set(names)) if names else 0

    def names(self, mask: int) -> tuple[str, ...]:
        """The items whose bits are set."""
        return tuple(name for name, bit in self.bits.items() if mask & bit)

    def opening(self, step: Work | End) -> Change:
        """What passing the gates of ``step`` does. Many steps do the same, so it is worked out once."""
        key = (step.accesses if isinstance(step, Work) else (), step.opens)
        if key not in self._openings:
            self._openings[key] = self._opening(*key)
        return self._openings[key]

    def _opening(self, accesses: tuple[str, ...], opens: tuple[str, ...]) -> Change:
        change = NOTHING
        for name in accesses:
            if access := self.library.accesses.get(name):
                change = change.then(self._access(access))
        return change.then(Change(0, self.mask(opens)))

    def closing(self, change: Change, closes: tuple[str, ...], opens: tuple[str, ...] = ()) -> Change:
        """``change``, and after it what is closed and then opened; mostly that is nothing."""
        return change.then(Change(self.mask(closes), self.mask(opens))) if closes or opens else change

    def _access(self, access: Access) -> Change:
        away = self.mask(shut_by(self.library, access)) | self.mask(access.closes)
        return Change(away, self.mask(access.opens))


NOTHING = Change(0, 0)


class Hop(NamedTuple):
    """A way on from a step: its answer, the step it leads to, and what it does to the open items."""

    answer: str
    to: str
    change: Change


def left_open(library: Library, variant: Variant, graph: Graph) -> list[LeftOpen]:
    """Every step where something is open that must not be, each once, by the shortest way; empty at a circle."""
    items = Items(library)
    if not graph.order or not opens_anything(library, variant):
        return []
    steps = {name: variant.steps[name] for name in graph.order}
    ends = {name: change for name, step in steps.items() if (change := _at_its_end(items, step))}
    hops = {name: [hop for hop in _hops(items, step) if hop.to in steps] for name, step in steps.items()}
    failures: dict[str, LeftOpen] = {}
    start = (variant.start, 0)
    came: dict[tuple[str, int], tuple[tuple[str, int], str] | None] = {start: None}
    queue = deque([start])
    while queue:
        here = name, open_now = queue.popleft()
        if name in ends and name not in failures and (held := ends[name].of(open_now) & items.hold):
            failures[name] = LeftOpen(name, items.names(held), _way(came, here))
        for answer, to, (away, add) in hops[name]:
            there = (to, open_now & ~away | add)
            if there not in came:
                came[there] = (here, answer)
                queue.append(there)
    return [failures[name] for name in graph.order if name in failures]


def opens_anything(library: Library, variant: Variant) -> bool:
    """Whether there is anything in the library or the tree that opens an item."""
    if any(access.opens for access in library.accesses.values()):
        return True
    for step in variant.steps.values():
        if step.opens:
            return True
        if isinstance(step, Check) and any(finding.opens for finding in step.findings):
            return True
    return False


def _at_its_end(items: Items, step: Step) -> Change | None:
    """What is done until the operational check of a fix passes, or no fault found is reached; None elsewhere."""
    if isinstance(step, Fix):
        return items.closing(items.opening(step), step.closes)
    return items.opening(step) if isinstance(step, End) and step.kind == "no fault found" else None


def _hops(items: Items, step: Step) -> Iterator[Hop]:
    """The ways on from a step. It may be given up before its gates are passed, during its work and after it."""
    if isinstance(step, End):
        yield from (Hop(answer, to, items.opening(step)) for answer, to in routes(step))
        return
    begun = items.opening(step)
    done = items.closing(begun, put_right(items.library, step) if isinstance(step, Fix) else step.closes)
    if isinstance(step, Check):
        for finding in step.findings:
            yield Hop(finding.label, finding.goto, items.closing(done, finding.closes, finding.opens))
        if step.unable:
            yield from (Hop(Kind.UNABLE, step.unable.to, each) for each in dict.fromkeys((NOTHING, begun)))
        return
    if step.failed:
        yield Hop(Kind.FAILED, step.failed.to, done)
    if step.cannot:
        yield from (Hop(Kind.CANNOT, step.cannot.to, each) for each in dict.fromkeys((NOTHING, begun, done)))


def _way(
    came: Mapping[tuple[str, int], tuple[tuple[str, int], str] | None], here: tuple[str, int]
) -> tuple[tuple[str, str], ...]:
    way: list[tuple[str, str]] = []
    while (before := came[here]) is not None:
        here, answer = before
        way.append((here[0], answer))
    return tuple(reversed(way))


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
    unread = [name for name in notices if site.library.notices[name].signal != "note" and name not in key.acknowledged]
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
