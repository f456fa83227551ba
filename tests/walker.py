"""A second walker, written on its own from the rules of a walk, to compare the engine with.

It keeps one mutable state and decides step by step in plain statements; it shares no code with the engine.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from faulttree.model import Action, Check, Fix, Library, Variant


@dataclass
class Walker:
    """The state of a walk: where, how far, who, occupied, what is open, what was read."""

    library: Library
    variant: Variant
    role: str
    occupied: bool
    at: str = ""
    part: str = "new"
    line: int = 0
    people: bool = False
    read_now: bool = False
    open_items: set[str] = field(default_factory=set)
    read: set[str] = field(default_factory=set)
    trail: list[str] = field(default_factory=list)
    failed_before: bool = False
    fallback: tuple[Action, ...] = ()

    def __post_init__(self) -> None:
        self.go(self.variant.start)

    # -- what stands in the way

    def demands(self) -> tuple[str, bool, int, tuple[str, ...]]:
        """Who, whether an occupant may stay, how many people, which notices."""
        step = self.variant.steps[self.at]
        if self.part in ("open", "over") and isinstance(step, Fix):
            return "", True, 1, ()
        if isinstance(step, Fix) and self.part == "prove":
            check = self.library.operational_checks[step.operational_check]
            return check.who, check.occupied, check.people, check.notices
        if isinstance(step, Check | Fix):
            return step.who, step.occupied, step.people, step.notices
        return step.who, True, 1, ()

    def unread(self) -> set[str]:
        missing = set()
        for name in self.demands()[3]:
            notice = self.library.notices[name]
            if notice.signal == "note":
                continue
            if notice.occupied_only and self.library.occupant and not self.occupied:
                continue
            if name not in self.read:
                missing.add(name)
            if notice.every_time and not self.read_now:
                missing.add(name)
        return missing

    def obstacle(self) -> str:
        who, stays, people, _ = self.demands()
        if self.part == "over":
            return ""
        if self.library.occupant and self.occupied and not stays:
            return "occupant"
        if self.part == "open" and not all(self.role in self.may_close(name) for name in self.left()):
            return "role"
        if who and who != self.role and who not in self.library.roles[self.role].covers:
            return "role"
        if people >= 2 and not self.people:
            return "people"
        return "warnings" if self.unread() else ""

    # -- going on

    def go(self, step: str) -> None:
        self.at, self.part, self.line, self.people, self.read_now = step, "new", 0, False, False
        self.rest()

    def rest(self) -> None:
        """What happens by itself."""
        step = self.variant.steps[self.at]
        if self.part == "new" and not self.obstacle():
            if isinstance(step, Check | Fix):
                for name in step.accesses:
                    mine = self.library.accesses[name]
                    for other in self.library.accesses.values():
                        if mine.place and other.place == mine.place and other.id != name:
                            self.open_items -= set(other.opens)
                    self.open_items -= set(mine.closes)
                    self.open_items |= set(mine.opens)
                self.open_items |= set(step.opens)
                self.part = "ask" if isinstance(step, Check) else "do"
            else:
                self.open_items |= set(step.opens)
                self.part = {"deferred": "tick" if step.when else "over", "no fault found": "open"}.get(
                    step.kind, "over"
                )
        if self.part == "open" and not self.left():
            self.part, self.line, self.people, self.read_now = "over", 0, False, False

    def left(self) -> set[str]:
        return {name for name in self.open_items if self.library.open_items[name].kind != "duty"}

    def may_close(self, item: str) -> set[str]:
        """The roles that may do something which opens the hazard or disturbance."""
        found = set()
        for role in self.library.roles:
            covers = self.library.roles[role].covers
            for step in self.variant.steps.values():
                names = {*step.opens}
                for access in getattr(step, "accesses", ()):
                    names |= {*self.library.accesses[access].opens}
                for finding in getattr(step, "findings", ()):
                    names |= {*finding.opens}
                if item in names and step.who in ("", *covers):
                    found.add(role)
            if any(item in line.opens and line.who in covers for line in self.fallback):
                found.add(role)
        return found

    def words(self) -> set[str]:
        """The forward moves that are possible, in words."""
        if self.part == "over":
            return set()
        found = set()
        if self.library.occupant:
            found |= {"occupant off"} if self.occupied is True else {"occupant on"}
        obstacle = self.obstacle()
        step = self.variant.steps[self.at]
        if obstacle in ("occupant", "role"):
            return found
        if obstacle == "people":
            found.add("people here")
        if obstacle == "warnings":
            found.add("acknowledge")
        if self.part == "open":
            return found | {f"closed {name}" for name in self.left()}
        if isinstance(step, Check):
            found.add("unable")
            if not obstacle:
                found |= {f"finding {finding.label}" for finding in step.findings}
            return found
        if isinstance(step, Fix) or step.cannot:
            found.add("cannot")
        if not obstacle:
            found |= {"do": {"done"}, "tick": {"done"}, "wait": {"waited"}, "inspect": {"inspected"}}.get(
                self.part, set()
            )
            found |= {"passed", "failed"} if self.part == "prove" else set()
        return found

    def take(self, word: str) -> None:
        step = self.variant.steps[self.at]
        if word in ("occupant off", "occupant on"):
            self.occupied = word == "occupant on"
        elif word == "people here":
            self.people = True
        elif word == "acknowledge":
            self.read |= self.unread()
            self.read_now = True
        elif word.startswith("closed "):
            self.open_items.discard(word.removeprefix("closed "))
        elif isinstance(step, Check):
            self.answer(step, word)
            return
        else:
            self.work(word)
            return
        self.rest()

    def answer(self, step: Check, word: str) -> None:
        self.trail.append(self.at)
        if word == "unable":
            self.go(step.unable.to)
            return
        finding = next(each for each in step.findings if f"finding {each.label}" == word)
        self.open_items -= set(step.closes)
        self.open_items -= set(finding.closes)
        self.open_items |= set(finding.opens)
        self.go(finding.goto)

    def work(self, word: str) -> None:
        step = self.variant.steps[self.at]
        if word in ("cannot", "failed"):
            self.trail.append(self.at)
            self.failed_before |= word == "failed"
            self.go((step.cannot if word == "cannot" else step.failed).to)
            return
        if word == "passed":
            self.part, self.line, self.people, self.read_now = "open", 0, False, False
            self.open_items -= {name for name in step.closes if self.library.open_items[name].kind != "disturbance"}
        elif self.part == "tick":
            self.line += 1
            if self.line == len(step.when):
                self.part, self.line = "over", 0
        elif self.part == "do":
            self.line += 1
            if self.line == len(step.do):
                self.open_items -= {name for name in step.closes if self.library.open_items[name].kind == "disturbance"}
                self.line = 0
                self.later(step, ["wait", "inspect", "prove"])
        else:
            self.later(step, {"wait": ["inspect", "prove"], "inspect": ["prove"]}[self.part])
        self.rest()

    def later(self, step: Fix, parts: list[str]) -> None:
        has = {"wait": step.wait > 0, "inspect": step.second_inspection is not None, "prove": True}
        self.part = next(part for part in parts if has[part])
        if self.part == "prove":
            self.people, self.read_now = False, False

    def back(self) -> None:
        self.go(self.trail.pop())
