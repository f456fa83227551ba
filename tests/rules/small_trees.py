"""Random small variants, valid by construction: steps lead to later steps only, and the last is an end.

They are built as model objects, so that what is compared with brute force owes nothing to the reading of files. All
choices are taken from the bytes of one text, which is much faster to draw than each by itself, and still shrinks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from hypothesis import strategies as st

from faulttree.model import (
    Access,
    Cause,
    Check,
    End,
    EndKind,
    Finding,
    Fix,
    Library,
    OpenItem,
    Role,
    Route,
    Step,
    Variant,
    Work,
)
from faulttree.value import replace

Thing = TypeVar("Thing")

MODEL = "Finch"
LABELS = ("Good", "Worn", "Gone")
ENDS: tuple[EndKind, ...] = ("out of service", "hand over", "deferred", "see document", "no fault found")
KINDS = (("check", "fix", "check", "again", "check", "fix", "end"), ("fix", "fix", "check"))
"""Two mixes of steps; the second has the long rows of failed fixes that are rare in the first."""
ITEMS = ("pin-out", "cover-off", "tag-hung")

LIBRARY = Library(
    operator="Skarnmoor Air Rescue",
    roles={"crew": Role("crew", "Crew", (), (), frozenset({"crew"}))},
    models={MODEL: "one"},
    urgencies={},
    open_items={
        "pin-out": OpenItem("pin-out", "hazard", "Pin out"),
        "cover-off": OpenItem("cover-off", "disturbance", "Cover off"),
        "tag-hung": OpenItem("tag-hung", "duty", "Tag hung"),
    },
    accesses={
        "left": Access("left", "Left side up", place="bench", opens=("pin-out",)),
        "right": Access("right", "Right side up", place="bench", opens=("cover-off",)),
        "shut": Access("shut", "Cover on", closes=("cover-off",)),
    },
)


class Choices:
    """Choices by the bytes of a text, one byte each; the first thing once they are used up."""

    def __init__(self, source: bytes) -> None:
        self.source = iter(source)

    def number(self, low: int, high: int) -> int:
        return low + next(self.source, 0) % (high - low + 1)

    def one(self, things: Sequence[Thing]) -> Thing:
        return things[self.number(0, len(things) - 1)]

    def perhaps(self) -> bool:
        return self.number(0, 1) == 1

    def some(self, things: Sequence[Thing], most: int = 2) -> tuple[Thing, ...]:
        found = [self.one(things) for _ in range(self.number(0, most))] if things else []
        return tuple(dict.fromkeys(found))


@dataclass
class Builder:
    """Builds the steps of one variant; a base check keeps its labels wherever it is asked again."""

    choose: Choices
    causes: list[str]
    size: int
    with_items: bool

    def later(self, at: int) -> str:
        """A later step, in half of the cases the next."""
        return f"s{at + 1 if self.choose.perhaps() else self.choose.number(at + 1, self.size - 1)}"

    def route(self, at: int) -> Route | None:
        return Route(self.later(at)) if self.choose.perhaps() else None

    def work(self, work: Thing) -> Thing:
        """The work with open items and accesses, if they are wanted."""
        if not self.with_items:
            return work
        some, accesses = self.choose.some, tuple(LIBRARY.accesses)
        return replace(work, opens=some(ITEMS, 1), closes=some(ITEMS), accesses=some(accesses))  # type: ignore[type-var]

    def check(self, at: int) -> Check:
        labels = LABELS[: self.choose.number(2, 3)]
        check = Check(
            id=f"s{at}",
            base=f"s{at}",
            text="Is it good?",
            who="",
            findings=tuple(self.finding(at, number, label) for number, label in enumerate(labels, 1)),
            unable=self.route(at),
            sure=self.choose.one((1.0, 0.8)),
            usual=self.choose.some(LABELS, 1),
        )
        return self.work(check)

    def finding(self, at: int, number: int, label: str) -> Finding:
        items = (self.choose.some(ITEMS, 1), self.choose.some(ITEMS, 1)) if self.with_items else ((), ())
        return Finding(label, number, self.later(at), "", *items)

    def fix(self, at: int) -> Fix:
        clears = self.choose.some(self.causes)
        left = [name for name in self.causes if name not in clears]
        fix = Fix(
            id=f"s{at}",
            base=f"s{at}",
            text="Fit a new one",
            who="",
            clears=clears,
            misses=self.choose.some(left, 1),
            parts={"P-1": "1"} if self.choose.perhaps() else {},
            failed=Route(self.later(at)) if self.choose.number(0, 3) else None,
            cannot=self.route(at),
            operational_check="works",
        )
        return self.work(fix)

    def end(self, at: int) -> End:
        named = dict.fromkeys(self.choose.some(self.causes), ())
        cannot = self.route(at) if at < self.size - 1 else None
        opens = self.choose.some(ITEMS, 1)
        return End(id=f"s{at}", kind=self.choose.one(ENDS), named=named, cannot=cannot, opens=opens)

    def again(self, at: int, before: list[Step]) -> Step:
        """An earlier check or fix once more, with ways of its own."""
        base = self.choose.one([step for step in before if isinstance(step, Work)])
        if isinstance(base, Check):
            findings = tuple(replace(each, goto=self.later(at)) for each in base.findings)
            return replace(base, id=f"s{at}", findings=findings, unable=self.route(at))
        assert isinstance(base, Fix)
        return replace(base, id=f"s{at}", failed=self.route(at), cannot=self.route(at))

    def steps(self) -> dict[str, Step]:
        made: list[Step] = [self.fix(0) if self.choose.perhaps() else self.check(0)]
        kinds = self.choose.one(KINDS)
        for at in range(1, self.size - 1):
            kind = self.choose.one(kinds)
            if kind == "again":
                made.append(self.again(at, made))
            elif kind == "end":
                made.append(self.end(at))
            else:
                made.append(self.check(at) if kind == "check" else self.fix(at))
        made.append(self.end(self.size - 1))
        return {step.id: step for step in made}


def variant_from(source: bytes, most_steps: int = 8, with_items: bool = False) -> Variant:
    """The variant that these bytes stand for: two to ``most_steps`` steps, one to four causes."""
    choose = Choices(source)
    names = [f"c{at}" for at in range(choose.number(1, 4))]
    steps = Builder(choose, names, choose.number(2, most_steps), with_items).steps()
    checks = {step.base: step for step in steps.values() if isinstance(step, Check)}
    causes = {name: _cause(choose, name, checks) for name in names}
    return Variant(MODEL, "s0", steps, causes)


def _cause(choose: Choices, name: str, checks: dict[str, Check]) -> Cause:
    """What it shows may be a label that the check does not have."""
    shown = {base: choose.some(LABELS) for base in checks}
    shows = {base: labels for base, labels in shown.items() if labels}
    return Cause(name, name, shows=shows, by_elimination=choose.number(0, 2) == 1)


def variants(most_steps: int = 8, with_items: bool = False) -> st.SearchStrategy[Variant]:
    """Random small variants."""
    sources = st.binary(min_size=150, max_size=150)
    return sources.map(lambda source: variant_from(source, most_steps, with_items))
