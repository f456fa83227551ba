"""A walk: the way through a tree, what is known on it, and the log of everything that was done.

A walk is a frozen value; `apply` gives the next one. Going back cuts the way and leaves the log: work done,
ticked lines, readings and failed checks stay in it whatever happens to the way, and so do the open items,
because what was done to the equipment is not undone by a change of mind.
"""

from __future__ import annotations

from faulttree.closing import (
    GIVEN_UP,
    check_given_up,
    check_may_speak_of,
    check_paired,
    check_said_closed,
    closed_afterwards,
    closings,
)
from faulttree.keys import OFF, UNANSWERED, Key, Kind, Move, Phase, Stage
from faulttree.model import Fix, Library, Step, Tree
from faulttree.moves import after, allowed, forward
from faulttree.problems import MoveError
from faulttree.readings import band_of_reading
from faulttree.site import Site, check_role
from faulttree.value import Value, replace


class Visit(Value):
    """A step that the way has left or is at, with the moves made there since it was arrived at."""

    step: str
    moves: tuple[Move, ...] = ()

    @property
    def answer(self) -> Move | None:
        """The move that left the step."""
        return self.moves[-1] if self.moves else None


class Logged(Value):
    """A line of the log: the move, with the step and the phase it was made in and who made it.

    ``site`` is what the walk went by then: it may have gone on with another revision since.
    """

    move: Move
    step: str
    phase: Phase
    role: str
    occupant: str
    site: Site

    @property
    def at_step(self) -> Step:
        """The step that the move was made at, as it was then."""
        return self.site.variant.steps[self.step]


GOING = "going"
HANDED_OVER = "handed over"
STOPPED = "stopped"


class Walk(Value):
    """One run of a person through a tree. ``way`` ends with the step that the walk is at."""

    tree: Tree
    site: Site
    key: Key
    way: tuple[Visit, ...]
    log: tuple[Logged, ...]
    state: str = GOING

    @property
    def library(self) -> Library:
        """The library that the tree belongs to."""
        return self.site.library

    @property
    def step(self) -> Step:
        """The step that the walk is at."""
        return self.site.step(self.key)

    @property
    def ended(self) -> bool:
        """Whether the way has come to its end."""
        return self.key.phase.stage == Stage.ENDED

    @property
    def given_up(self) -> bool:
        """Whether whoever stopped it said that it is not to be gone on with. What was closed since changes nothing."""
        last = (line.move for line in reversed(self.log) if line.move.kind != Kind.CLOSED)
        return self.state == STOPPED and next(last).label == GIVEN_UP

    @property
    def handed_to(self) -> str:
        """The role that it was handed over to by its last move; empty where none was said."""
        last = self.log[-1].move
        return last.to if last.kind == Kind.HAND_OVER else ""

    @property
    def over(self) -> bool:
        """Whether nothing more is asked: the way has come to its end, or the walk was given up."""
        return self.ended or self.given_up

    @property
    def passed(self) -> bool:
        """Whether the walk ended by an operational check that passed, with no hazard or disturbance left open."""
        return self.ended and isinstance(self.step, Fix)

    @property
    def failed_checks(self) -> int:
        """How many operational checks have failed in this walk."""
        return sum(line.move.kind == Kind.FAILED for line in self.log)

    def stale_before(self) -> int:
        """The index in the log from which findings count: all before the last start over are stale."""
        overs = [at for at, line in enumerate(self.log) if line.move.kind == Kind.START_OVER]
        return overs[-1] if overs else 0


def begin(tree: Tree, library: Library, move: Move) -> Walk:
    """A new walk: ``move`` (begin) carries role, model and occupant; without a role it starts as the first.

    The model may be left out where the tree has one, or where nothing in it depends on the model.
    Raises MoveError where the model is not one of the tree's or the role not one of the library's.
    """
    role = move.role or library.first_role
    check_role(library, role)
    model = move.model or (tree.models[0] if len(tree.models) == 1 or tree.alike else "")
    if model not in tree.variants:
        raise MoveError(f'"{model}" is no model of this tree', f"choose one of: {', '.join(tree.models)}")
    occupant = (move.occupant or UNANSWERED) if library.occupant else OFF
    site = Site(library, tree.variants[model], tree.fallback)
    key = site.begin(role, occupant)
    full = replace(move, role=role, model=model, occupant=occupant)
    line = Logged(full, key.step, key.phase, role, occupant, site)
    return Walk(tree, site, key, (Visit(key.step),), (line,))


def apply(walk: Walk, move: Move, was_recorded: bool = False) -> Walk:
    """The walk after ``move``. Raises MoveError where it is not allowed; the walk itself never changes.

    ``was_recorded`` says that the move comes out of a journal: one of before may say that something is closed without
    saying by whom, or by somebody whom it is not for, and is read as it was.
    """
    if walk.given_up and move.kind != Kind.CLOSED:
        raise MoveError("the walk was given up", "begin a new walk")
    if walk.over and move.kind == Kind.CLOSED:
        key = closed_afterwards(walk.library, walk.key, move)
        if not was_recorded:
            check_may_speak_of(walk.site, move.role, move.item)
        return logged(replace(walk, key=key), walk, move)
    if walk.state != GOING and move.kind != Kind.TAKE_OVER:
        raise MoveError(f"the walk is {walk.state}", "take it over first")
    if was_recorded and move.kind == Kind.CLOSED and walk.key.phase.stage == Stage.LEFT_OPEN:
        key = after(walk.site, walk.key, move)
        return logged(replace(walk, key=key, way=_lengthened(walk, key, move)), walk, move)
    if move.kind not in {each.kind for each in possible_moves(walk)} and move.kind != Kind.READING:
        raise _refusal(walk, move)
    if move.kind == Kind.TAKE_OVER and not was_recorded:
        check_said_closed(walk.site, walk.key, move)
    special = SPECIAL.get(move.kind)
    if special is not None:
        return logged(special(walk, move), walk, move)
    if move.kind == Kind.INSPECTED and not move.text.strip():
        raise MoveError("who inspected was not said", "give the name or initials of somebody other than who did it")
    if move.kind == Kind.READING:
        move = replace(move, label=band_of_reading(walk.site, walk.key, move.value))
    key = forward(walk.site, walk.key, move)
    return logged(replace(walk, key=key, way=_lengthened(walk, key, move)), walk, move)


def _refusal(walk: Walk, move: Move) -> MoveError:
    kinds = sorted({str(each.kind) for each in possible_moves(walk)})
    return MoveError(f'"{move.kind}" is not possible here', f"choose one of: {', '.join(kinds)}")


def logged(following: Walk, before: Walk, move: Move) -> Walk:
    """The walk ``following`` the move with a line in its log that says so, as things were ``before``."""
    role = move.role if move.kind == Kind.CLOSED and before.over else before.key.role
    line = Logged(move, before.key.step, before.key.phase, role, before.key.occupant, before.site)
    return replace(following, log=(*before.log, line))


def _lengthened(walk: Walk, key: Key, move: Move) -> tuple[Visit, ...]:
    """The way after a forward move: the move stands at its step, a new step follows where the move left it."""
    here = walk.way[-1]
    way = (*walk.way[:-1], replace(here, moves=(*here.moves, move)))
    return way if key.step == walk.key.step else (*way, Visit(key.step))


def possible_moves(walk: Walk) -> tuple[Move, ...]:
    """Every move that is allowed now, forward moves first; those that read the log and those always there follow."""
    later = closings(walk.site, walk.key.open_items, walk.key.role) if walk.over else ()
    if walk.state != GOING:
        return later if walk.given_up else (Move(Kind.TAKE_OVER),)
    moves = list(allowed(walk.site, walk.key))
    if not walk.passed:
        moves += [Move(Kind.BACK, to=visit.step) for visit in reversed(walk.way[:-1])]
        if walk.failed_checks:
            moves.append(Move(Kind.START_OVER))
        if walk.tree.fallback:
            moves.append(Move(Kind.FALLBACK))
    moves += [Move(Kind.NOTE), Move(Kind.ALSO_FOUND), *later]
    if not walk.ended:
        moves += [Move(Kind.HAND_OVER), Move(Kind.STOP), Move(Kind.TAKE_OVER)]
    return tuple(moves)


def _back(walk: Walk, move: Move) -> Walk:
    """Back to the step before, or to the latest visit of the step ``move.to``; what is open stays open."""
    places = [at for at, visit in enumerate(walk.way[:-1]) if move.to in ("", visit.step)]
    if not places:
        raise MoveError(f'the way has not been at "{move.to}"', "name an earlier step")
    way = walk.way[: places[-1]]
    return _placed(walk, way, walk.way[places[-1]].step)


def _placed(walk: Walk, way: tuple[Visit, ...], step: str) -> Walk:
    return replace(walk, key=walk.site.arrive(walk.key, step), way=(*way, Visit(step)))


def _start_over(walk: Walk, move: Move) -> Walk:
    return _placed(walk, (), walk.site.variant.start)


def _fallback(walk: Walk, move: Move) -> Walk:
    """A fallback line that worked changes what is open, and the occupant is asked for anew; none changes nothing."""
    if not move.line:
        return walk
    if not 1 <= move.line <= len(walk.tree.fallback):
        raise MoveError(f"there is no line {move.line}", f"choose 1 to {len(walk.tree.fallback)}, or 0 for none")
    line = walk.tree.fallback[move.line - 1]
    items = (walk.key.open_items - set(line.closes)) | set(line.opens)
    occupant = UNANSWERED if walk.library.occupant else OFF
    key = walk.key._replace(open_items=items, occupant=occupant)
    # An end may ask again: for what is open now, for the conditions of a deferral.
    return replace(walk, key=walk.site.enter(key) if walk.ended else walk.site.settle(key))


def _hand_over(walk: Walk, move: Move) -> Walk:
    if move.to:
        check_role(walk.library, move.to)
    return replace(walk, state=HANDED_OVER)


def _stop(walk: Walk, move: Move) -> Walk:
    if move.label:
        check_given_up(walk.library, walk.key, move)
    return replace(walk, state=STOPPED)


def _take_over(walk: Walk, move: Move) -> Walk:
    """Another person, or the same one later: role and occupant anew, what was found closed, every gate again."""
    role = move.role or walk.library.first_role
    check_role(walk.library, role)
    check_paired(move)
    unknown = set(move.closed) - walk.key.open_items
    if unknown:
        raise MoveError(f'"{min(unknown)}" is not open', "name open items only")
    key = walk.key._replace(
        role=role,
        occupant=(move.occupant or UNANSWERED) if walk.library.occupant else OFF,
        open_items=walk.key.open_items - set(move.closed),
        acknowledged=frozenset(),
        phase=walk.key.phase._replace(people=False, read=False),
    )
    return replace(walk, key=walk.site.settle(key), state=GOING)


def _unchanged(walk: Walk, move: Move) -> Walk:
    return walk


SPECIAL = {
    Kind.BACK: _back,
    Kind.START_OVER: _start_over,
    Kind.FALLBACK: _fallback,
    Kind.HAND_OVER: _hand_over,
    Kind.STOP: _stop,
    Kind.TAKE_OVER: _take_over,
    Kind.NOTE: _unchanged,
    Kind.ALSO_FOUND: _unchanged,
}
