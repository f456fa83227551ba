"""Random small variants, valid by construction: steps lead to later steps only, and the last is an end.

They are drawn as model objects, so that what is compared with brute force owes nothing to the reading of files.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

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

MODEL = "Finch"
LABELS = ("Good", "Worn", "Gone")
ENDS: tuple[EndKind, ...] = ("out of service", "hand over", "deferred", "see document", "no fault found")
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


@dataclass
class Drawer:
    """Draws the steps of one variant; a base check keeps its labels wherever it is asked again."""

    draw: Any
    causes: list[str]
    size: int
    with_items: bool

    def some(self, names: list[str] | tuple[str, ...], most: int = 2) -> tuple[str, ...]:
        return tuple(self.draw(st.lists(st.sampled_from(names), unique=True, max_size=most)))

    def later(self, at: int) -> str:
        return f"s{self.draw(st.integers(at + 1, self.size - 1))}"

    def route(self, at: int) -> Route | None:
        return Route(self.later(at)) if self.draw(st.booleans()) else None

    def items(self) -> dict[str, tuple[str, ...]]:
        if not self.with_items:
            return {}
        accesses = tuple(LIBRARY.accesses)
        return {"opens": self.some(ITEMS, 1), "closes": self.some(ITEMS), "accesses": self.some(accesses)}

    def check(self, at: int) -> Check:
        labels = LABELS[: self.draw(st.integers(2, 3))]
        return Check(
            id=f"s{at}",
            base=f"s{at}",
            text="Is it good?",
            who="",
            findings=self.findings(at, labels),
            unable=self.route(at),
            sure=self.draw(st.sampled_from((1.0, 0.8))),
            usual=self.some(labels, 1),
            **self.items(),
        )

    def findings(self, at: int, labels: tuple[str, ...]) -> tuple[Finding, ...]:
        found = []
        for number, label in enumerate(labels, 1):
            items = {"opens": self.some(ITEMS, 1), "closes": self.some(ITEMS, 1)} if self.with_items else {}
            found.append(Finding(label, number, self.later(at), **items))
        return tuple(found)

    def fix(self, at: int) -> Fix:
        clears = self.some(self.causes)
        left = [name for name in self.causes if name not in clears]
        return Fix(
            id=f"s{at}",
            base=f"s{at}",
            text="Fit a new one",
            who="",
            clears=clears,
            misses=self.some(left, 1) if left and self.draw(st.booleans()) else (),
            parts={"P-1": "1"} if self.draw(st.booleans()) else {},
            failed=self.route(at),
            cannot=self.route(at),
            operational_check="works",
            **self.items(),
        )

    def end(self, at: int, last: bool) -> End:
        named = {name: () for name in self.some(self.causes)}
        cannot = None if last else self.route(at)
        return End(id=f"s{at}", kind=self.draw(st.sampled_from(ENDS)), named=named, cannot=cannot)

    def again(self, at: int, before: list[Step]) -> Step:
        """An earlier check or fix once more, with ways of its own."""
        bases = [step for step in before if isinstance(step, Work)]
        if not bases:
            return self.check(at)
        base = self.draw(st.sampled_from(bases))
        if isinstance(base, Check):
            findings = tuple(replace(each, goto=self.later(at)) for each in base.findings)
            return replace(base, id=f"s{at}", findings=findings, unable=self.route(at))
        assert isinstance(base, Fix)
        return replace(base, id=f"s{at}", failed=self.route(at), cannot=self.route(at))

    def steps(self) -> dict[str, Step]:
        made: list[Step] = []
        for at in range(self.size - 1):
            kind = self.draw(st.sampled_from(("check", "check", "check", "fix", "fix", "again", "end")))
            if kind == "again":
                made.append(self.again(at, made))
            elif kind == "end":
                made.append(self.end(at, last=False) if at else self.check(at))
            else:
                made.append(self.check(at) if kind == "check" else self.fix(at))
        made.append(self.end(self.size - 1, last=True))
        return {step.id: step for step in made}


@st.composite
def variants(draw: st.DrawFn, most_steps: int = 8, with_items: bool = False) -> Variant:
    """A variant of two to ``most_steps`` steps and one to four causes."""
    names = [f"c{at}" for at in range(draw(st.integers(1, 4)))]
    steps = Drawer(draw, names, draw(st.integers(2, most_steps)), with_items).steps()
    checks = {step.base: step for step in steps.values() if isinstance(step, Check)}
    causes = {name: _cause(draw, name, checks) for name in names}
    return Variant(MODEL, "s0", steps, causes)


def _cause(draw: st.DrawFn, name: str, checks: dict[str, Check]) -> Cause:
    shows = {}
    for base, check in checks.items():
        labels = [each.label for each in check.findings]
        shown = tuple(draw(st.lists(st.sampled_from(labels), unique=True, max_size=2)))
        if shown:
            shows[base] = shown
    return Cause(name, name, shows=shows, by_elimination=draw(st.sampled_from((False, False, True))))
