"""How a difference in one field is judged: by the words of the field and what gaining, losing or changing it weighs.

A judge takes the two libraries' view, both values and gives what it finds; it states the kinds of all that it can find.
Tables of judges, one a class of the model, stand in `steps`, `heads` and `entries`; a field without a judge is told as
*other*, so that none is passed over. What protects by itself, roles, notices, people, is judged in `gates`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any, NamedTuple

from faulttree.compare.changes import JUDGE, OTHER, Found, told
from faulttree.compare.pairs import paired
from faulttree.model import Library, Variant
from faulttree.value import Value, stated


class Sides(Value):
    """What both sides are read with: the libraries, and where a step is compared its variants."""

    old_library: Library
    new_library: Library
    old: Variant | None = None
    new: Variant | None = None
    later: Mapping[tuple[str, str], str] = MappingProxyType({})
    """Step and notice to the later step that the notice was moved to."""
    lets_go: Mapping[str, str] = MappingProxyType({})
    """Steps of the new side that let the equipment go, or lead there by new steps, with the end that they come to."""


Finds = Callable[[Sides, Any, Any], Iterator[Found]]


class Judge(NamedTuple):
    """What judges a field, and the kinds of what it can find: a promise to programs, so they are written out."""

    kinds: tuple[str, ...]
    finds: Finds

    def __call__(self, sides: Sides, before: Any, after: Any) -> Iterator[Found]:
        """What differs between two values of the field."""
        return self.finds(sides, before, after)


def judging(*kinds: str) -> Callable[[Finds], Judge]:
    """Makes a judge of a function that finds these kinds."""
    return lambda finds: Judge(kinds, finds)


def kinds_of(*judges: Judge) -> tuple[str, ...]:
    """All kinds that these judges find."""
    return tuple(dict.fromkeys(kind for judge in judges for kind in judge.kinds))


def differences(sides: Sides, old: Value, new: Value, judges: Mapping[str, Judge]) -> Iterator[Found]:
    """What differs between two values of one class, field by field; names and places are no difference."""
    after = stated(new)
    for name, before in stated(old).items():
        if name not in ("id", "base") and before != after[name]:
            yield from judges.get(name, reworded(name.replace("_", " "), "field"))(sides, before, after[name])


def reworded(what: str, kind: str, weight: str = OTHER, lost: str = "", gained: str = "") -> Judge:
    """A judge of a value that is only told before and after; ``lost`` and ``gained`` weigh where one is nothing."""
    kinds = [f"{kind}-changed"] + [f"{kind}-dropped"] * bool(lost) + [f"{kind}-added"] * bool(gained)

    @judging(*kinds)
    def judge(sides: Sides, before: Any, after: Any) -> Iterator[Found]:
        if not after and lost:
            yield Found(lost, f"{kind}-dropped", f"{what} is dropped", before=told(before))
        elif not before and gained:
            yield Found(gained, f"{kind}-added", f"{what} is new", after=told(after))
        else:
            yield Found(weight, f"{kind}-changed", f"{what} changed", before=told(before), after=told(after))

    return judge


def number(what: str, kind: str, less: str, more: str) -> Judge:
    """A judge of a number that weighs by its direction; None counts as nothing."""

    @judging(f"{kind}-lowered", f"{kind}-raised")
    def judge(sides: Sides, before: Any, after: Any) -> Iterator[Found]:
        is_less = (after or 0) < (before or 0)
        way = "lowered" if is_less else "raised"
        weight = less if is_less else more
        yield Found(weight, f"{kind}-{way}", f"{what} {way}", before=told(before), after=told(after))

    return judge


def flag(kind: str, on: str, on_says: str, off: str, off_says: str) -> Judge:
    """A judge of true and false."""

    @judging(kind)
    def judge(sides: Sides, before: Any, after: Any) -> Iterator[Found]:
        yield Found(on, kind, on_says) if after else Found(off, kind, off_says)

    return judge


def named(
    what: str, kind: str, lost: str, gained: str, lost_says: str = "is dropped", gained_says: str = "is new"
) -> Judge:
    """A judge of a list of names."""

    @judging(f"{kind}-dropped", f"{kind}-added", f"{kind}-order")
    def judge(sides: Sides, before: Sequence[str], after: Sequence[str]) -> Iterator[Found]:
        for name in dict.fromkeys(before):
            if name not in after:
                yield Found(lost, f"{kind}-dropped", f"{what} {{}} {lost_says}", (name,))
        for name in dict.fromkeys(after):
            if name not in before:
                yield Found(gained, f"{kind}-added", f"{what} {{}} {gained_says}", (name,))
        if set(before) == set(after):
            says = f"the order of {what} changed"
            yield Found(OTHER, f"{kind}-order", says, before=told(before), after=told(after))

    return judge


def lines(what: str, kind: str, lost: str, gained: str = JUDGE, changed: str = JUDGE) -> Judge:
    """A judge of sentences, one a line: dropped, new, reworded or in another order."""

    @judging(f"{kind}-dropped", f"{kind}-added", f"{kind}-changed", f"{kind}-order")
    def judge(sides: Sides, before: Sequence[str], after: Sequence[str]) -> Iterator[Found]:
        if sorted(before) == sorted(after):
            says = f"the order of {what} changed"
            yield Found(JUDGE, f"{kind}-order", says, before=told(before), after=told(after))
            return
        for old, new in paired(tuple(before), tuple(after)):
            if new is None:
                yield Found(lost, f"{kind}-dropped", f"{what} is dropped", before=old or "")
            elif old is None:
                yield Found(gained, f"{kind}-added", f"{what} is new", after=new)
            else:
                yield Found(changed, f"{kind}-changed", f"{what} changed", before=old, after=new)

    return judge


def table(what: str, kind: str, lost: str, gained: str, changed: str) -> Judge:
    """A judge of a mapping from names."""

    @judging(f"{kind}-dropped", f"{kind}-added", f"{kind}-changed")
    def judge(sides: Sides, before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Found]:
        for name, old in before.items():
            if name not in after:
                yield Found(lost, f"{kind}-dropped", f"{what} {{}} is dropped", (name,), before=told(old))
            elif after[name] != old:
                values = told(old), told(after[name])
                yield Found(changed, f"{kind}-changed", f"{what} {{}} changed", (name,), *values)
        for name, new in after.items():
            if name not in before:
                yield Found(gained, f"{kind}-added", f"{what} {{}} is new", (name,), after=told(new))

    return judge
