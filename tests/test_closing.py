"""What was left open is closed after the end, and when a walk may be given up."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shipped import shipped
from strategies import filled, trees

from faulttree.closing import GIVEN_UP
from faulttree.keys import OFF, Kind, Move
from faulttree.problems import MoveError
from faulttree.readback import encode
from faulttree.walk import STOPPED, Walk, apply, begin, possible_moves

GIVE_UP = Move(Kind.STOP, label=GIVEN_UP, text="wrong cot")


def at_random(drawn, random, until) -> Walk:
    """A walk at random until something is so, or until it asks for nothing more."""
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=OFF))
    for _ in range(60):
        moves = [move for move in possible_moves(walk) if move.kind not in (Kind.STOP, Kind.HAND_OVER, Kind.BACK)]
        if until(walk) or walk.ended:
            break
        move = random.choice(moves)
        walk = apply(
            walk, Move(move.kind, role="mechanic", occupant=OFF) if move.kind == Kind.TAKE_OVER else filled(move)
        )
    return walk


@given(trees(), st.randoms(use_true_random=False))
@settings(max_examples=150, deadline=None)
def test_after_the_end_every_item_can_be_closed_and_the_end_stays(drawn, random) -> None:
    end = at_random(drawn, random, lambda walk: walk.ended)
    if not end.ended:
        return
    walk = end
    while walk.key.open_items:
        move = random.choice([move for move in possible_moves(walk) if move.kind == Kind.CLOSED])
        after = apply(walk, filled(move))
        assert after.key.open_items == walk.key.open_items - {move.item}
        assert (after.log[-1].role, after.log[-1].move.text) == (move.role, "AB")
        walk = after
    assert walk.key == end.key._replace(open_items=frozenset())
    assert (walk.way, walk.passed, walk.state, walk.log[: len(end.log)]) == (end.way, end.passed, end.state, end.log)
    assert encode(walk) == encode(end), "the code says how it ended"
    assert not [move for move in possible_moves(walk) if move.kind == Kind.CLOSED]


@pytest.fixture(scope="module")
def out_of_use() -> Walk:
    """A walk that ended after a line of the fallback worked: a duty for a mechanic is open."""
    tree, library = shipped().trees["cot-will-not-release"], shipped().library
    assert library
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=OFF))
    walk = apply(apply(walk, Move(Kind.FALLBACK, line=2)), Move(Kind.OCCUPANT_OFF))
    for _ in range(40):
        kinds = {move.kind: move for move in possible_moves(walk)}
        if walk.ended:
            break
        kind = next(each for each in (Kind.UNABLE, Kind.CANNOT, Kind.PEOPLE_HERE, Kind.ACKNOWLEDGE) if each in kinds)
        walk = apply(walk, Move(kind, text="no light"))
    assert walk.ended
    assert walk.key.open_items
    return walk


def test_closing_after_the_end_needs_whom_it_is_for_and_a_name(out_of_use: Walk) -> None:
    duty = next(name for name in out_of_use.key.open_items if out_of_use.library.open_items[name].kind == "duty")
    for move, said in (
        (Move(Kind.CLOSED, item=duty, role="crew", text="AB"), "not for crew to close"),
        (Move(Kind.CLOSED, item=duty, role="mechanic", text=" "), "who closed it"),
        (Move(Kind.CLOSED, item=duty, role="cook", text="AB"), "no role here"),
        (Move(Kind.CLOSED, item="cot-on-side", role="mechanic", text="AB"), "is not open"),
    ):
        with pytest.raises(MoveError, match=said):
            apply(out_of_use, move)
    after = apply(out_of_use, Move(Kind.CLOSED, item=duty, role="mechanic", text="AB"))
    with pytest.raises(MoveError, match="is not open"):
        apply(after, Move(Kind.CLOSED, item=duty, role="mechanic", text="AB"))


@given(trees(), st.randoms(use_true_random=False), st.integers(1, 20))
@settings(max_examples=150, deadline=None)
def test_a_walk_is_given_up_only_where_nothing_can_hurt_or_hinder(drawn, random, steps) -> None:
    walk = at_random(drawn, random, lambda walk: len(walk.log) > steps)
    if walk.ended:
        with pytest.raises(MoveError):
            apply(walk, GIVE_UP)
        return
    held = [item for name, item in walk.library.open_items.items() if name in walk.key.open_items and item.must_close]
    if held:
        with pytest.raises(MoveError) as refused:
            apply(walk, GIVE_UP)
        assert all(f"{item.kind}: {item.text}" in refused.value.what for item in held), "each is named"
        assert apply(walk, Move(Kind.STOP)).state == STOPPED, "it can still be left as before"
        return
    after = apply(walk, GIVE_UP)
    assert (after.given_up, after.over, after.ended, after.passed, after.key) == (True, True, False, False, walk.key)
    assert {move.kind for move in possible_moves(after)} <= {Kind.CLOSED}
    with pytest.raises(MoveError, match="given up"):
        apply(after, Move(Kind.TAKE_OVER, role="mechanic"))
    for move in possible_moves(after):
        after = apply(after, filled(move))
    assert after.given_up
    assert not after.key.open_items


@given(trees())
@settings(max_examples=20, deadline=None)
def test_giving_up_needs_a_reason_and_a_stop_without_one_is_as_before(drawn) -> None:
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN))
    if not any(library.open_items[name].must_close for name in walk.key.open_items):
        with pytest.raises(MoveError, match="why"):
            apply(walk, Move(Kind.STOP, label=GIVEN_UP, text="  "))
    with pytest.raises(MoveError, match="no way to stop"):
        apply(walk, Move(Kind.STOP, label="lunch", text="soup"))
    for text in ("", "lunch", "given up"):
        stopped = apply(walk, Move(Kind.STOP, text=text))
        assert (stopped.state, stopped.given_up) == (STOPPED, False), "journals of before carry no label there"
