"""Forward moves on keys: what is allowed next, and where it leads.

Equal keys allow equal forward moves to equal keys. `back`, `start over` and taking over read the walk's log and live
in `walk`.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.keys import OFF, ON, Gate, Key, Kind, Move, Phase, Stage
from faulttree.model import Check, End, Fix, Route, Step
from faulttree.open_items import closed_by_finding, must_close, put_right, seen_to
from faulttree.problems import MoveError
from faulttree.site import Site


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
        items = key.open_items - set(seen_to(site.library, step))
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
