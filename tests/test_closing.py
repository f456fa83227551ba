"""What was left open is closed after the end, and when a walk may be given up."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shipped import shipped
from strategies import filled, trees
from test_present_after import INSPECTED, WAITED, all_done, further, rel

from faulttree.closing import GIVEN_UP, must_say_who
from faulttree.keys import OFF, Gate, Kind, Move, Stage
from faulttree.model import Action
from faulttree.present import hand_over_page, screen
from faulttree.present.choices import choices
from faulttree.present.over import not_yours
from faulttree.present.progress import set_aside
from faulttree.problems import MoveError
from faulttree.readback import begin as begin_by_code
from faulttree.readback import encode
from faulttree.value import replace
from faulttree.walk import STOPPED, Walk, apply, begin, possible_moves

LEAVING = (Kind.UNABLE, Kind.CANNOT, Kind.PEOPLE_HERE, Kind.ACKNOWLEDGE)
"""Moves that give each step up."""

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


def cover_off() -> Walk:
    """A walk of a mechanic at the lock, its cover off, with its mount tagged and the cable unhooked."""
    tree, library = shipped().trees["cot-will-not-release"], shipped().library
    assert library
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=OFF))
    for kind in (Kind.PEOPLE_HERE, Kind.ACKNOWLEDGE):
        walk = apply(walk, Move(kind))
    walk = apply(walk, Move(Kind.FINDING, label="Free but heavy"))
    for kind in (Kind.PEOPLE_HERE, Kind.ACKNOWLEDGE):
        walk = apply(walk, Move(kind))
    assert walk.key.open_items == {"lock-open", "mount-out-of-use", "mount-cover-off", "cable-eye-unhooked"}
    return walk


def taken(walk: Walk, role: str, closed: tuple[str, ...], by: tuple[str, ...] = ()) -> Walk:
    return apply(walk, Move(Kind.TAKE_OVER, role=role, occupant=OFF, closed=closed, closed_by=by))


def test_taking_over_says_who_closed_a_duty_and_what_was_taken_apart() -> None:
    walk = cover_off()
    for role, closed, by, said in (
        ("mechanic", ("mount-out-of-use",), (), "who closed it was not said"),
        ("mechanic", ("mount-out-of-use",), (" ",), "who closed it was not said"),
        ("mechanic", ("mount-cover-off",), (), "who closed it was not said"),
        ("mechanic", ("mount-cover-off", "cable-eye-unhooked"), ("A. B.",), "who closed what"),
        ("crew", ("mount-out-of-use",), ("A. B.",), "not for crew to close, crew only passes it on"),
        ("crew", ("mount-cover-off",), ("A. B.",), "not for crew to close, what opened it is work of mechanic"),
        ("mechanic", ("cot-on-side",), ("A. B.",), "is not open"),
        ("cook", ("mount-out-of-use",), ("A. B.",), "no role here"),
    ):
        with pytest.raises(MoveError, match=said):
            taken(walk, role, closed, by)
    after = taken(walk, "mechanic", ("mount-out-of-use", "mount-cover-off"), ("A. B.", "C. D."))
    assert after.key.open_items == {"lock-open", "cable-eye-unhooked"}
    lines = set_aside(after).lines
    assert 'Closed: "Tag on the mount. It is out of use until a mechanic approves it." (mechanic: A. B.).' in lines
    assert 'Closed: "The aft cover of the mount is off." (mechanic: C. D.).' in lines


def test_what_crew_may_put_right_is_closed_without_a_name() -> None:
    tree, library = shipped().trees["cot-will-not-release"], shipped().library
    walk = begin(tree, library, Move(Kind.BEGIN, occupant=OFF))
    walk = apply(apply(walk, Move(Kind.FALLBACK, line=2)), Move(Kind.HAND_OVER))
    assert "lock-open" not in taken(walk, "crew", ("lock-open",)).key.open_items
    assert (must_say_who(walk.site, "lock-open"), must_say_who(walk.site, "mount-out-of-use")) == (False, True)


def test_a_code_is_gone_on_from_in_the_same_way() -> None:
    walk = cover_off()
    move = Move(Kind.BEGIN, role="mechanic", code=encode(walk), occupant=OFF, closed=("mount-out-of-use",))
    with pytest.raises(MoveError, match="who closed it was not said"):
        begin_by_code(walk.tree, walk.library, move)
    after = begin_by_code(walk.tree, walk.library, replace(move, closed_by=("A. B.",)))
    assert "mount-out-of-use" not in after.key.open_items
    assert any("(mechanic: A. B.)" in line for line in set_aside(after).lines)


def test_what_journals_of_before_say_is_read_as_it_was() -> None:
    walk = cover_off()
    before = Move(Kind.TAKE_OVER, role="crew", occupant=OFF, closed=("mount-out-of-use", "mount-cover-off"))
    assert apply(walk, before, was_recorded=True).key.open_items == {"lock-open", "cable-eye-unhooked"}
    code = Move(Kind.BEGIN, code=encode(walk), occupant=OFF, closed=("mount-out-of-use",))
    assert "mount-out-of-use" not in begin_by_code(walk.tree, walk.library, code, was_recorded=True).key.open_items
    with pytest.raises(MoveError, match="not clear who closed what"):
        apply(walk, replace(before, closed_by=("A. B.",)), was_recorded=True)
    unpaired = replace(code, closed_by=("A. B.", "C. D."))
    with pytest.raises(MoveError, match="not clear who closed what"):
        begin_by_code(walk.tree, walk.library, unpaired, was_recorded=True)


def test_crew_do_not_close_what_a_mechanic_took_apart() -> None:
    """Neither after the end nor, where an operational check that crew may make has passed, before it."""
    walk = apply(cover_off(), Move(Kind.BACK))
    for move in (
        Move(Kind.PEOPLE_HERE),
        Move(Kind.FINDING, label="Comes free"),
        Move(Kind.PEOPLE_HERE),
        *[Move(Kind.DONE)] * 5,
        Move(Kind.TAKE_OVER, role="crew", occupant=OFF),
        Move(Kind.PEOPLE_HERE),
        Move(Kind.ACKNOWLEDGE),
        Move(Kind.PASSED),
    ):
        if move.kind in {each.kind for each in possible_moves(walk)}:
            walk = apply(walk, move)
    assert (walk.key.phase.stage, walk.site.gate(walk.key)) == (Stage.LEFT_OPEN, Gate.ROLE)
    assert [choice.words for choice in choices(walk)] == ["hand over", "take over"]
    shown = [line for block in screen(walk) for line in block.lines]
    assert any(line.startswith("The operational check passed. What is still open is for: mechanic.") for line in shown)
    handed = [line for block in hand_over_page(apply(walk, Move(Kind.HAND_OVER))) for line in block.lines]
    assert "Next: Close what is still open, then say so." in handed
    closed = Move(Kind.CLOSED, item="mount-cover-off")
    with pytest.raises(MoveError, match="not possible here"):
        apply(walk, closed)
    assert "mount-cover-off" not in apply(walk, closed, was_recorded=True).key.open_items
    mechanic = apply(walk, Move(Kind.TAKE_OVER, role="mechanic", occupant=OFF))
    for item in ("mount-cover-off", "cable-eye-unhooked"):
        assert not mechanic.ended
        mechanic = apply(mechanic, Move(Kind.CLOSED, item=item))
    assert mechanic.passed


def test_what_was_taken_apart_anew_after_the_work_is_asked_for_once_the_check_has_passed() -> None:
    """The work closes it as it is done; a line of the fallback may open it after that, which no passed check sees."""
    walk = all_done(rel("Still held", "Past the line", "Jaw clear"))
    while walk.key.phase.stage != Stage.PROVE:
        walk = further(walk, {Stage.WAIT: WAITED, Stage.INSPECT: INSPECTED}[walk.key.phase.stage])
    assert {"mount-cover-off", "lock-open"} <= set(walk.step.closes)
    again = Action(who="crew", do="Take the cover off.", opens=("mount-cover-off", "lock-open"))
    walk = replace(walk, tree=replace(walk.tree, fallback=(again,)))
    walk = apply(apply(walk, Move(Kind.FALLBACK, line=1)), Move(Kind.OCCUPANT_OFF))
    walk = further(walk, Move(Kind.PASSED))
    assert (walk.key.phase.stage, walk.passed) == (Stage.LEFT_OPEN, False)
    assert "mount-cover-off" in walk.key.open_items
    assert "lock-open" not in walk.key.open_items, "the check that passed has proved the lock"


def test_crew_do_not_record_it_afterwards_either() -> None:
    walk = cover_off()
    while not walk.ended:
        walk = apply(walk, next(move for move in possible_moves(walk) if move.kind in LEAVING))
    assert {"mount-cover-off", "cable-eye-unhooked"} <= walk.key.open_items
    closed = Move(Kind.CLOSED, item="mount-cover-off", role="crew", text="A. B.")
    with pytest.raises(MoveError, match="not for crew to close, what opened it is work of mechanic"):
        apply(walk, closed)
    assert "mount-cover-off" not in apply(walk, closed, was_recorded=True).key.open_items
    assert "mount-cover-off" not in apply(walk, replace(closed, role="mechanic")).key.open_items
    assert not_yours(walk, "crew") == (
        "2 disturbances are for somebody else to close: mechanic.",
        "1 duty is for somebody else to close: mechanic or inspector or engineering.",
    )


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
