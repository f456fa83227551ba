"""Blanks of reports and drafts: what of the record fills them, what a person fills in, and what stays INCOMPLETE."""

from __future__ import annotations

import pytest
from shipped import shipped
from test_present_after import DONE, FAILED, INSPECTED, PASSED, UNABLE, all_done, further, legs, rel, walked

from faulttree.keys import OFF, ON, UNANSWERED, Kind, Move
from faulttree.model import Check, End, Fix
from faulttree.present.blanks import BLANK, LEFT, Seen, Text, blanks_of, fill_in, filled, seen_on_the_way
from faulttree.present.draft import entry_draft, work_done
from faulttree.present.filling import asked_for, blanks_block, blanks_left, report_line
from faulttree.walk import apply

NO_PIN = Move(Kind.CANNOT, text="no dummy lock pin")


def thumps(*answers: Move | str, **given):
    return walked(shipped(), "wheel-thumps", *answers, **given)


def read(value: str) -> Move:
    return Move(Kind.READING, value=value)


def text(words: str, walk=None) -> Text:
    return Text(words, "report", tuple(seen_on_the_way(walk)) if walk else ())


# -- by the record


def test_the_model_stands_where_it_was_asked_for_and_not_where_nobody_was() -> None:
    assert filled(legs(model="Alder"), text("Cot model ___, no. ___.")) == f"Cot model Alder, no. {LEFT}."
    assert rel().tree.alike
    assert filled(rel(), text("Cot model ___.")) == f"Cot model {LEFT}."


@pytest.mark.parametrize(
    ("occupant", "move", "says"),
    [
        (ON, None, "yes as the walk began"),
        (OFF, None, "no as the walk began"),
        (ON, Kind.OCCUPANT_OFF, "yes as the walk began, no later"),
        (UNANSWERED, None, f"{LEFT} (yes / no)"),
        (UNANSWERED, Kind.OCCUPANT_OFF, f"{LEFT} (yes / no)"),
    ],
)
def test_the_occupant_stands_as_it_was_answered_at_the_beginning(occupant, move, says) -> None:
    """Who says later that nobody is on it may have taken somebody off: that says nothing of before."""
    walk = rel(occupant=occupant, role="crew")
    walk = apply(walk, Move(move)) if move else walk
    assert filled(walk, text("Patient on the cot: ___ (yes / no).")) == f"Patient on the cot: {says}."


def test_another_question_with_yes_and_no_is_not_the_occupants() -> None:
    asks = "Injury: ___ (yes / no). Leg came down by hand: ___ (yes / no)."
    assert filled(legs(), text(asks)).count(LEFT) == 2


@pytest.mark.parametrize(
    ("walk", "reason"),
    [
        (lambda: walked(shipped(), "cot-will-not-lock", UNABLE, UNABLE), "no light (Is anything in the channels"),
        (
            lambda: rel("Still held", "Short of the line", "Moves", NO_PIN),
            "no dummy lock pin (Refit or replace the han",
        ),
        (lambda: further(all_done(thumps("Torn")), FAILED), ""),
    ],
)
def test_the_reason_is_why_the_way_came_to_its_end(walk, reason) -> None:
    report = " ".join(report_line(walk()))
    assert f"Reason: {reason}" in report if reason else "Reason" not in report


def test_a_failed_operational_check_is_a_reason() -> None:
    walk = all_done(walked(shipped(), "strap-or-buckle", "No click"))
    [line] = report_line(further(walk, FAILED))
    assert line.endswith("Reason: operational check failed (Replace the strap set).")


def test_a_reading_stands_in_the_report_of_a_deferral_as_it_was_typed() -> None:
    walk = thumps("Flat place", read("0.70 mm"), "Whole", "Whole", *[DONE] * 4)
    assert isinstance(walk.step, End)
    assert f"REPORT: Flat 0.70 mm deep at position {LEFT}, felt but allowed." in report_line(walk)[0]


def test_a_finding_that_was_recorded_is_chosen() -> None:
    asks = "On a firm aft pull the cot ___ (stays in / comes out). Flag showed ___ (red / part green)."
    walk = walked(shipped(), "cot-will-not-lock", "Both home", "Comes out")
    assert (
        filled(walk, text(asks, walk))
        == f"On a firm aft pull the cot comes out. Flag showed {LEFT} (red / part green)."
    )


def test_what_was_seen_elsewhere_is_not_chosen() -> None:
    """Whole was found at another stripe, and two blanks of the same words are not told apart."""
    seen = (Seen("", "", frozenset({"whole"}), frozenset({"axle", "nut", "stripe"})),)
    walk = thumps()
    assert LEFT in filled(walk, Text("Adjuster stripe ___ (whole / broken).", "found", seen))
    assert "Axle nut stripe whole." in filled(walk, Text("Axle nut stripe ___ (whole / broken).", "found", seen))
    twice = "Axle nut stripe ___ (whole / broken). Stripe ___ (whole / broken)."
    assert filled(walk, Text(twice, "found", seen)).count(LEFT) == 2


def test_a_reading_and_its_band_each_have_their_own_blank() -> None:
    walk = walked(shipped(), "cot-will-not-lock", "Both home", "Comes out", "Falls open", read("57 mm"))
    walk = further(all_done(walk), Move(Kind.WAITED), INSPECTED, PASSED)
    found = entry_draft(walk, walk.step)[1]
    assert found == "FOUND: Knee springs too short, locked length 57 mm."


def test_what_a_finding_says_at_length_is_as_good_as_its_label() -> None:
    walk = thumps("Round and clean", "Broken")
    asks = "Axle nut stripe ___ (broken or missing / whole)."
    assert filled(walk, text(asks, walk)) == "Axle nut stripe broken or missing."


def test_a_reading_of_something_else_of_the_same_thing_is_not_taken() -> None:
    """The spring of the leg's hook was measured; how far the leg is short of its stop was not."""
    walk = walked(shipped(), "leg-does-not-lock", "A hook stands off", "Both snap home", "Will not go down")
    walk = further(all_done(walk), Move(Kind.WAITED), FAILED)
    assert isinstance(walk.step, Check)
    walk = apply(further(walk, read("31.2 mm")), Move(Kind.BACK, to="spring-length"))
    cause = walk.site.variant.causes["leg-short"]
    walk = further(walk, read("31.2 mm"))
    assert LEFT in filled(walk, Text(cause.found, "found", tuple(seen_on_the_way(walk, cause))))


# -- by hand


def strap(*typed: str):
    """A walk with a new strap set whose blanks were filled in with these, in order."""
    walk = further(all_done(walked(shipped(), "strap-or-buckle", "No click")), PASSED)
    for asked, each in zip(asked_for(walk), typed, strict=False):
        walk = apply(walk, fill_in(asked.blank, each)) if each else walk
    return walk


def test_a_blank_that_is_filled_in_stands_in_the_draft_and_in_the_log() -> None:
    walk = strap("3", "0")
    assert (
        "FOUND: Tongue goes in without a click. Own tongue latches 3 of 10, known good tongue latches 0"
        not in (entry_draft(walk, walk.step)[1])
    )
    assert "Own tongue latches 3 of 10, known good tongue 0 of 10." in entry_draft(walk, walk.step)[1]
    assert [line.move.text for line in walk.log if line.move.kind == Kind.NOTE] == ["3", "0"]


def test_what_is_left_is_counted_and_an_empty_line_leaves_it() -> None:
    before, after = strap(), strap("", "0")
    assert len(blanks_left(after)) == len(blanks_left(before))
    assert sum(bool(blank.value) for blank in blanks_left(after)) == 1
    count = sum("___" in blank.text.words for blank in blanks_left(before))
    assert blanks_block(before).lines == (f"INCOMPLETE: {count} blanks are left.",)
    assert blanks_block(after).lines == (f"INCOMPLETE: {count - 1} blanks are left.",)


def test_what_is_filled_in_again_takes_the_place_of_what_was() -> None:
    walk = strap("3")
    again = asked_for(walk)[0]
    assert "now: 3" in again.question
    assert "latches 4 of 10" in entry_draft(apply(walk, fill_in(again.blank, "4")), walk.step)[1]


def test_the_sentence_is_in_sight_with_its_blank_marked() -> None:
    asked = asked_for(strap("3"))[1]
    assert asked.sentence.endswith("Own tongue latches 3 of 10, known good tongue [___] of 10.")
    assert "no patient data" in asked.question


def test_a_number_chooses_and_other_words_stand_as_they_are() -> None:
    choice = next(blank for blank in blanks_left(strap()) if blank.options == ("yes", "no"))
    assert [fill_in(choice, typed).text for typed in ("2", "yes", "only  the hip set", "3")] == [
        "no", "yes", "only the hip set", "3",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("words", "typed", "says"),
    [
        ("Gap ___ mm.", "2.5", "Gap 2.5 mm."),
        ("Gap ___ mm.", "2.5 mm", "Gap 2.5 mm."),
        ("Gap ___ mm.", "0.1 in", "Gap 0.1 in."),
        ("Movement ___ mm (max 5).", "4", "Movement 4 mm (max 5)."),
        ("At ___ (place, slope), level.", "pad 2", "At pad 2, level."),
        ("Wheel ___ (head/foot, left/right) thumps.", "head left", "Wheel head left thumps."),
        ("Limit ___ (max 3).", "2", "Limit 2 (max 3)."),
        ("Handle ___ (fully / part way).", "1", "Handle fully."),
    ],
)
def test_units_limits_and_hints_behind_a_blank(words: str, typed: str, says: str) -> None:
    walk = strap()
    [blank] = blanks_of(walk, text(words))
    assert filled(apply(walk, fill_in(blank, typed)), text(words)) == says


def test_work_done_twice_has_blanks_of_its_own_each_time() -> None:
    """The gap is set in vain; after going back it is set once more, and each time has its own figure."""
    walk = further(all_done(thumps("Round and clean", "Whole", "Rubs", read("1 mm"))), FAILED)
    assert isinstance(walk.step, End)
    walk = further(apply(walk, Move(Kind.BACK, to="shoe-gap")), read("1 mm"))
    walk = further(all_done(walk), PASSED)
    gaps = [blank for blank in blanks_left(walk) if blank.text.words.startswith("Wheel lock adjusted")]
    assert [blank.text.place for blank in gaps] == ["set-shoe", "set-shoe 2"]
    walk = apply(apply(walk, fill_in(gaps[0], "1.9")), fill_in(gaps[1], "2.5"))
    did = [line for line in entry_draft(walk, walk.step) if line.startswith("DID")]
    assert ["1.9" in did[0], "2.5" in did[1]] == [True, True]


# -- the texts of the shipped trees


def texts():
    """Every text of the shipped library that becomes part of an entry, with where it stands."""
    for tree in shipped().trees.values():
        yield f"{tree.id} report", tree.report
        for variant in tree.distinct_variants():
            for cause in variant.causes.values():
                yield f"{tree.id} {cause.id} found", cause.found
            for step in variant.steps.values():
                if isinstance(step, Fix | End):
                    yield f"{tree.id} {step.id}", step.did if isinstance(step, Fix) else step.report
    for proof in shipped().library.operational_checks.values():
        yield f"{proof.id} proved", proof.proved


def test_what_is_to_be_chosen_stands_behind_a_blank() -> None:
    """A choice in slashes without a blank would stand in the entry as if it had been said."""
    for where, words in texts():
        assert "/" not in BLANK.sub("", words), where


def test_every_finding_that_a_blank_offers_by_its_label_is_chosen_once_it_is_recorded() -> None:
    """Options that are labels of one check of the tree are there to be filled: each is, where it was found."""
    filled_in = 0
    for tree in shipped().trees.values():
        variant = tree.variants[tree.models[-1]]
        walk = walked(shipped(), tree.id)
        for cause in variant.causes.values():
            for blank in BLANK.finditer(cause.found):
                options = {option.casefold() for option in (blank[1] or "").split(" / ")}
                for check in (each for each in variant.steps.values() if isinstance(each, Check)):
                    labels = [each.label for each in check.findings if each.label.casefold() in options]
                    names = frozenset({labels[0].casefold()} if labels else ())
                    seen = Seen("", "", names, words_of(check, labels[0])) if len(labels) == len(options) else None
                    if seen and blank[1]:
                        filled_in += 1
                        assert labels[0].casefold() in filled(walk, Text(cause.found, "found", (seen,)))
    assert filled_in


def words_of(check: Check, label: str) -> frozenset[str]:
    return frozenset(f"{label} {check.text}".casefold().replace("?", "").replace(",", "").split())


# -- work without a passed check


def test_an_end_without_a_passed_check_tells_the_work_that_was_done() -> None:
    walk = further(all_done(thumps("Torn")), FAILED)
    lines = work_done(walk)
    assert lines[0] == "WORK DONE, not signed:"
    assert lines[1].startswith("DID, and it did not help: Wheel replaced at position ")
    assert lines[-1].startswith("FAILED: No thump, no squeal, no shimmy")
    assert "By SKM-COT-01 revision C, section 4." in lines[-1]
    assert work_done(thumps("Torn", Move(Kind.CANNOT, text="no wheel"))) == (), "nothing was done"
