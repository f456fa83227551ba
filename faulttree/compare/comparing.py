"""Two libraries, or some trees of theirs, compared in what they mean."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from faulttree.compare.changes import OTHER, WEAKER, Change, Found, at, in_order
from faulttree.compare.entries import ENTRIES
from faulttree.compare.figures import Longest
from faulttree.compare.names import Names, tree_with_names, with_names
from faulttree.compare.renaming import renamed_entries
from faulttree.compare.shared import shared_changes
from faulttree.compare.trees import longest_ways, tree_changes
from faulttree.digest import KINDS, used_names
from faulttree.model import Check, Library, Tree
from faulttree.value import Value, replace


class Side(Value):
    """One side: its shared entries, and its trees by id."""

    library: Library
    trees: Mapping[str, Tree]


class Comparison(Value):
    """What changed, what weighs most first, and the longest ways of the trees that changed."""

    changes: tuple[Change, ...]
    longest: tuple[Longest, ...] = ()

    def of(self, weight: str) -> tuple[Change, ...]:
        """The changes of that weight."""
        return tuple(change for change in self.changes if change.weight == weight)

    @property
    def other_longest(self) -> tuple[Longest, ...]:
        """The longest ways whose minutes changed."""
        return tuple(each for each in self.longest if each.before != each.after)

    @property
    def is_weaker(self) -> bool:
        """Whether something that protects became less."""
        return any(change.weight == WEAKER for change in self.changes)


def compare(
    old: Side, new: Side, pairs: Sequence[tuple[str, str]] | None = None, shared: Collection[str] | None = None
) -> Comparison:
    """What changed in meaning from ``old`` to ``new``.

    Without ``pairs`` all of both sides is compared. With them (old id, new id; either empty) only these trees and the
    shared entries that they use. With ``shared``, which has words such as "limit", only entries that are called so.
    """
    names = renamed_entries(old.library, new.library)
    library = with_names(old.library, names) if names else old.library
    trees = {name: tree_with_names(tree, names) for name, tree in old.trees.items()} if names else old.trees
    changes = [*_renamed_entries(names, old.library)]
    only = None if pairs is None else _used(library, trees, new, pairs)
    sides = (Side(library, trees), new)
    changes += shared_changes(library, new.library, _usual([*trees.values(), *new.trees.values()]), only)
    if shared is not None:
        return Comparison(tuple(_with_users(in_order(each for each in changes if each.sort in shared), sides)))
    longest: list[Longest] = []
    for before, after in paired_trees(trees, new.trees) if pairs is None else pairs:
        found = list(tree_changes(library, new.library, trees.get(before), new.trees.get(after)))
        changes += found
        if found and before in trees and after in new.trees:
            longest += longest_ways(library, new.library, trees[before], new.trees[after])
    return Comparison(tuple(_with_users(in_order(changes), sides)), tuple(longest))


def paired_trees(old: Mapping[str, Tree], new: Mapping[str, Tree]) -> list[tuple[str, str]]:
    """Which tree is compared with which: by id, then by short name; empty where one has no counterpart."""
    by_short = {tree.short: name for name, tree in new.items() if name not in old}
    pairs = []
    for name, tree in old.items():
        pairs.append((name, name if name in new else by_short.pop(tree.short, "")))
    found = {after for _, after in pairs}
    return [*pairs, *(("", name) for name in new if name not in found)]


def _used(
    library: Library, trees: Mapping[str, Tree], new: Side, pairs: Sequence[tuple[str, str]]
) -> dict[str, set[str]]:
    """By field of the library, the shared entries that these trees use, before or after."""
    only: dict[str, set[str]] = {}
    for before, after in pairs:
        for tree, shared in ((trees.get(before), library), (new.trees.get(after), new.library)):
            for field, names in used_names(tree, shared).items() if tree else ():
                only.setdefault(field, set()).update(names)
    return only


USED = frozenset(ENTRIES[field][0] for field in KINDS)
"""What shared entries are called that a tree uses or does not."""


def _with_users(changes: Sequence[Change], sides: Sequence[Side]) -> Iterator[Change]:
    """The changes, those of shared entries with the trees and recurring items that use the entry on either side."""
    users: dict[tuple[str, str], dict[str, None]] = {}
    if any(not change.tree and change.sort in USED for change in changes):
        for user, field, name in (each for side in sides for each in _uses(side)):
            users.setdefault((ENTRIES[field][0], name), {})[user] = None
    for change in changes:
        if change.tree or change.sort not in USED:
            yield change
        else:
            yield replace(change, used_by=tuple(users.get((change.sort, change.subjects[0]), ())))


def _uses(side: Side) -> Iterator[tuple[str, str, str]]:
    """Who uses which shared entry: user, field of the library, name."""
    for id, tree in side.trees.items():
        for field, names in used_names(tree, side.library).items():
            if field in KINDS:
                yield from ((id, field, name) for name in names)
    for id, item in side.library.inspection.items():
        yield from ((f"inspection item {id}", "limits", name) for name in item.limits)


def _usual(trees: Sequence[Tree]) -> dict[str, set[str]]:
    """By limit, the findings that checks call usual where they measure it."""
    usual: dict[str, set[str]] = {}
    for tree in trees:
        for variant in tree.distinct_variants():
            for step in variant.steps.values():
                if isinstance(step, Check) and step.measure:
                    usual.setdefault(step.measure, set()).update(step.usual)
    return usual


def _renamed_entries(names: Names, library: Library) -> Iterator[Change]:
    for field, pairs in names.items():
        for before, after in pairs.items():
            sort = ENTRIES[field][0]
            yield from at("", sort, after, [Found(OTHER, "renamed", "was called {} before", (before,))])
