"""What a tree can leave open.

No hazard or disturbance may be open where an operational check can pass or no fault found is reached. Searched by step
and open items, which are the bits of a number; ways are not listed.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from faulttree.graph import Graph
from faulttree.keys import Kind
from faulttree.model import Access, Check, End, Fix, Library, Step, Variant, Work
from faulttree.moves import routes
from faulttree.open_items import must_close, put_right, shut_by
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
