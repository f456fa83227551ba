"""Forward moves on keys: what is allowed next, and where it leads.

Equal keys allow equal forward moves to equal keys. `back`, `start over` and taking over read the walk's log and live
in `walk`.

A step is met through gates, the first unmet one is shown: occupant, role, people, warnings. They are computed
from the key at every stage, so that an occupant back on the equipment or another person taking over meets
them again by itself. What a step and its accesses open counts once the gates were passed for the first time.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.closers import closers
from faulttree.keys import OFF, ON, Gate, Key, Kind, Move, Phase, Stage
from faulttree.model import Access, Action, Check, End, Finding, Fix, Library, Notice, Route, Step, Variant, Work
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
            return Needs(proof.occupied, proof.who, proof.people, proof.notices)
        return Needs(step.occupied, step.who, step.people, step.notices)

    def _closer(self, key: Key) -> str:
        """The role that something which must be closed is for, where the role of now may not say so of all of it."""
        every = (self.closers(name) for name in must_close(self.library, key.open_items))
        return next((roles[0] for roles in every if key.role not in roles), "")

    def closers(self, item: str) -> tuple[str, ...]:
        """The roles that may say that an open item is closed."""
        return closers(self.library, self.variant, self.fallback, item)

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


def _first_stage(end: End) -> Stage:
    """A deferral has conditions to tick; with no fault found nothing may be left open, as after a passed check."""
    if end.kind == "deferred" and end.when:
        return Stage.TICK
    return Stage.LEFT_OPEN if end.kind == "no fault found" else Stage.ENDED


def opened(library: Library, step: Step, items: frozenset[str]) -> frozenset[str]:
    """The open items once the gates are passed: accesses shut others of their place, then the step opens its own."""
    for name in step.accesses if isinstance(step, Work) else ():
        if access := library.accesses.get(name):
            items = (items - shut_by(library, access) - set(access.closes)) | set(access.opens)
    return items | set(step.opens)


def shut_by(library: Library, access: Access) -> frozenset[str]:
    """The items that other accesses of the same place opened: opening ``access`` closes them."""
    if not access.place:
        return frozenset()
    others = (each for each in library.accesses.values() if each.place == access.place and each.id != access.id)
    return frozenset(item for other in others for item in other.opens)


def put_right(library: Library, fix: Fix) -> tuple[str, ...]:
    """What a fix closes as soon as its work is done: what was taken apart.

    Work alone proves nothing, so a hazard is over, and a duty done, only once the operational check has passed.
    """
    items = library.open_items
    return tuple(name for name in fix.closes if name in items and items[name].kind == "disturbance")


def closed_by_finding(step: Check, finding: Finding, items: frozenset[str]) -> frozenset[str]:
    """The open items after a finding: what the check and the finding close, then what the finding opens."""
    return (items - set(step.closes) - set(finding.closes)) | set(finding.opens)


def must_close(library: Library, items: frozenset[str]) -> tuple[str, ...]:
    """The hazards and disturbances among ``items``, in the library's order."""
    return tuple(name for name, item in library.open_items.items() if name in items and item.must_close)


def allowed(site: Site, key: Key) -> tuple[Move, ...]:
    """Every forward move that ``key`` allows, each with what it must carry; free texts stand as a blank.

    A reading stands for one finding of each band: its label is given, its value is not.
    """
    return tuple(_allowed(site, key))


def _allowed(site: Site, key: Key) -> Iterator[Move]:
    if key.phase.stage == Stage.ENDED:
        return
    if site.library.occupant is not None:
        if key.occupant != OFF:
            yield Move(Kind.OCCUPANT_OFF)
        if key.occupant != ON:
            yield Move(Kind.OCCUPANT_ON)
    gate = site.gate(key)
    if gate == Gate.PEOPLE:
        yield Move(Kind.PEOPLE_HERE)
    if gate == Gate.WARNINGS:
        yield Move(Kind.ACKNOWLEDGE)
    if gate not in (Gate.OCCUPANT, Gate.ROLE):
        yield from _work(site, key, ready=gate is None)


def _work(site: Site, key: Key, ready: bool) -> Iterator[Move]:
    """The moves of the work itself. Before the last gates only those that give the step up."""
    step = site.step(key)
    if key.phase.stage == Stage.LEFT_OPEN:
        yield from (Move(Kind.CLOSED, item=item) for item in must_close(site.library, key.open_items))
        return
    if isinstance(step, Check):
        if ready:
            yield from (Move(Kind.FINDING, label=finding.label) for finding in step.findings)
        if step.unable:
            yield Move(Kind.UNABLE)
        return
    if ready:
        yield from (Move(kind) for kind in WORK_MOVES.get(key.phase.stage, ()))
    if step.cannot:
        yield Move(Kind.CANNOT)


WORK_MOVES = {
    Stage.DO: (Kind.DONE,),
    Stage.TICK: (Kind.DONE,),
    Stage.WAIT: (Kind.WAITED,),
    Stage.INSPECT: (Kind.INSPECTED,),
    Stage.PROVE: (Kind.PASSED, Kind.FAILED),
}


def forward(site: Site, key: Key, move: Move) -> Key:
    """The key after ``move``. Raises MoveError where ``key`` does not allow it."""
    kinds = {each.kind for each in allowed(site, key)}
    if Kind.FINDING in kinds:
        kinds.add(Kind.READING)
    if move.kind not in kinds:
        choice = ", ".join(sorted(kinds)) or "nothing"
        raise MoveError(f'"{move.kind}" is not possible here', f"choose one of: {choice}")
    return after(site, key, move)


def after(site: Site, key: Key, move: Move) -> Key:
    """The key after ``move``, whatever the gates; for `forward`, and for codes, which say only what was answered."""
    if move.kind in (Kind.OCCUPANT_OFF, Kind.OCCUPANT_ON):
        return site.settle(key._replace(occupant=OFF if move.kind == Kind.OCCUPANT_OFF else ON))
    if move.kind == Kind.PEOPLE_HERE:
        return site.settle(key._replace(phase=key.phase._replace(people=True)))
    if move.kind == Kind.ACKNOWLEDGE:
        read = frozenset(notice.id for notice in site.pending(key))
        return site.settle(key._replace(phase=key.phase._replace(read=True), acknowledged=key.acknowledged | read))
    if move.kind == Kind.CLOSED:
        return _close(site, key, move.item)
    step = site.step(key)
    if isinstance(step, Check):
        return _answer(site, key, step, move)
    return _worked(site, key, step, move)


def _close(site: Site, key: Key, item: str) -> Key:
    left = must_close(site.library, key.open_items)
    if item not in left:
        raise MoveError(f'"{item}" is not open', f"name one of: {', '.join(left)}")
    return site.settle(key._replace(open_items=key.open_items - {item}))


def _answer(site: Site, key: Key, step: Check, move: Move) -> Key:
    if move.kind == Kind.UNABLE and step.unable:
        return site.arrive(key, step.unable.to)
    finding = step.finding(move.label)
    if finding is None:
        raise MoveError(
            f'"{move.label}" is no finding of this check',
            f"choose one of: {', '.join(each.label for each in step.findings)}",
        )
    return site.arrive(key._replace(open_items=closed_by_finding(step, finding, key.open_items)), finding.goto)


def _worked(site: Site, key: Key, step: Fix | End, move: Move) -> Key:
    if move.kind == Kind.CANNOT and step.cannot:
        return site.arrive(key, step.cannot.to)
    if isinstance(step, End):
        return _ticked(key, len(step.lines), Stage.ENDED)
    if move.kind == Kind.FAILED and step.failed:
        return site.arrive(key, step.failed.to)
    if move.kind == Kind.PASSED:
        items = key.open_items - set(step.closes)
        return site.settle(key._replace(phase=Phase(Stage.LEFT_OPEN), open_items=items))
    if move.kind == Kind.DONE:
        key = _ticked(key, len(step.lines), Stage.WAIT)
        if key.phase.stage == Stage.DO:
            return key
        return _next_phase(step, key._replace(open_items=key.open_items - set(put_right(site.library, step))))
    return _next_phase(step, key._replace(phase=key.phase._replace(stage=FOLLOWS[key.phase.stage])))


FOLLOWS = {Stage.WAIT: Stage.INSPECT, Stage.INSPECT: Stage.PROVE}


def _ticked(key: Key, lines: int, then: Stage) -> Key:
    """One more line ticked; after the last the stage is ``then``."""
    line = key.phase.line + 1
    if line < lines:
        return key._replace(phase=key.phase._replace(line=line))
    return key._replace(phase=key.phase._replace(stage=then, line=0))


def _next_phase(step: Fix, key: Key) -> Key:
    """Pass over a wait and a second inspection that the fix does not have; the operational check has its own gates."""
    stage = key.phase.stage
    if stage == Stage.WAIT and not step.wait:
        stage = Stage.INSPECT
    if stage == Stage.INSPECT and not step.second_inspection:
        stage = Stage.PROVE
    if stage == Stage.PROVE:
        return key._replace(phase=Phase(stage))
    return key._replace(phase=key.phase._replace(stage=stage))


def routes(step: Step) -> Iterator[tuple[str, str]]:
    """Every way on from a step: what leads there (a label, unable, failed, cannot), and the step it leads to."""
    if isinstance(step, Check):
        yield from ((finding.label, finding.goto) for finding in step.findings if finding.goto)
        yield from _route(Kind.UNABLE, step.unable)
    elif isinstance(step, Fix):
        yield from _route(Kind.FAILED, step.failed)
        yield from _route(Kind.CANNOT, step.cannot)
    else:
        yield from _route(Kind.CANNOT, step.cannot)


def _route(kind: Kind, route: Route | None) -> Iterator[tuple[str, str]]:
    if route is not None:
        yield str(kind), route.to
