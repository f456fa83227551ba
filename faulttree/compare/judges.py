"""How a difference in one field is judged: by the words of the field and what gaining, losing or changing it weighs.

A judge takes the two libraries' view, both values and gives what it finds. Tables of judges, one a class of the
model, stand in `steps`, `heads` and `shared`; a field without a judge is told as *other*, so that none is passed over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from difflib import SequenceMatcher
from types import MappingProxyType
from typing import Any

from faulttree.compare.changes import JUDGE, OTHER, WEAKER, Found, told
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


ARTICLES = ("the ", "a ", "an ", "how ", "what ", "whether ")


def kind_of(what: str, happened: str) -> str:
    """The kind of a change: what changed and what happened to it, as one word with hyphens."""
    for article in ARTICLES:
        what = what.removeprefix(article)
    return f"{what.partition(',')[0].replace(' ', '-')}-{happened}"


Judge = Callable[[Sides, Any, Any], Iterator[Found]]


def differences(sides: Sides, old: Value, new: Value, judges: Mapping[str, Judge]) -> Iterator[Found]:
    """What differs between two values of one class, field by field; names and places are no difference."""
    after = stated(new)
    for name, before in stated(old).items():
        if name not in ("id", "base") and before != after[name]:
            yield from judges.get(name, reworded(name.replace("_", " ")))(sides, before, after[name])


def reworded(what: str, weight: str = OTHER, lost: str = "", gained: str = "") -> Judge:
    """A judge of a value that is only told before and after; ``lost`` and ``gained`` weigh where one is nothing."""

    def judge(sides: Sides, before: Any, after: Any) -> Iterator[Found]:
        if not after and lost:
            yield Found(lost, kind_of(what, "dropped"), f"{what} is dropped", before=told(before))
        elif not before and gained:
            yield Found(gained, kind_of(what, "added"), f"{what} is new", after=told(after))
        else:
            yield Found(weight, kind_of(what, "changed"), f"{what} changed", before=told(before), after=told(after))

    return judge


def number(what: str, less: str, more: str) -> Judge:
    """A judge of a number that weighs by its direction; None counts as nothing."""

    def judge(sides: Sides, before: Any, after: Any) -> Iterator[Found]:
        is_less = (after or 0) < (before or 0)
        kind = "lowered" if is_less else "raised"
        yield Found(
            less if is_less else more, kind_of(what, kind), f"{what} {kind}", before=told(before), after=told(after)
        )

    return judge


def flag(on: str, on_says: str, off: str, off_says: str, kind: str) -> Judge:
    """A judge of true and false."""

    def judge(sides: Sides, before: Any, after: Any) -> Iterator[Found]:
        yield Found(on, kind, on_says) if after else Found(off, kind, off_says)

    return judge


def named(
    what: str, lost: str, gained: str, lost_says: str = "is dropped", gained_says: str = "is new", key: str = ""
) -> Judge:
    """A judge of a list of names; ``key`` is what kinds are made of, if not ``what``."""

    def judge(sides: Sides, before: Sequence[str], after: Sequence[str]) -> Iterator[Found]:
        for name in dict.fromkeys(before):
            if name not in after:
                yield Found(lost, kind_of(key or what, "dropped"), f"{what} {{}} {lost_says}", (name,))
        for name in dict.fromkeys(after):
            if name not in before:
                yield Found(gained, kind_of(key or what, "added"), f"{what} {{}} {gained_says}", (name,))
        if set(before) == set(after):
            yield Found(
                OTHER, kind_of(what, "order"), f"the order of {what} changed", before=told(before), after=told(after)
            )

    return judge


def lines(what: str, lost: str, gained: str = JUDGE, changed: str = JUDGE) -> Judge:
    """A judge of sentences, one a line: dropped, new, reworded or in another order."""

    def judge(sides: Sides, before: Sequence[str], after: Sequence[str]) -> Iterator[Found]:
        if sorted(before) == sorted(after):
            yield Found(
                changed, kind_of(what, "order"), f"the order of {what} changed", before=told(before), after=told(after)
            )
            return
        for old, new in paired(tuple(before), tuple(after)):
            if new is None:
                yield Found(lost, kind_of(what, "dropped"), f"{what} is dropped", before=old or "")
            elif old is None:
                yield Found(gained, kind_of(what, "added"), f"{what} is new", after=new)
            else:
                yield Found(changed, kind_of(what, "changed"), f"{what} changed", before=old, after=new)

    return judge


def paired(before: Sequence[Any], after: Sequence[Any]) -> Iterator[tuple[Any, Any]]:
    """The items that differ, old beside new; None where there is no counterpart. Items have to be hashable."""
    for tag, first, last, start, end in SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
        if tag != "equal":
            old, new = list(before[first:last]), list(after[start:end])
            length = max(len(old), len(new))
            yield from zip(old + [None] * (length - len(old)), new + [None] * (length - len(new)), strict=True)


def table(what: str, lost: str, gained: str, changed: str) -> Judge:
    """A judge of a mapping from names."""

    def judge(sides: Sides, before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Found]:
        for name, old in before.items():
            if name not in after:
                yield Found(lost, kind_of(what, "dropped"), f"{what} {{}} is dropped", (name,), before=told(old))
            elif after[name] != old:
                yield Found(
                    changed, kind_of(what, "changed"), f"{what} {{}} changed", (name,), told(old), told(after[name])
                )
        for name, new in after.items():
            if name not in before:
                yield Found(gained, kind_of(what, "added"), f"{what} {{}} is new", (name,), after=told(new))

    return judge


def role(sides: Sides, before: str, after: str) -> Iterator[Found]:
    """Who may do it: lower where more roles may, or, where neither has all of the other, one that stands earlier."""
    weight = WEAKER if is_lower(sides.new_library, before, after) else JUDGE
    kind = "role-lowered" if weight == WEAKER else "role-changed"
    yield Found(weight, kind, "who does it changed", before=before or "anybody", after=after or "anybody")


def is_lower(library: Library, before: str, after: str) -> bool:
    """Whether a step for ``after`` may be done by those for whom one for ``before`` is not."""
    might = {name for name in library.roles if library.may(name, before)}
    may = {name for name in library.roles if library.may(name, after)}
    if may >= might or may <= might:
        return may > might
    order = list(library.roles)
    known = [order.index(name) if name in order else len(order) for name in (before, after)]
    return known[1] < known[0]


def notices(sides: Sides, before: Sequence[str], after: Sequence[str]) -> Iterator[Found]:
    """Warnings, cautions and notes before something: dropped, new, or in another order."""
    for name in before:
        if name not in after:
            signal = signal_of(sides.old_library, name)
            weight = JUDGE if signal == "note" else WEAKER
            yield Found(weight, "warning-removed", f"{signal} {{}} no longer stands before it", (name,))
    for name in after:
        if name not in before:
            yield Found(JUDGE, "warning-new", f"{signal_of(sides.new_library, name)} {{}} is new before it", (name,))
    if set(before) == set(after):
        says = "the order of the notices changed"
        yield Found(JUDGE, "order", says, before=told(before), after=told(after))


def signal_of(library: Library, name: str) -> str:
    """The word of a notice; one that is not known counts as a warning."""
    return library.notices[name].signal if name in library.notices else "warning"


def cited(sides: Sides, before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Found]:
    """The approved data that work rests on; for each model, where it is by model."""
    fewer = not after or any(not after.get(name) for name, each in before.items() if isinstance(each, Mapping) and each)
    weight, kind = (WEAKER, "data-dropped") if fewer and before else (JUDGE, "data-changed")
    says = "the approved data is dropped" if weight == WEAKER else "the approved data changed"
    yield Found(weight, kind, says, before=told(before), after=told(after))


OPENS = named("open item", WEAKER, JUDGE, "is no longer opened", "is opened now", "opens")
CLOSES = named("open item", JUDGE, WEAKER, "is no longer closed", "counts as closed now", "closes")
PEOPLE = number("the number of people", WEAKER, JUDGE)
OCCUPIED = flag(
    WEAKER, "may now be done with an occupant", JUDGE, "may no longer be done with an occupant", "occupant-gate"
)
"""The judges that steps and shared entries have in common."""
