"""What typed lines mean, what the log shows beside the way, minutes of a way, what is still possible."""

from __future__ import annotations

import re

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shipped import sample, shipped
from strategies import filled, trees

from faulttree.keys import OFF, ON, Gate, Kind, Move, Stage
from faulttree.minutes import minutes_of
from faulttree.moves import allowed
from faulttree.possible import possible
from faulttree.present import choices, hand_over_page, screen, start_page
from faulttree.present.answer import Aside, Meant, completed, understand, whole_number
from faulttree.present.draft import NOT_SEEN
from faulttree.present.progress import done_so_far, set_aside
from faulttree.problems import MoveError
from faulttree.value import replace
from faulttree.walk import apply, begin

LAMP = sample()


def lamp(*moves: Move, role: str = "repairer"):
    walk = begin(LAMP.trees["lamp-does-not-light"], LAMP.library, Move(Kind.BEGIN, role=role, model="Finch"))
    for move in moves:
        walk = apply(walk, move)
    return walk


ACKNOWLEDGE = Move(Kind.ACKNOWLEDGE)
LIGHTS = Move(Kind.FINDING, label="Lights")
DARK = Move(Kind.FINDING, label="Stays dark")


def page(blocks) -> str:
    return "\n".join(line for block in blocks for line in block.lines)


@given(trees(), st.text(max_size=60), st.randoms(use_true_random=False))
@example((shipped().trees["wheel-thumps"], shipped().library), "²", None)
@example((shipped().trees["wheel-thumps"], shipped().library), "9" * 5000, None)
@example((shipped().trees["wheel-thumps"], shipped().library), "back ²", None)
@example((shipped().trees["wheel-thumps"], shipped().library), "\udcff", None)
@settings(max_examples=150, deadline=None)
def test_any_line_is_a_move_an_aside_or_refused_in_words(drawn, line, random) -> None:
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN, model=tree.models[0], occupant=OFF))
    for _ in range(random.randrange(8) if random else 0):
        moves = allowed(walk.site, walk.key)
        walk = apply(walk, filled(random.choice(moves))) if moves else walk
    try:
        meant = understand(walk, line)
    except MoveError as refused:
        meant = refused
    assert meant.advice if isinstance(meant, MoveError) else isinstance(meant, Meant | Aside)


@pytest.mark.parametrize("typed", ["passed no", "passed 9 of 10", "done not", "waited a bit", "acknowledge not"])
def test_what_follows_a_result_is_not_swallowed(typed) -> None:
    with pytest.raises(MoveError, match="is not clear"):
        understand(lamp(), typed)


def test_numbers_words_and_readings() -> None:
    walk = lamp(ACKNOWLEDGE)
    assert understand(walk, "1") == Meant(LIGHTS)
    assert understand(walk, "stays dark.") == Meant(DARK)
    assert understand(walk, "unable: no spare cell") == Meant(Move(Kind.UNABLE, text="no spare cell"))
    assert understand(walk, "unable").asks == "Why (no patient data)"
    assert understand(walk, "?") == Aside("help", "")
    assert understand(walk, "so far") == Aside("so far", "")
    measured = apply(walk, LIGHTS)
    assert understand(measured, "1.05 V") == Meant(Move(Kind.READING, value="1.05 V"))
    with pytest.raises(MoveError, match="a reading or the number of an answer"):
        understand(measured, "3")


@pytest.mark.parametrize(
    ("typed", "number"), [("7", 7), ("0", 0), ("²", None), ("１", None), ("12345", None), ("", None)]
)
def test_whole_numbers_are_plain_digits(typed, number) -> None:
    assert whole_number(typed) == number


def test_a_text_that_is_needed_is_not_left_out() -> None:
    with pytest.raises(MoveError):
        completed(understand(lamp(), "note"), "  ")


@pytest.mark.parametrize(
    ("reading", "band"),
    [
        ("1.09 V", "Flat"),
        ("1.1 V", "Good"),
        ("1100 mV", "Good"),
        ("1099.9 mV", "Flat"),
        ("0 V", "Flat"),
        ("2 V", "Good"),
    ],
)
def test_readings_at_the_edges_of_bands_and_range(reading, band) -> None:
    """``below: 1.1`` leaves 1.1 itself to the next band, in every unit."""
    walk = apply(lamp(ACKNOWLEDGE, LIGHTS), Move(Kind.READING, value=reading))
    assert walk.log[-1].move.label == band


@given(st.integers(1, 999))
def test_every_decimal_edge_is_where_it_is_written(tenths) -> None:
    from decimal import Decimal

    from faulttree.model import Band, Scale

    edge = float(f"{tenths / 10:.1f}")
    scale = Scale(edge, 100.0, (Band("in", edge, inclusive=True), Band("over", None)))
    at = Decimal(tenths) / 10
    assert scale.holds(at)
    assert scale.band_of(at) == "in"
    assert scale.band_of(at + Decimal("0.0001")) == "over"
    below = Scale(0.0, edge, (Band("under", edge), Band("rest", None)))
    assert below.band_of(at) == "rest"
    assert below.holds(at)


def test_the_log_keeps_what_the_way_has_left() -> None:
    walk = lamp(ACKNOWLEDGE, DARK, Move(Kind.BACK), ACKNOWLEDGE, LIGHTS, Move(Kind.NOTE, text="cold"))
    assert done_so_far(walk).lines == ("1. Does the lamp light with a spare cell? Lights.",)
    aside = "\n".join(set_aside(walk).lines)
    assert 'Gone back over: "Does the lamp light with a spare cell?" was answered: Stays dark.' in aside
    assert 'Note at "Is the old cell good under load?": cold.' in aside
    assert "Lights" not in aside


def test_no_line_beside_the_way_reads_as_a_finding_of_it() -> None:
    """Each says first what it is; work that was done and gone back over stays done, its lines told together."""
    done, failed, flat = Move(Kind.DONE), Move(Kind.FAILED), Move(Kind.READING, value="1.0 V")
    before = lamp(ACKNOWLEDGE, LIGHTS, flat, done, failed, Move(Kind.START_OVER), ACKNOWLEDGE, LIGHTS, flat, done)
    after = before
    for move in (Move(Kind.BACK), Move(Kind.ALSO_FOUND, text="strap missing")):
        after = apply(after, move)
    lines = set_aside(after).lines[1:]
    marks = ("Gone back over", "Before starting over", "Note at", "Also found at", "Started over", "Taken over by")
    assert lines
    assert all(line.startswith(marks) for line in lines), lines
    title = before.step.text.removesuffix(".")
    assert f'Before starting over, but done: "{title}", line 1.' in lines
    assert f'Gone back over, but done: "{title}", line 1.' in lines
    assert f'Before starting over: "{title}": operational check failed.' in lines
    assert all("?" not in line or '?" was answered: ' in line or line.startswith("Also") for line in lines), lines


def test_two_steps_with_one_label_are_not_mixed_up() -> None:
    """An answer that was taken back at one step does not vanish because another step has the same on the way."""
    clean = Move(Kind.FINDING, label="Good")
    tree = LAMP.trees["lamp-does-not-light"]
    steps = dict(tree.variants["Finch"].steps)
    contacts = steps["contacts"]
    renamed = replace(
        contacts, findings=tuple(replace(each, label=each.label.replace("Clean", "Good")) for each in contacts.findings)
    )
    variant = replace(tree.variants["Finch"], steps={**steps, "contacts": renamed})
    tree = replace(tree, variants={**tree.variants, "Finch": variant})
    walk = begin(tree, LAMP.library, Move(Kind.BEGIN, role="repairer", model="Finch"))
    for move in (ACKNOWLEDGE, LIGHTS, clean, Move(Kind.BACK), Move(Kind.UNABLE, text="no meter"), clean):
        walk = apply(walk, move)
    aside = set_aside(walk).lines
    assert any('under load?" was answered: Good' in line for line in aside)
    assert not any("contacts" in line for line in aside)


def test_possible_counts_firm_findings_and_failed_fixes_only() -> None:
    every = tuple(LAMP.trees["lamp-does-not-light"].variants["Finch"].causes)
    assert possible(lamp()) == every
    assert possible(lamp(ACKNOWLEDGE, LIGHTS)) == ("cell-flat", "contacts-dirty")
    dark = lamp(ACKNOWLEDGE, DARK)
    assert possible(dark) == ("contacts-dirty", "switch-worn", "head-failed")
    by_feel = apply(dark, Move(Kind.FINDING, label="Clicks"))
    assert possible(by_feel) == possible(dark), "a matter of feel rules nothing out"


def test_still_possible_is_for_the_second_role_after_its_own_finding() -> None:
    assert "Still possible" not in page(screen(lamp(ACKNOWLEDGE)))
    assert "Still possible, 2 of 4: Cell flat; Contacts dirty." in page(screen(lamp(ACKNOWLEDGE, LIGHTS)))
    assert "Still possible" not in page(screen(lamp(ACKNOWLEDGE, DARK, role="user")))


def test_minutes_of_a_way() -> None:
    """Computed by hand: spare cell 1, switch 0.5, repairer called out 30, ring off 2 once, bridge 2, new switch 10,
    its operational check 1."""
    variant = LAMP.trees["lamp-does-not-light"].variants["Finch"]
    way = [variant.steps[name] for name in ("spare-cell", "switch", "bridge", "fit-switch")]
    assert minutes_of(LAMP.library, "Finch", way) == pytest.approx(1 + 0.5 + 30 + 2 + 2 + 10 + 1)


def test_the_access_of_a_step_stands_before_its_lines() -> None:
    walk = lamp(ACKNOWLEDGE, DARK, Move(Kind.FINDING, label="No click"))
    assert "First: Head ring off." in page(screen(walk))


def test_every_shipped_step_tells_its_accesses() -> None:
    told = 0
    for tree in shipped().trees.values():
        walks, seen = (
            [begin(tree, shipped().library, Move(Kind.BEGIN, role="mechanic", model=tree.models[0], occupant=OFF))],
            set(),
        )
        while walks:
            walk = walks.pop()
            if walk.key in seen or walk.ended:
                continue
            seen.add(walk.key)
            accesses = getattr(walk.step, "accesses", ())
            if accesses and walk.site.gate(walk.key) is None and walk.key.phase.stage in ("ask", "do"):
                told += 1
                for name in accesses:
                    assert shipped().library.accesses[name].text in page(screen(walk))
            moves = (move for move in allowed(walk.site, walk.key) if not move.kind.startswith("occupant"))
            walks += [apply(walk, filled(move)) for move in moves]
    assert told > 20


@pytest.mark.parametrize(
    ("occupant", "numbers"),
    [
        ("", {Kind.OCCUPANT_ON: 1, Kind.OCCUPANT_OFF: 2, Kind.HAND_OVER: 3}),
        (ON, {Kind.OCCUPANT_OFF: 2, Kind.HAND_OVER: 3}),
    ],
)
def test_one_is_always_yes_and_two_always_no_for_the_occupant(occupant, numbers) -> None:
    tree = shipped().trees["leg-does-not-lock"]
    walk = begin(tree, shipped().library, Move(Kind.BEGIN, model="Bracken", occupant=occupant))
    assert walk.site.gate(walk.key) == Gate.OCCUPANT
    assert {choice.move.kind: choice.number for choice in choices(walk)} == numbers


def test_the_hand_over_page_has_the_patient_first_and_what_comes_next() -> None:
    tree = shipped().trees["cot-will-not-release"]
    walk = begin(tree, shipped().library, Move(Kind.BEGIN, occupant=ON))
    shown = page(hand_over_page(walk))
    assert shown.index("Patient first") < shown.index("Next: ")
    assert "Fallback: when it cannot wait" in shown
    assert "Cot will not release from the mount." in shown


def rel(*moves: Move, occupant: str = ON):
    walk = begin(shipped().trees["cot-will-not-release"], shipped().library, Move(Kind.BEGIN, occupant=occupant))
    for move in moves:
        walk = apply(walk, move)
    return walk


def test_handed_over_to_whom_is_said_where_the_step_is_for_somebody_else() -> None:
    walk = rel()
    assert walk.site.needs(walk.key).who == "crew"
    shown = page(hand_over_page(apply(walk, Move(Kind.HAND_OVER, to="mechanic"))))
    assert "Handed over to: mechanic.\nThe step is for: crew." in shown
    assert "Handed over" not in page(hand_over_page(apply(walk, Move(Kind.HAND_OVER))))
    same = page(hand_over_page(apply(walk, Move(Kind.HAND_OVER, to="crew"))))
    assert "Handed over to: crew." in same
    assert "The step is for" not in same


def test_a_walk_that_waits_for_its_operational_check_says_that_this_is_next() -> None:
    """Not the work once more, which is done."""
    walk = lamp(ACKNOWLEDGE, DARK, Move(Kind.FINDING, label="Clicks"), Move(Kind.UNABLE, text="dark"))
    walk = apply(apply(walk, Move(Kind.DONE)), Move(Kind.DONE))
    assert walk.key.phase.stage == Stage.PROVE
    shown = page(hand_over_page(apply(walk, Move(Kind.HAND_OVER))))
    assert re.search(r"^Next: .* \(operational check\)\.$", shown, re.MULTILINE), shown


def test_what_to_do_now_stands_above_what_was_found_and_the_code() -> None:
    walk = apply(rel(), Move(Kind.HAND_OVER, to="mechanic"))
    shown = page(hand_over_page(walk))
    assert shown.index("Now:") < shown.index(walk.tree.first_actions[0].do) < shown.index("Read-back code: ")


def test_once_a_fallback_line_worked_now_says_so_and_points_to_what_is_open() -> None:
    worked = apply(rel(), Move(Kind.FALLBACK, line=2))
    still_on = page(hand_over_page(apply(worked, Move(Kind.HAND_OVER))))
    off = page(hand_over_page(apply(apply(worked, Move(Kind.OCCUPANT_OFF)), Move(Kind.HAND_OVER))))
    for shown in (still_on, off):
        said = "Line 2 of the fallback worked, so the first actions are past. Do first what stands at OPEN above."
        assert shown.index("OPEN (hazard)") < shown.index("Now:") < shown.index(said) < shown.index("Read-back code: ")
        assert worked.tree.first_actions[0].do not in shown
    assert "Somebody stays with whoever is on it." in still_on
    assert "Fallback: when it cannot wait" in still_on, "the patient's line says that it is to be done"
    assert "Somebody stays" not in off
    assert "Fallback: " not in off
    closes = replace(worked, key=worked.key._replace(open_items=frozenset()))
    assert "Nothing is recorded as open. " not in page(hand_over_page(closes)).partition("Now:")[0]
    assert "first actions are past. Nothing is recorded as open." in page(hand_over_page(closes))


def test_once_a_fallback_line_worked_whoever_takes_over_is_not_told_to_do_the_first_actions_at_once() -> None:
    """They take for granted that nothing was done: "let go of the handle" beside a lock that stands open."""
    worked = apply(rel(), Move(Kind.FALLBACK, line=2))
    shown = page(start_page(apply(worked, Move(Kind.TAKE_OVER, role="mechanic", occupant=OFF))))
    said = "Line 2 of the fallback worked, so the first actions are past. Do first what stands at OPEN."
    assert f"At once:\n{said}" in shown
    assert worked.tree.first_actions[0].do not in shown
    assert worked.tree.first_actions[0].do in page(start_page(rel()))


def test_what_the_code_does_not_carry_stands_under_it() -> None:
    shown = page(hand_over_page(apply(rel(), Move(Kind.HAND_OVER))))
    below = shown[shown.index("Read-back code: ") :].splitlines()
    groups = below[0].partition(": ")[2].count("-") + 1
    assert below[groups + 1] == "Not in the code: fallback lines, notes, readings, names, times, waits."


def test_an_entry_draft_never_states_what_the_findings_rule_out() -> None:
    """A fix that passes although the findings spoke against all that it clears leaves the finding to the mechanic."""
    walk = lamp(ACKNOWLEDGE, DARK, Move(Kind.FINDING, label="Clicks"), Move(Kind.UNABLE, text="dark"))
    assert walk.key.step == "wipe-contacts-dark"
    for move in (Move(Kind.DONE), Move(Kind.DONE), Move(Kind.PASSED)):
        walk = apply(walk, move)
    assert f"FOUND: {NOT_SEEN}Film on the contacts." in page(screen(walk))
    ruled_out = lamp(ACKNOWLEDGE, LIGHTS, Move(Kind.FINDING, label="Flat"))
    way = tuple(
        replace(visit, moves=(ACKNOWLEDGE, DARK)) if visit.step == "spare-cell" else visit for visit in ruled_out.way
    )
    walk = replace(ruled_out, way=way)
    for move in (Move(Kind.DONE), Move(Kind.PASSED)):
        walk = apply(walk, move)
    assert "The findings speak against all that this clears." in page(screen(walk))


def test_before_anything_was_looked_at_a_hand_over_does_not_say_more_than_that() -> None:
    """Nothing open in the record is no statement on what hangs, or stands, or is loose."""
    begun = rel()
    assert "Nothing was looked at yet. Nothing is recorded as open." in page(hand_over_page(begun))
    looked = rel(Move(Kind.PEOPLE_HERE), Move(Kind.ACKNOWLEDGE), Move(Kind.FINDING, label="Still held"))
    assert "Nothing was looked at yet." not in page(hand_over_page(looked))


def test_where_somebody_is_on_it_and_a_hazard_is_open_that_is_to_be_dealt_with_first() -> None:
    walk = rel(Move(Kind.PEOPLE_HERE), Move(Kind.ACKNOWLEDGE), Move(Kind.FINDING, label="Free but heavy"))
    assert walk.site.gate(walk.key) == Gate.OCCUPANT
    said = page(screen(walk))
    assert "Do first what stands at OPEN. Nothing else is to be done here while somebody is on it." in said
    assert said.index("OPEN (hazard)") < said.index("Do first what stands at OPEN.")
