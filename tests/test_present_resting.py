"""What a first fix or an end rests on: worked out by hand, and computed in another way on every tree."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shipped import sample, shipped, variants
from strategies import filled, trees

from faulttree.keys import OFF, Gate, Kind, Move, Stage
from faulttree.model import Cause, Check, End, Fix
from faulttree.moves import allowed
from faulttree.present.progress import done_so_far
from faulttree.present.resting import Resting, resting, resting_blocks
from faulttree.value import replace
from faulttree.walk import GOING, apply, begin, possible_moves

EVERY = [pytest.param(*each[1:], id=each[0]) for each in variants()]
PASSING = {Gate.PEOPLE: Kind.PEOPLE_HERE, Gate.WARNINGS: Kind.ACKNOWLEDGE}
ACKNOWLEDGE, DONE, PASSED, FAILED = (Move(kind) for kind in (Kind.ACKNOWLEDGE, Kind.DONE, Kind.PASSED, Kind.FAILED))


def page(blocks) -> str:
    return "\n".join(line for block in blocks for line in block.lines)


def walked(loaded, tree: str, *answers: Move | str, role: str, model: str):
    """A walk with gates passed by themselves; a text is a finding."""
    walk = begin(loaded.trees[tree], loaded.library, Move(Kind.BEGIN, role=role, model=model, occupant=OFF))
    for answer in answers:
        while (gate := walk.site.gate(walk.key)) in PASSING:
            walk = apply(walk, Move(PASSING[gate]))
        walk = apply(walk, Move(Kind.FINDING, label=answer) if isinstance(answer, str) else answer)
    return walk


def lamp(*answers: Move | str, role: str = "repairer"):
    return walked(sample(), "lamp-does-not-light", *answers, role=role, model="Finch")


def rel(*answers: Move | str, role: str = "mechanic"):
    return walked(shipped(), "cot-will-not-release", *answers, role=role, model="Bracken")


UNABLE = Move(Kind.UNABLE, text="no light")


# -- by hand


def test_the_reading_that_alone_rules_out_a_cause_is_offered_again() -> None:
    """Lights rules out switch and head, Flat rules out contacts, switch and head: only the contacts hang on one."""
    walk = lamp("Lights", Move(Kind.READING, value="0.9 V"))
    assert walk.key.step == "fit-cell"
    found = resting(walk)
    assert found == Resting(done_so_far(walk).lines, "volts", ("contacts-dirty",))
    assert found.lines[1] == "2. Is the old cell good under load? 0.9 V, Flat."


def test_a_matter_of_feel_decides_nothing() -> None:
    """The click is felt; the film rules out switch and head alone, the cell is ruled out by both firm findings."""
    found = resting(lamp("Stays dark", "Clicks", "Film"))
    assert found is not None
    assert (found.alone, found.why) == ("contacts-dark", ("switch-worn", "head-failed"))


def test_of_equals_the_latest_on_the_way() -> None:
    """Cell, contacts and switch are each ruled out by one answer of its own."""
    walk = lamp("Stays dark", "Clicks", "Clean", "Stays dark")
    assert walk.key.step == "fit-head"
    found = resting(walk)
    assert found is not None
    assert (found.alone, found.why) == ("bridge-last", ("switch-worn",))


def test_none_decides_where_nothing_was_ruled_out() -> None:
    walk = lamp(UNABLE, UNABLE, UNABLE)
    assert walk.key.step == "wipe-contacts"
    found = resting(walk)
    assert found == Resting(done_so_far(walk).lines)
    assert len(found.lines) == 3
    assert "One look alone" not in page(resting_blocks(walk, found))


def test_at_an_end_a_failed_fix_rules_out_too() -> None:
    """Film rules out cell, switch and head, Lights switch and head, the failed fix the contacts: only the cell is
    kept out by one check, and the contacts are kept out by no check."""
    walk = lamp("Lights", UNABLE, "Film", DONE, DONE, FAILED)
    assert walk.key.step == "out-of-use"
    assert walk.ended
    found = resting(walk)
    assert found is not None
    assert (found.alone, found.why) == ("contacts", ("cell-flat",))
    assert found.lines[-1] == "4. Wipe the contacts. 2 of 2 lines done; operational check failed."


def test_a_lock_that_folds_and_stays_shut_hangs_on_the_look_at_the_knee() -> None:
    """The cot that leans on the cam is ruled out twice, the item in the jaw by the jaw; the knee rules out the rest."""
    walk = rel("Still held", "Past the line", "Jaw clear")
    assert walk.key.step == "clean-cam"
    found = resting(walk)
    assert found is not None
    assert found.alone == "knee"
    kept_out = ("free-play-large", "cable-broken", "cable-dragging", "stop-too-deep", "bracket-loose")
    assert set(found.why) == set(kept_out)
    assert list(found.why) == [name for name in walk.site.variant.causes if name in kept_out], "the tree's order"


def test_the_page_in_words() -> None:
    walk = rel("Still held", "Past the line", "Jaw clear")
    found = resting(walk)
    assert found is not None
    shown = [block.lines for block in resting_blocks(walk, found)]
    assert shown[0][0].startswith("Next: ")
    assert shown[0][0].endswith(" Before it, look once more.")
    assert shown[1] == ("It rests on:", *found.lines)
    assert shown[2] == (
        'One look alone decides: "Through the side window, what does the knee do when the handle is pulled fully?" '
        "You answered: Past the line.",
    )
    assert shown[3][0].startswith("If that was misread, it may be: Release cable free play too large; ")
    assert shown[3][0].endswith("Handle bracket loose or bent.")


def test_the_first_role_sees_the_check_and_no_causes() -> None:
    walk = lamp("Stays dark", "Clicks", "Film", role="user")
    assert walk.step.who == "user", "work that the first role may do itself"
    found = resting(walk)
    assert found is not None
    shown = page(resting_blocks(walk, found))
    assert "One look alone decides" in shown
    assert not any(cause.text in shown for cause in walk.site.variant.causes.values())


def test_crew_is_not_led_into_work_of_a_mechanic() -> None:
    """The gate of the role comes first, and the last look is for the mechanic who takes over."""
    walk = rel("Still held", "Past the line", "Jaw clear", role="crew")
    assert walk.site.gate(walk.key) == Gate.ROLE
    assert resting(walk) is None
    taken = apply(walk, Move(Kind.TAKE_OVER, role="mechanic", occupant=OFF))
    assert resting(taken) == resting(rel("Still held", "Past the line", "Jaw clear"))


def test_nothing_is_rested_on_while_somebody_is_on_it() -> None:
    """With a patient on the cot nothing more is to be done here: what that would rest on is no question yet."""
    walk = rel("Still held", "Short of the line", "Moves")
    assert resting(walk)
    occupied = apply(walk, Move(Kind.OCCUPANT_ON))
    assert occupied.site.gate(occupied.key) == Gate.OCCUPANT
    assert resting(occupied) is None
    assert resting(apply(occupied, Move(Kind.OCCUPANT_OFF))) == resting(walk)


def test_a_reading_is_told_as_it_was_typed() -> None:
    walk = lamp("Lights", Move(Kind.READING, value="900 mV"))
    found = resting(walk)
    assert found is not None
    assert "You answered: 900 mV, Flat." in page(resting_blocks(walk, found))


def test_the_check_can_be_gone_back_to() -> None:
    walk = rel("Still held", "Past the line", "Jaw clear")
    found = resting(walk)
    assert found is not None
    assert apply(walk, Move(Kind.BACK, to=found.alone)).key.step == "knee"


# -- when


def test_only_before_the_first_work() -> None:
    walk = lamp("Lights", "Flat")
    assert resting(walk)
    acknowledged = apply(walk, ACKNOWLEDGE) if walk.site.gate(walk.key) else walk
    assert resting(acknowledged), "gates are no work"
    done = apply(acknowledged, DONE)
    assert resting(done) is None
    assert resting(apply(done, PASSED)) is None
    failed = apply(done, FAILED)
    assert isinstance(failed.step, Fix)
    assert resting(failed) is None, "not the first fix"
    over = apply(failed, Move(Kind.START_OVER))
    assert resting(over) is None, "at a check"
    again = apply(over, ACKNOWLEDGE) if over.site.gate(over.key) else over
    again = apply(apply(again, Move(Kind.FINDING, label="Lights")), Move(Kind.FINDING, label="Flat"))
    assert resting(again), "the first since starting over"


def test_work_that_was_gone_back_from_was_begun_all_the_same() -> None:
    walk = lamp("Stays dark", "Clicks", "Film")
    begun = apply(walk, DONE)
    back = apply(apply(begun, Move(Kind.BACK)), Move(Kind.FINDING, label="Film"))
    assert back.key.step == "wipe-contacts-dark"
    assert resting(walk)
    assert resting(back) is None


def test_conditions_of_a_deferral_are_no_work() -> None:
    """Two are ticked, the third is not so: the new wheel is the first work of the walk.

    It clears all but debris and shoe, and these are ruled out both by the flat place and by its depth.
    """
    findings = ("Flat place", "Felt but allowed", "Whole", "Whole")
    walk = walked(shipped(), "wheel-thumps", *findings, role="mechanic", model="Bracken")
    assert walk.step.kind == "deferred"
    for move in (DONE, DONE, Move(Kind.CANNOT, text="cracked")):
        walk = apply(walk, move)
    assert walk.key.step == "fit-wheel"
    found = resting(walk)
    assert found is not None
    assert (found.alone, found.why) == ("", ())
    assert found.lines[-1] == "5. Deferred. cannot (cracked)."


def test_not_while_the_walk_waits_for_somebody() -> None:
    walk = lamp("Lights", "Flat")
    waiting = apply(walk, Move(Kind.STOP))
    assert resting(waiting) is None
    assert resting(apply(waiting, Move(Kind.TAKE_OVER, role="user"))) == resting(walk)


def test_not_where_nothing_was_answered() -> None:
    tree = sample().trees["lamp-does-not-light"]
    variant = replace(tree.variants["Finch"], start="fit-cell")
    begun = begin(replace(tree, variants={"Finch": variant}), sample().library, Move(Kind.BEGIN, model="Finch"))
    assert isinstance(begun.step, Fix)
    assert resting(begun) is None


def test_only_at_ends_that_nobody_goes_on_from() -> None:
    walk = rel("Still held", "Short of the line", "Moves")
    held = apply(walk, Move(Kind.CANNOT, text="no part"))
    assert held.step.kind == "out of service"
    assert resting(held)
    handed = walked(shipped(), "legs-do-not-drop", UNABLE, role="mechanic", model="Alder")
    assert handed.step.kind == "hand over"
    assert resting(handed) is None


# -- computed in another way


def by_counting(walk) -> Resting | None:
    """The same from the definition: for each cause the answers that rule it out; it hangs on one where they are one."""
    variant, here = walk.site.variant, walk.step
    if walk.state != GOING or not expected_here(walk):
        return None
    lines = done_so_far(walk).lines
    if not lines:
        return None
    met = here.clears if isinstance(here, Fix) else tuple(here.named)
    hanging: dict[str, list[str]] = {}
    for name, cause in variant.causes.items():
        against = [visit.step for visit in walk.way if rules_out(variant, visit, name, cause)]
        if name not in met and len(against) == 1 and isinstance(variant.steps[against[0]], Check):
            hanging.setdefault(against[0], []).append(name)
    alone, why = "", []
    for visit in walk.way:
        if visit.step in hanging and len(hanging[visit.step]) >= len(why):
            alone, why = visit.step, hanging[visit.step]
    return Resting(lines, alone, tuple(why))


def rules_out(variant, visit, name: str, cause: Cause) -> bool:
    step = variant.steps[visit.step]
    if not visit.moves:
        return False
    last = visit.moves[-1]
    if isinstance(step, Fix):
        return last.kind == Kind.FAILED and name in step.clears
    if not isinstance(step, Check) or step.sure < 1 or last.kind == Kind.UNABLE:
        return False
    may = cause.shows.get(step.base, ()) or step.usual
    offered = {finding.label for finding in step.findings}
    return last.label in offered and last.label not in may and bool(offered & set(may))


def may_be_worked_on(walk) -> bool:
    """Nobody is on it where nobody may be, and whoever is here may do the step."""
    here, role = walk.step, walk.library.roles[walk.key.role]
    if walk.ended:
        return True
    empty = walk.library.occupant is None or walk.key.occupant == OFF
    return (isinstance(here, End) or here.occupied or empty) and (not here.who or here.who in role.covers)


def expected_here(walk) -> bool:
    steps, stage, here = walk.site.variant.steps, walk.key.phase.stage, walk.step
    if not may_be_worked_on(walk):
        return False
    hazards = {name for name, item in walk.library.open_items.items() if item.kind == "hazard"}
    if isinstance(here, Fix) and here.who == next(iter(walk.library.roles)) and hazards & walk.key.open_items:
        return False
    if isinstance(here, End):
        closing = [move for move in walk.way[-1].moves if move.kind == Kind.CLOSED]
        return here.kind in ("out of service", "no fault found") and not closing and not hazards & walk.key.open_items
    if not isinstance(here, Fix) or stage not in (Stage.ARRIVED, Stage.DO) or walk.key.phase.line:
        return False
    for line in reversed(walk.log):
        if line.move.kind == Kind.START_OVER:
            break
        if line.move.kind == Kind.DONE and isinstance(steps[line.step], Fix):
            return False
    return True


LABELS = ("Good", "Worn", "Gone")


@st.composite
def telling_trees(draw: Any):
    """Random trees whose causes show something, whose fixes clear some of them and whose end may name some."""
    tree, library = draw(trees())
    (variant,) = tree.variants.values()
    names = ("worn", "bent", "dry", "loose")
    some = st.lists(st.sampled_from(names), max_size=2, unique=True).map(tuple)
    shown = st.lists(st.sampled_from(LABELS), max_size=2, unique=True).map(tuple)
    steps = {}
    for name, step in variant.steps.items():
        if isinstance(step, Check):
            steps[name] = replace(step, usual=draw(shown))
        elif isinstance(step, Fix):
            steps[name] = replace(step, clears=draw(some))
        else:
            kind = draw(st.sampled_from((step.kind, "out of service", "no fault found")))
            when = step.when if kind == "deferred" else ()
            steps[name] = replace(step, kind=kind, when=when, named=dict.fromkeys(draw(some), ()))
    checks = [name for name, step in steps.items() if isinstance(step, Check)]
    causes = {name: Cause(name, name, shows={check: draw(shown) for check in checks}) for name in names}
    variant = replace(variant, steps=steps, causes=causes)
    return replace(tree, variants={variant.model: variant}), library


@given(telling_trees(), st.randoms(use_true_random=False))
@settings(max_examples=120, deadline=None)
def test_on_random_trees_and_moves(drawn, random) -> None:
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=OFF))
    for _ in range(30):
        assert resting(walk) == by_counting(walk)
        moves = [move for move in possible_moves(walk) if move.kind not in (Kind.STOP, Kind.HAND_OVER)]
        if random.random() < 0.7:
            moves = list(allowed(walk.site, walk.key)) or moves
        move = random.choice(moves)
        role = random.choice(list(library.roles))
        walk = apply(walk, Move(move.kind, role=role) if move.kind == Kind.TAKE_OVER else filled(move))


@pytest.mark.parametrize(("library", "tree", "variant"), EVERY)
def test_on_every_way_of_every_tree(library, tree, variant) -> None:
    """Each way of findings, unable, cannot and failed to its first fix and to each end, capped where there are many."""
    able = max(library.roles, key=lambda name: len(library.roles[name].covers))
    walks = [begin(tree, library, Move(Kind.BEGIN, role=able, model=variant.model, occupant=OFF))]
    seen, pages = set(), 0
    while walks and len(seen) < 1500:
        walk = walks.pop()
        way = tuple((visit.step, visit.moves) for visit in walk.way)
        if way in seen:
            continue
        seen.add(way)
        found = resting(walk)
        assert found == by_counting(walk)
        if found is not None:
            pages += 1
            assert all(block.lines for block in resting_blocks(walk, found))
            assert found.alone in ("", *(visit.step for visit in walk.way[:-1]))
            assert bool(found.alone) == bool(found.why)
        moves = [move for move in allowed(walk.site, walk.key) if not move.kind.startswith("occupant")]
        walks += [apply(walk, filled(move)) for move in moves]
    assert pages > 5
