"""Breaking a tree in every way that applies, and who noticed: check, proof, or the comparison with the whole tree."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from faulttree.compare import JUDGE, WEAKER, Side, compare

from . import causes, gates, headers, limits, shared_breaks, ways, work  # noqa: F401  (enter their breaks into the list)
from .breaks import BREAKS, Break
from .documents import Subject, said
from .places import Ground

PROOF = ("cause-", "open-at-proof")
"""Rules that follow causes or open items over all ways."""

PLACES = 2
"""So many places a break and tree, from both ends of the file, are enough for every day."""


class Outcome(NamedTuple):
    """A tree broken at one place: the rules that noticed, and what the comparison said; None where it could not."""

    place: str
    rules: tuple[str, ...]
    weight: str | None
    kinds: frozenset[str] = frozenset()

    @property
    def caught(self) -> bool:
        return bool(self.rules) or self.weight in (WEAKER, JUDGE)

    @property
    def by(self) -> tuple[str, ...]:
        """Who noticed."""
        proof = any(rule.startswith(PROOF) for rule in self.rules)
        check = any(not rule.startswith(PROOF) for rule in self.rules)
        compared = {WEAKER: "compare: weaker", JUDGE: "compare: to be judged"}.get(self.weight or "", "")
        return tuple(each for each in ("check" * check, "proof" * proof, compared) if each)


class Row(NamedTuple):
    """A break of a tree with what came of it; no outcomes where it does not apply."""

    tree: str
    broken: Break
    outcomes: tuple[Outcome, ...]


def rows_of(subject: Subject, most: int | None = PLACES) -> Iterator[Row]:
    """Every break of a tree, at ``most`` places each, at all of them where it is None."""
    for each in BREAKS:
        yield Row(subject.id, each, tuple(outcomes_of(subject, each, most)))


def outcomes_of(subject: Subject, broken: Break, most: int | None) -> Iterator[Outcome]:
    """What came of it at each place that means something; a place where nothing changes in meaning is passed by."""
    count = sum(1 for _ in broken.places(_ground(subject)))
    found = 0
    for at in _from_both_ends(count):
        if found == most:
            return
        ground = _ground(subject)
        place, act = list(broken.places(ground))[at]
        act()
        outcome = outcome_of(subject, ground, place)
        if outcome is not None:
            found += 1
            yield outcome


def _ground(subject: Subject) -> Ground:
    return Ground(subject.copy(), subject.library, subject.tree, subject.used)


def _from_both_ends(count: int) -> Sequence[int]:
    return sorted(range(count), key=lambda at: min(at, count - 1 - at))


def outcome_of(subject: Subject, ground: Ground, place: str) -> Outcome | None:
    """Who noticed; None where the documents mean what they meant."""
    library, tree, problems = subject.read(ground.docs)
    if library == subject.library and tree == subject.tree:
        return None
    rules = tuple(sorted({problem.rule for problem in problems if said(problem) not in subject.known}))
    if library is None or tree is None:
        return Outcome(place, rules, None)
    comparison = compare(subject.side, Side(library, {tree.id: tree}), [(subject.id, tree.id)])
    kinds = frozenset(change.kind for change in comparison.changes)
    return Outcome(place, rules, next((change.weight for change in comparison.changes), ""), kinds)
