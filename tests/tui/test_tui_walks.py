"""Whole walks: the screen and line mode make the same moves of the same person, to the same end, in the same record."""

from __future__ import annotations

import random
from collections import deque
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

import pytest
from tui_hands import OCCUPANT_KEYS, answer, lead_to, make, to_the_work, until
from tui_lines import LEAVING, begun_by_lines, by_lines, journal_lines
from tui_runs import (
    LAMP,
    LEG,
    REL,
    TREES,
    WHEEL,
    Ramp,
    filled,
    letters,
    loaded,
    next_move,
    running,
    variants_of,
    ways_on,
)

from faulttree.closing import said_closed
from faulttree.explore import broken_in
from faulttree.journal import read_journal, replay
from faulttree.keys import OFF, ON, Gate, Kind, Move
from faulttree.library import load_tree
from faulttree.model import End, Fix, Library, Tree, Variant
from faulttree.moves import routes
from faulttree.present import hand_over_page, screen
from faulttree.present.blocks import open_lines
from faulttree.present.start import LIST_TITLE
from faulttree.walk import HANDED_OVER, STOPPED, Walk, possible_moves

pytestmark = pytest.mark.usefixtures("quick_keys")

MOST_MOVES = 70


class Case(NamedTuple):
    """Who walks which tree: model, role, and what is said of the occupant."""

    tree: str
    model: str
    role: str
    occupant: str


CASES = [
    Case(tree, variant.model, role, occupant)
    for tree in TREES
    for variant in variants_of(tree)
    for role in loaded(tree)[0].roles
    for occupant in ((ON, OFF, "") if loaded(tree)[0].occupant else (OFF,))
]


def covering(tree: str) -> list[Case]:
    """Few cases of a tree in which each model, each role and each state of the occupant comes."""
    mine = [case for case in CASES if case.tree == tree]
    models, roles, states = ([*dict.fromkeys(case[part] for case in mine)] for part in (1, 2, 3))
    most = max(len(models), len(roles), len(states))
    each = [(models[at % len(models)], roles[at % len(roles)], states[at % len(states)]) for at in range(most)]
    return [Case(tree, *parts) for parts in each]


FEW = [covering(tree)[at % len(covering(tree))] for at, tree in enumerate(TREES)]
"""The cases that are walked at each run of the tests: one of each tree, and of each role and state; others are long."""


# -- the same walk in both, to the same record


def check_journal(path: Path, walk: Walk) -> None:
    """The journal holds the walk: every move, to the same place."""

    def load(folder: Path, name: str) -> tuple[Tree, Library]:
        again = load_tree(folder, name)
        assert again.library is not None
        return again.trees[name], again.library

    again = replay(read_journal(path), load)
    assert (again.key, again.log, again.state) == (walk.key, walk.log, walk.state)


def check_lines(ramp: Ramp, folder: Path) -> str:
    """Line mode comes to the same place with the same record by the same moves; gives what it printed."""
    first, *moves = [entry.move for entry in ramp.session.journal.recorded.entries]
    other, printed, path = by_lines(folder, ramp.walk.tree.id, first, moves)
    assert other.log == ramp.walk.log
    assert (other.key, other.state) == (ramp.walk.key, ramp.walk.state)
    assert list(journal_lines(path)) == list(journal_lines(ramp.session.journal.path))
    return letters(printed.replace("\n", " "))


async def check_words(ramp: Ramp, printed: str) -> None:
    """The end, or the hand-over, says the same on the screen and in line mode, but for what is asked there."""
    walk = ramp.walk
    blocks = hand_over_page(walk) if walk.state == HANDED_OVER else screen(walk)
    await ramp.press("e")
    on_screen = letters("".join(row.text for row in ramp.screen.rows(ramp.screen.canvas())))
    for block in blocks:
        # The patient's line has the key of the fallback on the screen, and its word in line mode.
        lines = [line.split(". ")[0] for line in block.lines] if block.kind == "first" else block.lines
        for line in lines:
            assert letters(line) in printed, line
            assert letters(line) in on_screen, line
    await ramp.press("enter")


async def check_same(ramp: Ramp, folder: Path) -> None:
    """What the screen made is on the disk, and line mode makes the same of it."""
    check_journal(ramp.session.journal.path, ramp.walk)
    await check_words(ramp, check_lines(ramp, folder))


async def begun(ramp: Ramp, case: Case) -> None:
    """Answer what is asked before a walk that was given its model and role."""
    if loaded(case.tree)[0].occupant:
        await ramp.press(OCCUPANT_KEYS[case.occupant])
    key = ramp.walk.key
    assert (key.role, key.model) == (case.role, case.model)
    assert key.occupant == (case.occupant or key.occupant)


# -- moves at random, and then straight to an end

BESIDE = (Kind.NOTE, Kind.ALSO_FOUND, Kind.BACK, Kind.START_OVER, Kind.FALLBACK, Kind.OCCUPANT_ON, Kind.OCCUPANT_OFF)


def beside(walk: Walk, chance: random.Random) -> Move | None:
    """A move beside the answers, if one of these is possible."""
    moves = [move for move in possible_moves(walk) if move.kind in BESIDE]
    if walk.site.gate(walk.key) == Gate.OCCUPANT:
        moves = [move for move in moves if not move.kind.startswith("occupant")]
    move = chance.choice(moves)
    if move.kind == Kind.FALLBACK:
        return Move(move.kind, line=chance.randrange(len(walk.tree.fallback) + 1))
    return filled(walk, move, "rust at the pivot")


def chosen(walk: Walk, chance: random.Random) -> Move:
    """The next move: mostly an answer, now and then something beside."""
    if chance.random() < 0.15 and (move := beside(walk, chance)):
        return move
    if walk.site.gate(walk.key) is not None:
        return next_move(walk, "")
    moves = ways_on(walk)
    onward = [move for move in moves if move.kind not in (Kind.UNABLE, Kind.CANNOT)]
    return filled(walk, chance.choice(onward if onward and chance.random() < 0.85 else moves))


def straight(walk: Walk) -> Move:
    """The next move on the shortest way to some work, and to the end of it."""
    wanted = str(Kind.PASSED) if isinstance(walk.step, Fix | End) else _to_work(walk.site.variant, walk.key.step)
    return next_move(walk, wanted)


def _to_work(variant: Variant, step: str) -> str:
    """The answer at a check that leads by the fewest steps to a fix or an end."""
    waiting = deque((to, label) for label, to in routes(variant.steps[step]))
    while True:
        to, first = waiting.popleft()
        if isinstance(variant.steps[to], Fix | End):
            return first
        waiting.extend((further, first) for _, further in routes(variant.steps[to]))


async def walked(ramp: Ramp, chance: random.Random) -> None:
    """Walk about, then to an end; one walk of four is handed over on the way."""
    wandering = chance.randrange(5, 12)
    hands_over = chance.random() < 0.25
    for at in range(MOST_MOVES):
        if ramp.walk.ended or ramp.walk.state == HANDED_OVER:
            break
        if at >= wandering and hands_over:
            await to_the_work(ramp)
            await make(ramp, Move(Kind.HAND_OVER, to=list(ramp.walk.library.roles)[1]))
        else:
            await make(ramp, chosen(ramp.walk, chance) if at < wandering else straight(ramp.walk))
        assert not list(broken_in(ramp.walk.site, ramp.walk.key))
    assert ramp.walk.ended or ramp.walk.state == HANDED_OVER
    await to_the_work(ramp)


async def check_walk(walks: Path, tmp_path: Path, case: Case, seed: int = 0) -> None:
    async with running(walks, case.tree, case.role, model=case.model) as ramp:
        await begun(ramp, case)
        await walked(ramp, random.Random(f"{case} {seed}"))
        await check_same(ramp, tmp_path / "lines")


@pytest.mark.parametrize("case", FEW, ids=" ".join)
async def test_screen_and_line_mode_make_the_same_walk(walks: Path, tmp_path: Path, case: Case) -> None:
    await check_walk(walks, tmp_path, case)


@pytest.mark.long
@pytest.mark.parametrize("case", [case for case in CASES if case not in FEW], ids=" ".join)
async def test_screen_and_line_mode_make_the_same_walk_for_each_role_model_and_occupant(
    walks: Path, tmp_path: Path, case: Case
) -> None:
    await check_walk(walks, tmp_path, case)


def test_the_cases_are_every_tree_role_model_and_occupant() -> None:
    assert {case.tree for case in CASES} == {case.tree for case in FEW} == set(TREES)
    assert {case.occupant for case in FEW} == {ON, OFF, ""}
    assert {case.role for case in FEW} >= set(loaded(REL)[0].roles)
    for tree in TREES:
        library, whole = loaded(tree)
        for cases in ([case for case in CASES if case.tree == tree], covering(tree)):
            assert {case.role for case in cases} == set(library.roles)
            assert whole.alike or {case.model for case in cases} == set(whole.models)
            assert {case.occupant for case in cases} == ({ON, OFF, ""} if library.occupant else {OFF})


def test_line_mode_lists_what_may_be_needed_once_nobody_is_on_it_any_more(tmp_path: Path) -> None:
    first = Move(Kind.BEGIN, role="mechanic", occupant=ON)
    moves = [Move(kind) for kind in (Kind.OCCUPANT_OFF, Kind.OCCUPANT_ON, Kind.OCCUPANT_OFF, Kind.STOP)]
    _, printed, _ = by_lines(tmp_path / "mechanic", REL, first, moves)
    assert printed.count(LIST_TITLE) == 1
    assert printed.count("Tools that may be needed: ") == 1
    _, printed, _ = by_lines(tmp_path / "crew", REL, Move(Kind.BEGIN, role="crew", occupant=ON), moves)
    assert "may be needed" not in printed


# -- what happens on a ramp


async def played(walks: Path, case: Case, target: str, moves: Sequence[Move], lines: Path) -> Walk:
    """The walk that is led to a step, goes on by these moves, and then straight to its end.

    Where it is left, somebody resumes it in another run. Line mode plays the whole of it again, to the same record.
    """
    async with running(walks, case.tree, case.role, model=case.model) as ramp:
        await begun(ramp, case)
        await lead_to(ramp, target)
        left = await _made_until_left(ramp, moves, lines)
        walk, name = ramp.walk, ramp.session.id
    while left:
        assert walk.state in (HANDED_OVER, STOPPED)
        async with running(walks, case.tree, left[0].role, resume=name) as ramp:
            await _resumed(ramp, walk, left[0])
            left = await _made_until_left(ramp, left[1:], lines)
            walk = ramp.walk
    return walk


async def _made_until_left(ramp: Ramp, moves: Sequence[Move], lines: Path) -> Sequence[Move]:
    """Make the moves up to one that leaves the walk, and give those after it; where none leaves it, go to the end."""
    for at, move in enumerate(moves):
        await make(ramp, move)
        if move.kind in LEAVING:
            return moves[at + 1 :]
    await until(lambda: ramp.walk.ended, lambda: make(ramp, straight(ramp.walk)))
    await to_the_work(ramp)
    await check_same(ramp, lines)
    return ()


async def _resumed(ramp: Ramp, before: Walk, move: Move) -> None:
    """Answer what is asked of whoever resumes: the occupant, and of each open item whether it still is."""
    if before.library.occupant:
        assert ramp.shows(before.library.occupant.ask)
        await answer(ramp, OCCUPANT_KEYS[move.occupant])
    for name in [name for name in before.library.open_items if name in before.key.open_items]:
        assert ramp.shows(before.library.open_items[name].text)
        await answer(ramp, "2" if name in move.closed else "1")
        if name in move.closed and (who := dict(said_closed(move))[name]):
            assert ramp.shows("Name or initials of who closed it")
            await ramp.enter(who)
    assert ramp.last == move
    assert ramp.shows("all this is so"), "whoever comes anew sees the start page"


def kinds_after(walk: Walk, kind: Kind) -> list[Kind]:
    """The moves after the first of that kind, by their kinds."""
    kinds = [line.move.kind for line in walk.log]
    return kinds[kinds.index(kind) + 1 :]


async def test_a_second_person_takes_over_and_everything_is_asked_anew(walks: Path, tmp_path: Path) -> None:
    """Crew free the cot, which leaves two things open, and hand over; the mechanic closes both and goes on.

    That the cot is held no more is one key; that the mount was approved is said by whom.
    """
    first, second = list(loaded(REL)[0].roles)[:2]
    moves = [
        Move(Kind.FINDING, label="Free but heavy"),
        Move(Kind.HAND_OVER, to=second),
        Move(
            Kind.TAKE_OVER,
            role=second,
            occupant=OFF,
            closed=("lock-open", "mount-out-of-use"),
            closed_by=("", "A. B."),
        ),
    ]
    walk = await played(walks, Case(REL, "Alder", first, ON), "push-forward", moves, tmp_path / "lines")
    assert walk.ended
    assert [(line.role, line.occupant) for line in walk.log if line.move.kind == Kind.HAND_OVER] == [(first, ON)]
    assert {(line.role, line.occupant) for line in walk.log[-3:]} == {(second, OFF)}
    assert Kind.ACKNOWLEDGE in kinds_after(walk, Kind.TAKE_OVER), "what the first person read, the second reads too"
    assert not {"lock-open", "mount-out-of-use"} & walk.key.open_items


async def test_a_fix_that_was_interrupted_goes_on_with_the_line_that_is_next(walks: Path, tmp_path: Path) -> None:
    """Stopped between two lines of a fix, and gone on with in another run, to its end."""
    role = list(loaded(WHEEL)[0].roles)[1]
    fix = loaded(WHEEL)[1].variants["Bracken"].steps["fit-wheel"]
    assert isinstance(fix, Fix)
    moves = [
        Move(Kind.DONE),
        Move(Kind.STOP),
        Move(Kind.TAKE_OVER, role=role, occupant=OFF),
        Move(Kind.DONE),
        Move(Kind.STOP),
        Move(Kind.TAKE_OVER, role=role, occupant=OFF),
    ]
    walk = await played(walks, Case(WHEEL, "Bracken", role, OFF), fix.id, moves, tmp_path / "lines")
    done = [line.phase.line for line in walk.log if line.move.kind == Kind.DONE and line.step == fix.id]
    assert done == list(range(len(fix.lines))), "each line once, none again and none passed over"
    assert walk.passed


async def test_a_wrong_answer_that_is_found_later_is_answered_again_and_kept(walks: Path, tmp_path: Path) -> None:
    moves = [
        Move(Kind.BACK, to="volts"),
        Move(Kind.READING, value="1.3 V"),
        Move(Kind.FINDING, label="Film"),
    ]
    walk = await played(walks, Case(LAMP, "Finch", "repairer", OFF), "fit-cell", moves, tmp_path / "lines")
    assert walk.passed
    assert [visit.step for visit in walk.way] == ["spare-cell", "volts", "contacts", "wipe-contacts"]
    readings = [line.move.label for line in walk.log if line.move.kind == Kind.READING]
    assert readings == ["Flat", "Good"], "the log keeps the answer that was wrong"


async def test_readings_near_an_edge_are_the_same_in_both(walks: Path, tmp_path: Path) -> None:
    """The edge is 1.1 V and the gauge resolves 0.01 V; the same figure twice."""
    moves = [Move(Kind.READING, value="1.095 V")]
    walk = await played(walks, Case(LAMP, "Finch", "repairer", OFF), "volts", moves, tmp_path / "lines")
    [reading] = [line.move for line in walk.log if line.move.kind == Kind.READING]
    assert (reading.value, reading.text, reading.label) == ("1.095 V", "also read: 1.095 V", "Flat")


async def test_a_part_that_is_not_on_the_shelf_leads_on_and_leaves_what_is_open(walks: Path, tmp_path: Path) -> None:
    moves = [Move(Kind.CANNOT, text="no part")]
    walk = await played(walks, Case(LAMP, "Finch", "repairer", OFF), "fit-cell", moves, tmp_path / "lines")
    assert walk.ended
    assert walk.step == loaded(LAMP)[1].variants["Finch"].steps["out-of-use"]
    assert open_lines(walk) == ("OPEN (disturbance): Cell lies outside the lamp.",)


async def test_a_part_that_is_not_on_the_shelf_can_lead_to_other_work(walks: Path, tmp_path: Path) -> None:
    """In a tree for the ramp, with what was opened before the part was missed."""
    role = list(loaded(LEG)[0].roles)[1]
    steps = loaded(LEG)[1].variants["Bracken"].steps
    fix = next(step for step in steps.values() if isinstance(step, Fix) and step.cannot and step.parts)
    moves = [Move(Kind.CANNOT, text="no part")]
    walk = await played(walks, Case(LEG, "Bracken", role, OFF), fix.id, moves, tmp_path / "lines")
    assert fix.cannot is not None
    steps_of_way = [visit.step for visit in walk.way]
    at = steps_of_way.index(fix.id)
    assert walk.way[at].answer == moves[0]
    assert steps_of_way[at + 1] == fix.cannot.to
    assert walk.ended


@pytest.mark.parametrize("occupant", [ON, OFF, ""])
async def test_a_walk_begins_alike_in_both(walks: Path, tmp_path: Path, occupant: str) -> None:
    case = Case(LEG, "Bracken", next(iter(loaded(LEG)[0].roles)), occupant)
    async with running(walks, case.tree, case.role, model=case.model) as ramp:
        await begun(ramp, case)
        recorded = list(journal_lines(ramp.session.journal.path))
    assert (
        list(journal_lines(begun_by_lines(tmp_path / "lines", case.tree, case.role, case.model, occupant))) == recorded
    )
