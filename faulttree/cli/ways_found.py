"""The ways of a role through a tree: made one by one, and summed up without making them, for there can be very many."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from faulttree.graph import graph_of
from faulttree.model import Cause, Check, Fix, Library, Step, Variant
from faulttree.reach import for_other, onward, prover
from faulttree.value import Value


class Wish(NamedTuple):
    """Which ways: as whom, of these only those that come to a step, or that one cause may take."""

    role: str
    to: str = ""
    cause: str = ""


class Way(NamedTuple):
    """The steps that are left with their answers, the step it stops at, and the role it is handed over to there."""

    steps: tuple[tuple[str, str], ...]
    last: str
    hand_over: str = ""
    proved: bool = True
    """Whether the fix that it stops at is done, so that only its operational check is handed over."""


class Stop(NamedTuple):
    """Where a way stops: as a way says it."""

    last: str
    hand_over: str
    proved: bool


class Place(NamedTuple):
    """A step as the ways meet it: whether they stop there, and the answers by which they go on."""

    stop: Stop | None
    onward: tuple[tuple[str, str], ...]


class Summary(Value):
    """How many ways there are, the fewest and most steps of one, and how many stop at each place, most first."""

    total: int
    shortest: int
    longest: int
    stops: Mapping[Stop, int]


class Link(NamedTuple):
    """A step with its answer, and the link before: ways that begin alike share their beginning."""

    before: Link | None
    step: str
    answer: str


def places_of(library: Library, variant: Variant, wish: Wish) -> dict[str, Place]:
    """Every step of a tree as the ways that are wished for meet it."""
    cause = variant.causes.get(wish.cause)
    return {name: _place(library, variant, step, wish.role, cause) for name, step in variant.steps.items()}


def _place(library: Library, variant: Variant, step: Step, role: str, cause: Cause | None) -> Place:
    other = for_other(library, step, role)
    if other:
        return Place(Stop(step.id, other, False), ())
    following = onward(library, variant, step, role)
    if cause:
        following = [(answer, to) for answer, to in following if takes(variant, step, cause, answer)]
    stops = not isinstance(step, Check) or not following
    proved_by_other = prover(library, step, role)
    if cause and isinstance(step, Fix) and not proved_by_other:
        stops = passes(step, cause)
    return Place(Stop(step.id, proved_by_other, True) if stops else None, tuple(following))


def takes(variant: Variant, step: Step, cause: Cause, answer: str) -> bool:
    """Whether somebody may give this answer at a step where ``cause`` is the fault."""
    if isinstance(step, Check) and step.finding(answer) is not None:
        return answer in variant.shown(step, cause)
    return not (isinstance(step, Fix) and answer == "failed" and passes(step, cause))


def passes(fix: Fix, cause: Cause) -> bool:
    """Whether the operational check of a fix passes where ``cause`` was the fault."""
    return cause.id in fix.clears or cause.id in fix.misses


def ways_of(library: Library, variant: Variant, wish: Wish) -> Iterator[Way]:
    """Every way that is wished for, in file order. There can be very many: take what you need."""
    places = places_of(library, variant, wish)
    leading = _leading(places, wish.to)
    stack: list[tuple[str, Link | None, bool]] = [(variant.start, None, False)]
    while stack:
        name, way, been = stack.pop()
        been = been or name == wish.to
        if not been and name not in leading:
            continue
        place = places[name]
        if place.stop and (been or not wish.to):
            yield Way(_unlinked(way), *place.stop)
        for answer, to in reversed(place.onward):
            stack.append((to, Link(way, name, answer), been))


def _leading(places: Mapping[str, Place], to: str) -> set[str]:
    """The steps from which a way comes to ``to``; all where no step is wished for."""
    if not to:
        return set(places)
    before: dict[str, list[str]] = {}
    for name, place in places.items():
        for _, target in place.onward:
            before.setdefault(target, []).append(name)
    found, ahead = {to}, [to]
    while ahead:
        new = set(before.get(ahead.pop(), ())) - found
        found |= new
        ahead += new
    return found


def _unlinked(way: Link | None) -> tuple[tuple[str, str], ...]:
    steps = []
    while way is not None:
        steps.append((way.step, way.answer))
        way = way.before
    return tuple(reversed(steps))


class Reached(NamedTuple):
    """How many beginnings of ways come to a step, and the fewest and most steps before it on one."""

    ways: int = 0
    fewest: int = 0
    most: int = 0

    def joined(self, other: Reached) -> Reached:
        """Both together; one step more is counted for what comes along an answer by `along`."""
        if not self.ways or not other.ways:
            return other if other.ways else self
        return Reached(self.ways + other.ways, min(self.fewest, other.fewest), max(self.most, other.most))

    def along(self) -> Reached:
        """The same after one more answer."""
        return self._replace(fewest=self.fewest + 1, most=self.most + 1)


def summary_of(library: Library, variant: Variant, wish: Wish) -> Summary | None:
    """The ways that `ways_of` gives, summed up without making them; None where the steps run in a circle."""
    order = graph_of(variant).order
    if not order:
        return None
    places = places_of(library, variant, wish)
    reached: dict[tuple[str, bool], Reached] = {(variant.start, not wish.to): Reached(1)}
    stops: Counter[Stop] = Counter()
    lengths: list[int] = []
    for name in order:
        if name == wish.to and (name, False) in reached:
            reached[name, True] = reached.pop((name, False))
        place = places[name]
        for been in (False, True):
            here = reached.get((name, been), Reached())
            if not here.ways:
                continue
            if place.stop and been:
                stops[place.stop] += here.ways
                lengths += (here.fewest + 1, here.most + 1)
            for _, to in place.onward:
                reached[to, been] = reached.get((to, been), Reached()).joined(here.along())
    at = {name: number for number, name in enumerate(order)}
    ordered = sorted(stops.items(), key=lambda each: (-each[1], at[each[0].last]))
    return Summary(stops.total(), min(lengths, default=0), max(lengths, default=0), dict(ordered))


def words_of(library: Library, variant: Variant, way: Way) -> Iterator[str]:
    """A way as lines: each step in its words with the answer, and where it comes to."""
    for name, answer in way.steps:
        step = variant.steps[name]
        yield f"{step.title} - {_answer(step, answer)}"
    yield where(library, variant, Stop(*way[1:]))


def where(library: Library, variant: Variant, stop: Stop) -> str:
    """Where a way stops, in words."""
    last = variant.steps[stop.last]
    if stop.hand_over and not stop.proved:
        return f"Hand over to {stop.hand_over}: {last.title}"
    if stop.hand_over:
        return f"{last.title} - hand over to {stop.hand_over} for the operational check"
    if isinstance(last, Fix):
        check = library.operational_checks.get(last.operational_check)
        return f"{last.title} - operational check{f' ({check.text})' if check else ''} passed"
    return last.title


def _answer(step: Step, answer: str) -> str:
    """An answer in words, with the reason that the file gives for going that way."""
    route = None
    if isinstance(step, Check):
        route = step.unable if answer == "unable" and step.finding(answer) is None else None
    elif answer in ("failed", "cannot"):
        route = step.failed if isinstance(step, Fix) and answer == "failed" else step.cannot
    said = "operational check failed" if isinstance(step, Fix) and answer == "failed" else answer
    return f"{said} ({route.why})" if route and route.why else said
