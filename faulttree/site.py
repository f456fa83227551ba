"""Where a walk takes place, and the gates there: what a step asks of the people at it before its work.

A step is met through gates, the first unmet one is shown: occupant, role, people, warnings. They are computed
from the key at every stage, so that an occupant back on the equipment or another person taking over meets
them again by itself. What a step and its accesses open counts once the gates were passed for the first time.
"""

from __future__ import annotations

from faulttree.closers import closers, openers
from faulttree.keys import OFF, Gate, Key, Phase, Stage
from faulttree.model import Action, Check, End, Fix, Library, Notice, Step, Variant
from faulttree.open_items import must_close, opened
from faulttree.problems import MoveError
from faulttree.value import Value


class Needs(Value):
    """What a stage asks of the people at it."""

    occupied: bool
    who: str
    people: int
    notices: tuple[str, ...]


NOTHING = Needs(True, "", 1, ())


class Site(Value):
    """Where a walk takes place: the library, the tree's variant for one model, and the lines of its fallback."""

    library: Library
    variant: Variant
    fallback: tuple[Action, ...] = ()

    def step(self, key: Key) -> Step:
        """The step of a key."""
        return self.variant.steps[key.step]

    def needs(self, key: Key) -> Needs:
        """What the stage of ``key`` asks of the people at it."""
        step = self.step(key)
        if key.phase.stage == Stage.LEFT_OPEN and (closer := self._closer(key)):
            return Needs(True, closer, 1, ())
        if isinstance(step, End):
            return Needs(True, step.who, 1, ())
        if key.phase.stage in (Stage.LEFT_OPEN, Stage.ENDED):
            return NOTHING
        if key.phase.stage == Stage.PROVE and isinstance(step, Fix):
            proof = self.library.operational_checks[step.operational_check]
            return Needs(proof.occupied, proof.who, proof.people, self._of_use(key, proof.notices))
        return Needs(step.occupied, step.who, step.people, self._of_use(key, step.notices))

    def _of_use(self, key: Key, names: tuple[str, ...]) -> tuple[str, ...]:
        """The notices that matter with the occupant where ``key`` has it; names that are no notice stay."""
        if self.library.occupant is None or key.occupant != OFF:
            return names
        known = self.library.notices
        return tuple(name for name in names if name not in known or not known[name].occupied_only)

    def _closer(self, key: Key) -> str:
        """The role that something which must be closed is for, where the role of now may not say so of all of it."""
        every = (self.closers(name) for name in must_close(self.library, key.open_items))
        return next((roles[0] for roles in every if key.role not in roles), "")

    def closers(self, item: str) -> tuple[str, ...]:
        """The roles that may say that an open item is closed."""
        return closers(self.library, self.variant, self.fallback, item)

    def is_opened(self, item: str) -> bool:
        """Whether a step, or a line of the fallback, opens an item."""
        return bool(openers(self.library, self.variant, self.fallback, item))

    def notices(self, names: tuple[str, ...]) -> tuple[Notice, ...]:
        """The notices of those names, warnings first, then cautions, then notes."""
        return self.library.notices_named(names)

    def pending(self, key: Key) -> tuple[Notice, ...]:
        """The warnings and cautions that are new to this person, or that are read every time and not yet this time."""
        return tuple(
            notice
            for notice in self.notices(self.needs(key).notices)
            if notice.needs_acknowledging
            and (notice.id not in key.acknowledged or (notice.every_time and not key.phase.read))
        )

    def gate(self, key: Key) -> Gate | None:
        """The first gate that is not passed."""
        if key.phase.stage == Stage.ENDED:
            return None
        needs = self.needs(key)
        if self.library.occupant is not None and key.occupant != OFF and not needs.occupied:
            return Gate.OCCUPANT
        if not self.library.may(key.role, needs.who):
            return Gate.ROLE
        if needs.people > 1 and not key.phase.people:
            return Gate.PEOPLE
        if self.pending(key):
            return Gate.WARNINGS
        return None

    def begin(self, role: str, occupant: str) -> Key:
        """The key of a new walk at the start of the tree."""
        return self.settle(self.before_start(role, occupant))

    def before_start(self, role: str, occupant: str) -> Key:
        """The key before the gates of the first step: nothing open, nothing acknowledged."""
        return Key(self.variant.start, Phase(), role, self.variant.model, occupant, frozenset(), frozenset())

    def arrive(self, key: Key, step: str) -> Key:
        """The key on arriving at ``step``."""
        return self.settle(key._replace(step=step, phase=Phase()))

    def settle(self, key: Key) -> Key:
        """Go on where nothing is asked: to the step's work once no gate is left, to the end once all is closed."""
        if key.phase.stage == Stage.ARRIVED and self.gate(key) is None:
            return self.enter(key)
        if key.phase.stage == Stage.LEFT_OPEN and not must_close(self.library, key.open_items):
            return key._replace(phase=Phase(Stage.ENDED))
        return key

    def enter(self, key: Key) -> Key:
        """Begin the step's work, or end: open its accesses and what it opens."""
        step = self.step(key)
        items = opened(self.library, step, key.open_items)
        if isinstance(step, End):
            return self.settle(key._replace(phase=Phase(_first_stage(step)), open_items=items))
        stage = Stage.ASK if isinstance(step, Check) else Stage.DO
        return key._replace(phase=key.phase._replace(stage=stage), open_items=items)


def check_role(library: Library, role: str) -> None:
    """Raises MoveError where the library has no such role."""
    if role not in library.roles:
        raise MoveError(f'"{role}" is no role here', f"choose one of: {', '.join(library.roles)}")


def _first_stage(end: End) -> Stage:
    """A deferral has conditions to tick; with no fault found nothing may be left open, as after a passed check."""
    if end.kind == "deferred" and end.when:
        return Stage.TICK
    return Stage.LEFT_OPEN if end.kind == "no fault found" else Stage.ENDED
