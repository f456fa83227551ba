"""The walk on random trees: compared with a second walker, and held to what must be so in every state."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shipped import shipped
from strategies import MODEL, filled, library, trees
from walker import Walker

from faulttree.explore import broken_in, failed_but_passed
from faulttree.graph import graph_of
from faulttree.keys import OFF, ON, UNANSWERED, Gate, Kind, Move, Stage
from faulttree.left_open import left_open
from faulttree.model import Cause, Check, End, Finding, Fix, Library, Route, Tree, Variant
from faulttree.moves import allowed
from faulttree.present.ends import said_beside
from faulttree.problems import MoveError
from faulttree.readback import begin as begin_by_code
from faulttree.readback import encode
from faulttree.value import replace
from faulttree.walk import HANDED_OVER, STOPPED, apply, begin, possible_moves

PARTS = {
    Stage.ARRIVED: "new",
    Stage.ASK: "ask",
    Stage.DO: "do",
    Stage.WAIT: "wait",
    Stage.INSPECT: "inspect",
    Stage.PROVE: "prove",
    Stage.LEFT_OPEN: "open",
    Stage.TICK: "tick",
    Stage.ENDED: "over",
}


def word_of(move: Move) -> str:
    rest = move.label or move.item
    return f"{move.kind} {rest}" if rest else str(move.kind)


@given(trees(), st.sampled_from(("crew", "mechanic", "engineering")), st.booleans(), st.randoms(use_true_random=False))
@settings(max_examples=150, deadline=None)
def test_engine_and_second_walker_agree_move_by_move(drawn, role, occupied, random) -> None:
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN, role=role, occupant=ON if occupied else OFF))
    walker = Walker(library, walk.site.variant, role, occupied and library.occupant is not None, fallback=tree.fallback)
    for _ in range(40):
        moves = {word_of(move): move for move in allowed(walk.site, walk.key)}
        assert set(moves) == walker.words()
        assert (walk.key.step, PARTS[walk.key.phase.stage]) == (walker.at, walker.part)
        assert set(walk.key.open_items) == walker.open_items
        if not moves:
            break
        if walker.trail and random.random() < 0.15:
            walk = apply(walk, Move(Kind.BACK))
            walker.back()
            continue
        word = random.choice(sorted(moves))
        walk = apply(walk, filled(moves[word]))
        walker.take(word)
    assert walk.ended == (walker.part == "over")


@given(trees(), st.randoms(use_true_random=False))
@settings(max_examples=150, deadline=None)
def test_every_rule_holds_under_random_moves_of_all_kinds(drawn, random) -> None:
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN))
    for _ in range(60):
        moves = [move for move in possible_moves(walk) if move.kind != Kind.STOP or random.random() < 0.1]
        if not moves:
            break
        move = dressed(random.choice(moves), library, random)
        before = walk
        walk = apply(walk, move)
        assert walk.log[: len(before.log)] == before.log, "the log only grows"
        assert not list(broken_in(walk.site, walk.key))
        assert not failed_but_passed(walk.site, before.key, move, walk.key)
        assert [visit.step for visit in walk.way][-1] == walk.key.step


def dressed(move: Move, library, random) -> Move:
    """The move with what it must carry."""
    if move.kind == Kind.TAKE_OVER:
        return Move(move.kind, role=random.choice(list(library.roles)), occupant=random.choice((ON, OFF, UNANSWERED)))
    if move.kind == Kind.FALLBACK:
        return Move(move.kind, line=random.randrange(3))
    return filled(move)


@given(trees(), st.randoms(use_true_random=False))
@settings(max_examples=120, deadline=None)
def test_back_then_the_same_answers_leads_where_it_was(drawn, random) -> None:
    """Open items may have grown by what the step in between opened; everything else is as it was."""
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=OFF))
    for _ in range(25):
        moves = [move for move in allowed(walk.site, walk.key) if not move.kind.startswith("occupant")]
        if not moves:
            break
        before = walk
        walk = apply(walk, filled(random.choice(moves)))
        if walk.key.step == before.key.step:
            continue
        again = apply(walk, Move(Kind.BACK))
        assert again.key.step == before.key.step
        for move in walk.way[len(again.way) - 1].moves:
            if move.kind != Kind.ACKNOWLEDGE or again.site.gate(again.key) == Gate.WARNINGS:
                again = apply(again, move)
        assert again.key._replace(open_items=frozenset()) == walk.key._replace(open_items=frozenset())
        assert [visit.step for visit in again.way] == [visit.step for visit in walk.way]


@given(trees(), st.randoms(use_true_random=False))
@settings(max_examples=80, deadline=None)
def test_equal_keys_allow_equal_moves_to_equal_keys(drawn, random) -> None:
    tree, library = drawn
    seen: dict[object, object] = {}
    for _ in range(4):
        walk = begin(tree, library, Move(Kind.BEGIN, role=random.choice(("crew", "mechanic"))))
        for _ in range(30):
            moves = allowed(walk.site, walk.key)
            led = tuple(apply(walk, filled(move)).key for move in moves)
            assert seen.setdefault(walk.key, (moves, led)) == (moves, led)
            choice = [*moves, *(move for move in possible_moves(walk) if move.kind == Kind.BACK)]
            if not choice:
                break
            walk = apply(walk, filled(random.choice(choice)))


@given(trees())
@settings(max_examples=50, deadline=None)
def test_a_walk_is_a_value(drawn) -> None:
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN))
    key, log = walk.key, walk.log
    for move in possible_moves(walk):
        apply(walk, dressed_plain(move))
    assert (walk.key, walk.log) == (key, log)


def dressed_plain(move: Move) -> Move:
    return Move(Kind.TAKE_OVER, role="crew") if move.kind == Kind.TAKE_OVER else filled(move)


@given(trees(), st.sampled_from(list(Kind)))
@settings(max_examples=80, deadline=None)
def test_a_move_that_is_not_allowed_says_so(drawn, kind) -> None:
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN))
    if kind in {move.kind for move in possible_moves(walk)}:
        return
    with pytest.raises(MoveError) as refused:
        apply(walk, Move(kind))
    assert refused.value.what
    assert refused.value.advice


@given(trees(), st.sampled_from((Kind.STOP, Kind.HAND_OVER)))
@settings(max_examples=50, deadline=None)
def test_taking_over_asks_everything_anew(drawn, kind) -> None:
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=OFF))
    for move in allowed(walk.site, walk.key)[:1]:
        walk = apply(walk, move)
    if walk.ended:
        return
    waiting = apply(walk, Move(kind))
    assert waiting.state == (STOPPED if kind == Kind.STOP else HANDED_OVER)
    assert {move.kind for move in possible_moves(waiting)} == {Kind.TAKE_OVER}
    taken = apply(waiting, Move(Kind.TAKE_OVER, role="crew"))
    assert not taken.key.acknowledged
    assert not taken.key.phase.people
    assert taken.key.occupant == (UNANSWERED if library.occupant else OFF)
    assert taken.key.role == "crew"
    assert taken.key.open_items >= walk.key.open_items


@given(trees(), st.randoms(use_true_random=False))
@settings(max_examples=80, deadline=None)
def test_passed_only_with_nothing_left_that_must_be_closed(drawn, random) -> None:
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=OFF))
    for _ in range(60):
        moves = allowed(walk.site, walk.key)
        if not moves:
            break
        walk = apply(walk, filled(random.choice(moves)))
    if walk.ended and isinstance(walk.step, Fix):
        assert walk.log[-1].move.kind in (Kind.PASSED, Kind.CLOSED)
        assert all(library.open_items[name].kind == "duty" for name in walk.key.open_items)


def test_an_end_opens_what_remains_to_be_done_once_its_gates_are_passed() -> None:
    """A deferral before its conditions are ticked, and it stays after going back; before the gates nothing is open."""
    tree, lib = with_end(End(id="s1", kind="deferred", who="mechanic", when=("It is dry.",), opens=("tag-hung",)))
    walk = apply(begin(tree, lib, Move(Kind.BEGIN, role="crew")), Move(Kind.UNABLE))
    assert (walk.site.gate(walk.key), walk.key.open_items) == (Gate.ROLE, frozenset())
    walk = apply(walk, Move(Kind.TAKE_OVER, role="mechanic"))
    assert (walk.key.phase.stage, walk.key.open_items) == (Stage.TICK, {"tag-hung"})
    assert apply(walk, Move(Kind.BACK)).key.open_items == {"tag-hung"}
    assert apply(walk, Move(Kind.DONE)).ended


def test_what_no_fault_found_opens_must_be_closed_before_it_ends_and_exploring_says_so() -> None:
    end = End(id="s1", kind="no fault found", who="mechanic", opens=("cam-free", "tag-hung"))
    tree, lib = with_end(end)
    walk = apply(begin(tree, lib, Move(Kind.BEGIN, role="mechanic")), Move(Kind.UNABLE))
    assert walk.key.phase.stage == Stage.LEFT_OPEN
    assert apply(walk, Move(Kind.CLOSED, item="cam-free")).key.open_items == {"tag-hung"}
    variant = tree.variants[MODEL]
    [found] = left_open(lib, variant, graph_of(variant))
    assert (found.step, found.items) == ("s1", ("cam-free",))


def test_a_code_that_comes_to_an_end_has_what_the_end_opens_whoever_hears_it() -> None:
    tree, lib = with_end(End(id="s1", kind="out of service", who="mechanic", opens=("tag-hung",)))
    walk = apply(begin(tree, lib, Move(Kind.BEGIN, role="mechanic")), Move(Kind.UNABLE))
    for role in ("crew", "mechanic"):
        assert begin_by_code(tree, lib, Move(Kind.BEGIN, role=role, code=encode(walk))).key.open_items == {"tag-hung"}
    assert said_beside(walk, encode(walk)) == ()


def with_end(end: End) -> tuple[Tree, Library]:
    """A tree of one check, which cannot be made, and an end."""
    lib = library(with_occupant=False)
    good = Finding("Good", 1, "s1"), Finding("Worn", 2, "s1")
    check = Check(id="s0", base="s0", text="Is it good?", who="crew", findings=good, unable=Route("s1"))
    variant = Variant(MODEL, "s0", {"s0": check, "s1": end}, {"worn": Cause("worn", "Worn")})
    return Tree(
        id="it-sticks", short="STK", symptom="It sticks", also=(), equipment=("cot",), urgency="now", revision=1,
        date="2026-11-25", status="draft", variants={MODEL: variant}, alike=True,
    ), lib  # fmt: skip


@pytest.mark.parametrize("kind", ["duty", "hazard"])
def test_a_duty_or_a_hazard_that_a_fix_closes_is_so_once_its_operational_check_has_passed(kind: str) -> None:
    """Work alone proves nothing: between its last line and a passed check nobody may read that the hazard is over."""
    tree, lib = with_end(End(id="s1", kind="out of service"))
    lib = replace(lib, open_items={**lib.open_items, "tag-hung": replace(lib.open_items["tag-hung"], kind=kind)})
    common = {"id": "s0", "base": "s0", "text": "Mend it", "who": "crew", "operational_check": "pull"}
    fix = Fix(**common, clears=("worn",), opens=("tag-hung", "cover-off"), closes=("tag-hung", "cover-off"))
    fix = replace(fix, failed=Route("s1"))
    variant = replace(tree.variants[MODEL], steps={"s0": fix, "s1": tree.variants[MODEL].steps["s1"]})
    walk = begin(replace(tree, variants={MODEL: variant}), lib, Move(Kind.BEGIN))
    assert walk.key.open_items == {"tag-hung", "cover-off"}
    done = apply(walk, Move(Kind.DONE))
    assert done.key.open_items == {"tag-hung"}
    assert apply(done, Move(Kind.FAILED)).key.open_items == {"tag-hung"}
    assert apply(done, Move(Kind.PASSED)).key.open_items == frozenset()


def test_a_cot_pushed_home_with_a_patient_on_it_counts_as_not_locked_until_the_check_has_passed() -> None:
    """The check is done with the empty cot, so whoever keeps the patient on it flies with a lock that nobody proved."""
    loaded = shipped()
    move = Move(Kind.BEGIN, role="crew", model="Bracken", occupant=ON)
    walk = begin(loaded.trees["cot-will-not-lock"], loaded.library, move)
    for label in ("One side short", "All clear", ""):
        while (gate := walk.site.gate(walk.key)) is not None:
            walk = apply(walk, Move(Kind.PEOPLE_HERE if gate == Gate.PEOPLE else Kind.ACKNOWLEDGE))
        if label:
            walk = apply(walk, Move(Kind.FINDING, label=label))
    while walk.key.phase.stage == Stage.DO:
        walk = apply(walk, Move(Kind.DONE))
    assert walk.site.gate(walk.key) == Gate.OCCUPANT
    assert "not-full-green" in walk.key.open_items
