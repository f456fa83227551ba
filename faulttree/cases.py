"""The example walks that a tree carries in `cases`, walked by the engine: each must arrive where it says.

Nobody takes over: the role of a case does every step on the way, with nobody on the equipment. A case with a cause
follows every finding that the cause may show, and one way that arrives is enough; answers, where there are any,
are all given. Beside it: which steps and answers of a tree neither a cause nor a case ever comes to.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import NamedTuple

from faulttree.keys import OFF, Gate, Key, Kind, Move, Stage
from faulttree.model import Case, Check, Fix, Library, Step, Variant
from faulttree.moves import after, forward, routes
from faulttree.problems import MoveError
from faulttree.site import Site

GATES = {Gate.PEOPLE: Kind.PEOPLE_HERE, Gate.WARNINGS: Kind.ACKNOWLEDGE}
WORK = {Stage.DO: Kind.DONE, Stage.TICK: Kind.DONE, Stage.WAIT: Kind.WAITED, Stage.INSPECT: Kind.INSPECTED}
ANSWERS = {str(kind): kind for kind in (Kind.UNABLE, Kind.CANNOT, Kind.PASSED, Kind.FAILED)}
"""Words that a case may give as answers, beside the labels of findings."""

Way = tuple[tuple[str, str], ...]
"""Steps with the answers that left them."""


class Outcome(NamedTuple):
    """How a case went: the way, the step that it came to, and why it stopped there; ``why`` is empty if it arrived."""

    way: Way
    step: str
    why: str
    answer: int = -1
    """The index of the answer of the case that does not fit; -1 where it stopped for another reason."""
    fitting: tuple[str, ...] = ()
    """The answers that would fit in its place."""

    @property
    def arrived(self) -> bool:
        """Whether the case arrived where it says."""
        return not self.why


class Place(NamedTuple):
    """Where a case is: the key, how many of its answers were given, and the way so far."""

    key: Key
    given: int
    way: Way


def run_case(library: Library, variant: Variant, case: Case) -> Outcome:
    """Walk ``case`` on one model. Where no way arrives, the outcome is that of the first, in the order of findings.

    Raises KeyError where the tree or the case names what is not there; other rules tell of that.
    """
    site = Site(library, variant)
    waiting = [Place(site.begin(case.role or library.first_role, OFF), 0, ())]
    seen: set[tuple[Key, int]] = set()
    first: Outcome | None = None
    while waiting:
        place = waiting.pop()
        if (place.key, place.given) in seen:
            continue
        seen.add((place.key, place.given))
        why = _stopped(site, case, place)
        if not why and _is_there(case, place):
            return Outcome(place.way, place.key.step, "")
        following = [] if why else list(_onward(site, case, place))
        if not following and first is None:
            first = Outcome(place.way, place.key.step, why) if why else _no_answer(site, case, place)
        waiting += reversed(following)
    return first or Outcome((), variant.start, "no way leads on")


def _is_there(case: Case, place: Place) -> bool:
    return place.key.step == case.arrives and place.given == len(case.answers)


def _stopped(site: Site, case: Case, place: Place) -> str:
    """Why nothing more can be done here, if so."""
    key = place.key
    if site.gate(key) == Gate.ROLE:
        part = "the operational check of " if key.phase.stage == Stage.PROVE else ""
        return f'{part}"{key.step}" is not for the role "{key.role}"'
    if _is_there(case, place):
        return ""
    if key.phase.stage == Stage.ENDED:
        return f'the walk ends at "{key.step}"'
    if case.answers and place.given == len(case.answers):
        return f'its answers end at "{key.step}"'
    return ""


def _no_answer(site: Site, case: Case, place: Place) -> Outcome:
    """Where no move was possible: the answer that is next does not fit."""
    name = place.key.step
    if place.given == len(case.answers):
        return Outcome(place.way, name, f'nothing can be done at "{name}"')
    why = f'"{case.answers[place.given]}" is no answer at "{name}"'
    return Outcome(place.way, name, why, place.given, _fitting(site.step(place.key)))


def _fitting(step: Step) -> tuple[str, ...]:
    """The answers that a step may be left by, as a case writes them."""
    if isinstance(step, Check):
        unable = (str(Kind.UNABLE),) if step.unable else ()
        return (*(finding.label for finding in step.findings), *unable)
    return str(Kind.PASSED), str(Kind.FAILED)


def _onward(site: Site, case: Case, place: Place) -> Iterator[Place]:
    """The places that may come next."""
    key, step = place.key, site.step(place.key)
    gate, stage = site.gate(key), key.phase.stage
    if gate is not None:
        yield from _after(site, place, Move(GATES[gate]), "", 0)
    elif isinstance(step, Check) or stage == Stage.PROVE:
        if case.answers:
            answer = case.answers[place.given]
            yield from _after(site, place, _named(step, answer), answer, 1)
        else:
            for move in _shown(site, step, case):
                yield from _after(site, place, move, move.label or str(move.kind), 0)
    elif case.answers and case.answers[place.given] == str(Kind.CANNOT):
        yield from _after(site, place, Move(Kind.CANNOT), str(Kind.CANNOT), 1)
    elif stage in WORK:
        yield from _after(site, place, Move(WORK[stage], text="AB"), "", 0)


def _after(site: Site, place: Place, move: Move | None, answer: str, given: int) -> Iterator[Place]:
    """The place after a move; none where the move is not possible. Only an answer of the file may be impossible."""
    if move is None:
        return
    try:
        key = forward(site, place.key, move) if given else after(site, place.key, move)
    except MoveError:
        return
    way = (*place.way, (place.key.step, answer)) if answer else place.way
    yield Place(key, place.given + given, way)


def _named(step: Step, answer: str) -> Move | None:
    """The move of a written answer: the label of a finding, or a word such as failed or unable."""
    if isinstance(step, Check) and step.finding(answer):
        return Move(Kind.FINDING, label=answer)
    return Move(ANSWERS[answer]) if answer in ANSWERS else None


def _shown(site: Site, step: Step, case: Case) -> list[Move]:
    """What the cause of the case may show here; without a cause, anything."""
    if isinstance(step, Check):
        labels = tuple(each.label for each in step.findings)
        if case.cause:
            labels = site.variant.shown(step, site.variant.causes[case.cause])
        return [Move(Kind.FINDING, label=label) for label in labels]
    cured = isinstance(step, Fix) and case.cause in step.clears
    return [Move(Kind.PASSED if cured else Kind.FAILED)]


# -- what nothing exercises


class Unused(NamedTuple):
    """What neither a cause nor a case comes to: steps, and answers of steps that are come to."""

    steps: tuple[str, ...]
    answers: Way


def unused(variant: Variant, arrived: Collection[Outcome]) -> Unused:
    """What no cause, read as its file says, and no way of a case exercises; ``arrived`` are those that did."""
    used = {edge for cause in variant.causes for edge in _edges_of(variant, cause)}
    used |= {edge for outcome in arrived for edge in outcome.way}
    leads = {(name, answer): to for name, step in variant.steps.items() for answer, to in routes(step)}
    reached = {variant.start, *(leads[edge] for edge in used if edge in leads)}
    reached |= {outcome.step for outcome in arrived}
    steps = tuple(name for name in variant.steps if name not in reached and not _is_table_only(variant.steps[name]))
    return Unused(steps, tuple(edge for edge in leads if edge not in used and edge[0] in reached))


def _is_table_only(step: Step) -> bool:
    return isinstance(step, Check) and step.table_only


def _edges_of(variant: Variant, cause: str) -> Iterator[tuple[str, str]]:
    """The answers that a cause gives on its ways, step by step, those of fixes that do not clear it included."""
    waiting, seen = [variant.start], set[str]()
    while waiting:
        name = waiting.pop()
        if name in seen or name not in variant.steps:
            continue
        seen.add(name)
        for answer, to in routes(step := variant.steps[name]):
            if _gives(variant, step, answer, cause):
                yield name, answer
                waiting.append(to)


def _gives(variant: Variant, step: Step, answer: str, cause: str) -> bool:
    """Whether somebody with this cause may give the answer, everything being possible to do."""
    if isinstance(step, Check):
        return step.finding(answer) is not None and answer in variant.shown(step, variant.causes[cause])
    return isinstance(step, Fix) and answer == Kind.FAILED and cause not in (*step.clears, *step.misses)
