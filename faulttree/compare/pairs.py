"""Which line or name of one side is which of the other, in a time that stays in bounds whatever the files hold."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Hashable, Iterator, Sequence
from difflib import SequenceMatcher
from itertools import pairwise
from typing import Any

MOST_LINES = 200
"""So many lines a side are paired by their order, in a time that can grow with the third power of their number."""

MOST_LETTERS = 500
"""So many letters of two texts are enough to see whether they say the same."""


def paired(before: Sequence[Any], after: Sequence[Any]) -> Iterator[tuple[Any, Any]]:
    """The items that differ, old beside new; None where there is no counterpart. Items have to be hashable.

    Of longer lists no two that differ are called the same item: each is told as gone, and as new.
    """
    if max(len(before), len(after)) > MOST_LINES:
        yield from ((old, None) for old in _left_over(before, after))
        yield from ((None, new) for new in _left_over(after, before))
        return
    for tag, first, last, start, end in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if tag != "equal":
            old, new = list(before[first:last]), list(after[start:end])
            length = max(len(old), len(new))
            yield from zip(old + [None] * (length - len(old)), new + [None] * (length - len(new)), strict=True)


def matched(before: Sequence[Any], after: Sequence[Any], *keys: Callable[[Any], Hashable]) -> dict[int, int]:
    """The index of each old item with that of its new one: alike by the first of ``keys``, else by the next.

    Of several alike the first goes with the first, and each item is in one pair at most.
    """
    pairs: dict[int, int] = {}
    left = list(range(len(after)))
    for key in keys:
        waiting: dict[Hashable, deque[int]] = {}
        for place in left:
            waiting.setdefault(key(after[place]), deque()).append(place)
        for at, old in enumerate(before):
            if at not in pairs and (places := waiting.get(key(old))):
                pairs[at] = places.popleft()
        left = sorted(place for places in waiting.values() for place in places)
    return dict(sorted(pairs.items()))


def _left_over(these: Sequence[Any], those: Sequence[Any]) -> Iterator[Any]:
    """The items that are more often in ``these``, in their order."""
    have = Counter(those)
    for each in these:
        have[each] -= 1
        if have[each] < 0:
            yield each


def likeness_of_texts(one: str, other: str) -> float:
    """How much two texts are alike, from 0 to 1: the share of pairs of neighbouring letters that both have.

    Dice's coefficient of the bags of pairs (Dice, 1945, from memory): linear in the length of the texts.
    """
    if one == other:
        return 1.0
    bags = [Counter(pairwise(text)) for text in (one[:MOST_LETTERS], other[:MOST_LETTERS])]
    total = sum(bag.total() for bag in bags)
    return 2 * (bags[0] & bags[1]).total() / total if total else 0.0
