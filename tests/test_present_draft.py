"""The entry draft: what was recorded and nothing beyond it; readings stand in their blanks, and only there."""

from __future__ import annotations

import pytest
from shipped import sample, shipped
from test_present_after import INSPECTED, WAITED, all_done, further, rel, walked

from faulttree.keys import OFF, Gate, Kind, Move, Phase, Stage
from faulttree.model import Check, Fix, Tree, Variant
from faulttree.present.after import CUT_SHORT
from faulttree.present.blanks import BLANK
from faulttree.present.draft import NOT_SEEN, entry_draft, work_done
from faulttree.readings import band_of_reading
from faulttree.value import replace
from faulttree.walk import Logged, Visit, apply, begin

LEFT = "___ (INCOMPLETE)"
PASSING = {Gate.PEOPLE: Kind.PEOPLE_HERE, Gate.WARNINGS: Kind.ACKNOWLEDGE}
DONE, PASSED, FAILED = (Move(kind) for kind in (Kind.DONE, Kind.PASSED, Kind.FAILED))


def lamp(*answers: Move | str):
    """A walk of the sample's lamp, gates passed by themselves; a text is a finding."""
    loaded = sample()
    walk = begin(loaded.trees["lamp-does-not-light"], loaded.library, Move(Kind.BEGIN, role="repairer", model="Finch"))
    for answer in answers:
        while (gate := walk.site.gate(walk.key)) in PASSING:
            walk = apply(walk, Move(PASSING[gate]))
        walk = apply(walk, Move(Kind.FINDING, label=answer) if isinstance(answer, str) else answer)
    return walk


def draft(walk) -> dict[str, str]:
    """The lines of the draft by their first words."""
    lines = entry_draft(walk, walk.step)
    return dict(line.split(": ", 1) for line in lines[1:])


def reading(value: str) -> Move:
    return Move(Kind.READING, value=value)


# -- what is proved


def test_one_press_proves_that_the_question_was_answered_and_no_more() -> None:
    found = draft(lamp("Lights", reading("0.9 V"), DONE, PASSED))
    ask = sample().library.operational_checks["lights-ten-times"].ask
    assert found["PROVED"] == f"answered as passed, 1 of 1: {ask}"
    assert found["WORDS, where it was so"] == "Lights ___ (INCOMPLETE) of 10."


def test_an_answer_as_failed_is_counted_too() -> None:
    """The contacts are wiped in vain, the cell is then new: of two answers to the same question one was passed."""
    walk = lamp("Lights", Move(Kind.UNABLE, text="no meter"), "Film", DONE, DONE, FAILED)
    assert walk.ended
    back = apply(apply(walk, Move(Kind.BACK, to="volts")), reading("0.9 V"))
    found = draft(apply(apply(back, DONE), PASSED))
    assert found["PROVED"].startswith("answered as passed, 1 of 2: ")
    assert found["DID, and it did not help"] == "Contacts wiped."


def worked(walk, fix: Fix):
    """The walk at that fix with all its lines ticked and its operational check passed, however it came there."""
    ticks = [(DONE, Phase(Stage.DO, line)) for line in range(len(fix.lines))]
    made = (*ticks, (PASSED, Phase(Stage.PROVE)))
    log = [Logged(move, fix.id, phase, "mechanic", OFF, walk.site) for move, phase in made]
    key = walk.key._replace(step=fix.id, phase=Phase(Stage.ENDED))
    return replace(walk, way=(Visit(fix.id, tuple(line.move for line in log)),), key=key, log=(*walk.log, *log))


def fixes_by_check() -> dict[str, list[tuple[Tree, Variant, Fix]]]:
    """By each operational check that a shipped fix uses, all these fixes, of all models."""
    found: dict[str, list[tuple[Tree, Variant, Fix]]] = {}
    for tree in shipped().trees.values():
        for variant in tree.variants.values():
            for step in variant.steps.values():
                if isinstance(step, Fix):
                    found.setdefault(step.operational_check, []).append((tree, variant, step))
    return found


@pytest.mark.parametrize("name", sorted(fixes_by_check()))
def test_no_claim_of_an_operational_check_stands_as_proved(name) -> None:
    """Of every one in use the counts and readings stand below, as words for whoever can say that it was so."""
    proof = shipped().library.operational_checks[name]
    claims = BLANK.sub(lambda blank: blank[0].replace("___", LEFT), proof.proved.removesuffix(".")).split(". ")
    for tree, variant, fix in fixes_by_check()[name]:
        walk = begin(tree, shipped().library, Move(Kind.BEGIN, role="mechanic", model=variant.model, occupant=OFF))
        walk = worked(walk, fix)
        lines = dict(line.split(": ", 1) for line in entry_draft(walk, fix)[1:])
        assert proof.ask in lines["PROVED"]
        assert not any(claim in lines["PROVED"] for claim in claims)
        assert all(claim in lines["WORDS, where it was so"] for claim in claims), "as the draft fills their blanks"


# -- what was found


def test_a_reading_stands_in_its_blank() -> None:
    """Cell voltage under load ___ V: the voltage of the cell under load was read."""
    assert draft(lamp("Lights", reading("0.9 V"), DONE, PASSED))["FOUND"] == "Cell voltage under load 0.9 V."


def test_it_stands_there_as_it_was_recorded() -> None:
    assert draft(lamp("Lights", reading("900 mV"), DONE, PASSED))["FOUND"] == "Cell voltage under load 900 mV."


def test_a_finding_without_a_reading_leaves_the_blank() -> None:
    assert draft(lamp("Lights", "Flat", DONE, PASSED))["FOUND"] == "Cell voltage under load ___ (INCOMPLETE) V."


def filled(tree_id: str, cause: str, **read: str) -> str:
    """What the draft says was found, after a walk that read these at its checks; a low line stands for a hyphen.

    The way is made of the checks alone, with the finding of the band, and the first fix that clears the cause.
    """
    tree, library = shipped().trees[tree_id], shipped().library
    variant = tree.variants[tree.models[0]]
    variant = replace(variant, causes={cause: variant.causes[cause]})
    site = begin(tree, library, Move(Kind.BEGIN, role="mechanic", model=variant.model, occupant=OFF))
    visits = []
    for name, value in read.items():
        check = variant.steps[name.replace("_", "-")]
        assert isinstance(check, Check)
        label = band_of_reading(site.site, site.key._replace(step=check.id), value)
        visits.append(Visit(check.id, (Move(Kind.READING, value=value, label=label),)))
    fix = next(each for each in variant.steps.values() if isinstance(each, Fix) and cause in each.clears)
    walk = replace(site, site=replace(site.site, variant=variant), way=(*visits, Visit(fix.id, (PASSED,))))
    found = next(line for line in entry_draft(walk, fix) if line.startswith("FOUND: "))
    return found.removeprefix("FOUND: ").removeprefix(NOT_SEEN)


@pytest.mark.parametrize(
    ("tree", "cause", "read", "says"),
    [
        (
            "cot-will-not-release",
            "free-play-large",
            {"free_play": "0.35 in"},
            f"Cable free play 0.35 in at the grip. Strands {LEFT} (whole / broken), casing {LEFT} (seated / out",
        ),
        ("cot-will-not-lock", "lock-pin-bent", {"pin_bend": "0.9 mm"}, "Cot lock pin bent 0.9 mm."),
        # The diameter says nothing of the bend, though it too is in millimetres.
        ("cot-will-not-lock", "lock-pin-bent", {"pin_diameter": "11.5 mm"}, f"Cot lock pin bent {LEFT} mm."),
        (
            "cot-will-not-lock",
            "lock-pin-bent",
            {"pin_bend": "0.9 mm", "pin_diameter": "11.5 mm"},
            "Cot lock pin bent 0.9 mm.",
        ),
        # Two blanks in millimetres: the gap is the leg's, the pad was not measured.
        ("leg-does-not-lock", "leg-short", {"stop": "4 mm"}, f"Leg 4 mm short of its stop. Stop {LEFT} (packed"),
        ("leg-does-not-lock", "hook-pivot-worn", {"engagement": "12 mm"}, f"Hook side play {LEFT} mm."),
        # What was measured is the fray, and the cut is something else.
        ("strap-or-buckle", "strap-cut", {"fray_width": "3 mm"}, f"Strap cut {LEFT} mm at {LEFT}."),
        ("strap-or-buckle", "edge-fray", {"fray_width": "3 mm"}, f"Strap edge frayed 3 mm, sharp edge at {LEFT}."),
        ("wheel-thumps", "flat-spot", {"flat_depth": "0.75 mm"}, f"Flat 0.75 mm deep on the tread at position {LEFT}."),
    ],
)
def test_only_where_one_reading_and_one_blank_belong_together(tree, cause, read, says) -> None:
    assert filled(tree, cause, **read).startswith(says)


def test_blanks_of_what_was_done_stay_blanks() -> None:
    """They stand for values after the work, and nothing is read after it."""
    for tree in shipped().trees.values():
        for variant in tree.distinct_variants():
            for fix in (each for each in variant.steps.values() if isinstance(each, Fix) and "___" in each.did):
                walk = begin(
                    tree, shipped().library, Move(Kind.BEGIN, role="mechanic", model=variant.model, occupant=OFF)
                )
                walk = worked(walk, fix)
                did = next(line for line in entry_draft(walk, fix) if line.startswith("DID: "))
                assert did.count(LEFT) == fix.did.count("___")


def test_what_only_a_failed_operational_check_spoke_against_may_have_been_found() -> None:
    """Wiping did not help; a new head, which in this tree clears the contacts too, does: the film was there."""
    walk = lamp("Stays dark", Move(Kind.UNABLE, text="x"), "Film", DONE, DONE, FAILED, "Stays dark", DONE)
    assert walk.key.step == "fit-head"
    head = replace(walk.step, clears=("head-failed", "contacts-dirty"))
    variant = replace(walk.site.variant, steps={**walk.site.variant.steps, head.id: head})
    both = apply(replace(walk, site=replace(walk.site, variant=variant)), PASSED)
    assert draft(both)["FOUND"] == "Film on the contacts."
    assert draft(both)["DID, and it did not help"] == "Contacts wiped."
    assert draft(apply(walk, PASSED))["FOUND"].startswith("___ (INCOMPLETE). The findings speak against all")


# -- work


def knee_springs():
    """A lock whose pivots are cleaned in vain and whose knee springs then help; the cable was not to be had before."""
    return walked(
        shipped(),
        "cot-will-not-lock",
        *("Both home", "Comes out", "Slow or half way"),
        *[DONE] * 8,
        *(Move(Kind.WAITED, text=CUT_SHORT), Move(Kind.INSPECTED, text="AB"), FAILED),
        *(reading("57 mm"), *[DONE] * 10),
        *(Move(Kind.WAITED), Move(Kind.INSPECTED, text="CD"), PASSED),
    )


def test_all_work_stands_in_the_draft_with_its_waits_inspections_parts_and_documents() -> None:
    walk = knee_springs()
    lines = [line for line in entry_draft(walk, walk.step) if not line.startswith(("FOUND", "SEEN", "READ", "LIMIT"))]
    ask = shipped().library.operational_checks["lock-and-release"].ask
    by = "By SKM-MNT-01 revision B, section 3."
    assert lines[1:-1] == [
        "DID, and it did not help: Lock cam and prop pivots cleaned and dry-film lubricated, worked until both moved "
        "under their own springs.",
        "WAIT of 10 minutes: said to be over before it was by the clock.",
        "SECOND INSPECTION recorded, not signed: AB. To look at: Seen before the cover went on - cam and prop move "
        "under their own springs, jaw and pin faces dry.",
        "REF: SKM-MNT-01 revision B, section 3.",
        f"FAILED: {ask} {by}",
        f"DID: Knee spring pair replaced, locked length {LEFT} mm and {LEFT} mm.",
        "PARTS: SKM-0421 Knee spring pair (1).",
        "WAIT of 10 minutes: said to be over.",
        "SECOND INSPECTION recorded, not signed: CD. To look at: Seen before the cover went on - both springs hooked, "
        "whole and in limits, lock snaps.",
        "REF: SKM-MNT-01 revision B, section 3.",
        f"PROVED: answered as passed, 1 of 2: {ask} {by}",
    ]


def test_each_limit_stands_once_with_its_bands_and_where_it_is_from() -> None:
    """As trees/limits.yaml has them, the one that was read beside its reading."""
    lines = entry_draft(knee_springs(), knee_springs().step)
    edges = "Too short below 60 mm, In limits up to 64 mm, Too long above that (SKM-MNT-01 revision B, section 3)."
    assert f"READ: Length of a knee spring, locked: 57 mm (Too short). Limit: {edges}" in lines
    assert [line for line in lines if line.startswith("LIMIT")] == [
        "LIMIT: Depth of wear at a knee spring post: In limits up to 0.5 mm, Worn above that (SKM-MNT-01 revision B, "
        "section 3).",
        "LIMIT: Grip travel at which the cam opens: In limits up to 45 mm, Too long above that (SKM-MNT-01 revision B, "
        "section 4).",
    ]


def test_a_reading_in_another_unit_stands_as_typed_and_in_the_limits() -> None:
    walk = walked(shipped(), "wheel-thumps", "Flat place", reading("0.05 in"), *[DONE] * 8, PASSED)
    lines = entry_draft(walk, walk.step)
    assert lines[1] == f"FOUND: Flat 0.05 in deep on the tread at position {LEFT}."
    assert lines[2].startswith("READ: Depth of a flat on the tread: 0.05 in = 1.27 mm (Too deep). Limit: ")


def test_a_part_that_may_have_been_needed_is_asked_for() -> None:
    walk = walked(shipped(), "strap-or-buckle", "No click", *[DONE] * 9, PASSED)
    parts = next(line for line in entry_draft(walk, walk.step) if line.startswith("PARTS"))
    assert parts.count(f", used: {LEFT} (yes / no)") == 3


def test_work_that_was_given_up_or_left_is_not_said_to_be_done() -> None:
    cannot = Move(Kind.CANNOT, text="a second hub is cracked")
    walk = walked(shipped(), "wheel-hub-cracked", "Spoke or rim", "Bruise", DONE, cannot, *[DONE] * 11, PASSED)
    lines = entry_draft(walk, walk.step)
    assert "NOT DONE, 1 of 10 lines: Cannot: a second hub is cracked. Replace the wheel." in lines
    assert sum(line.startswith("DID") for line in lines) == 1


def test_work_whose_check_passed_before_going_back_is_not_said_to_be_without_an_answer() -> None:
    walk = all_done(rel("Still held", "Past the line", "Jaw clear"))
    while walk.key.phase.stage != Stage.PROVE:
        walk = further(walk, {Stage.WAIT: WAITED, Stage.INSPECT: INSPECTED}[walk.key.phase.stage])
    # Taken apart on a way that was gone back over, and not by this work to close.
    walk = replace(walk, key=walk.key._replace(open_items=walk.key.open_items | {"cable-eye-unhooked"}))
    walk = apply(further(walk, PASSED), Move(Kind.BACK, to="jaw"))
    [did] = [line for line in work_done(walk) if line.startswith("DID")]
    assert did.startswith("DID, operational check answered as passed, gone back after it: ")


def test_what_no_finding_shows_is_not_said_to_have_been_seen() -> None:
    """Nobody could look at the contacts; that wiping them helped is all there is. A lamp that stays dark says nothing
    of them, as either answer fits."""
    unseen = lamp("Stays dark", "Clicks", Move(Kind.UNABLE, text="no light"), DONE, DONE, PASSED)
    assert draft(unseen)["FOUND"] == f"{NOT_SEEN}Film on the contacts."
    assert draft(lamp("Stays dark", "Clicks", "Film", DONE, DONE, PASSED))["FOUND"] == "Film on the contacts."


def test_where_the_findings_speak_against_all_that_helped_they_are_told() -> None:
    """A greasy tread is cleaned in vain and worn shoes are replaced: the tree's causes are one at a time."""
    answers = ("Both stay down", "Wheel turns", "Wet or greasy", *[DONE] * 6, Move(Kind.WAITED), FAILED, "Whole")
    walk = walked(shipped(), "wheel-lock-does-not-hold", *answers, reading("1.6 mm"), *[DONE] * 8, Move(Kind.WAITED))
    walk = further(walk, PASSED)
    lines = entry_draft(walk, walk.step)
    assert lines[1] == f"FOUND: {LEFT}. The findings speak against all that this clears."
    assert lines[2] == "SEEN: Are tread and shoe dry and clean? Wet or greasy."
    assert lines[3].startswith("READ: Thickness of a wheel lock shoe: 1.6 mm (Worn). ")
