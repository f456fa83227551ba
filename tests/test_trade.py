"""Facts of the trade that the shipped library and the program's words must agree with. Sources: docs/sources.md."""

from __future__ import annotations

import json
import re

from shipped import shipped

from faulttree.keys import OFF, Gate, Kind, Move, Stage
from faulttree.load.schema import schema_text
from faulttree.model import Fix, Work
from faulttree.present.blocks import notice_block
from faulttree.site import Site
from faulttree.walk import Walk, apply, begin


def test_warning_caution_note_mean_what_maintenance_documents_mean_by_them() -> None:
    """MIL-STD-38784: a warning is for people, a caution for equipment, a note helps. Quoted."""
    says = dict(constants(json.loads(schema_text("notices"))))
    assert "people" in says["warning"]
    assert "equipment" in says["caution"]
    assert "help" in says["note"]


def constants(schema):
    """Every fixed word of a schema with its description."""
    if isinstance(schema, dict):
        if "const" in schema and "description" in schema:
            yield schema["const"], schema["description"].lower()
        for value in schema.values():
            yield from constants(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from constants(value)


def test_warnings_come_before_cautions_and_cautions_before_notes() -> None:
    """MIL-STD-38784, order of WARNING, CAUTION, NOTE: from memory."""
    library = shipped().library
    tree = next(iter(shipped().trees.values()))
    site = Site(library, next(iter(tree.variants.values())))
    names = tuple(sorted(library.notices, key=lambda name: library.notices[name].signal, reverse=True))
    signals = [notice.signal for notice in site.notices(names)]
    assert signals == sorted(signals, key=["warning", "caution", "note"].index)
    assert set(signals) == {"warning", "caution", "note"}


def test_each_warning_and_caution_says_hazard_result_and_avoidance_in_this_order() -> None:
    """ANSI Z535.6, the three elements: from memory."""
    for notice in shipped().library.notices.values():
        if notice.signal == "note":
            continue
        lines = notice_block(notice).lines
        assert notice.hazard
        assert notice.result
        assert notice.avoid
        assert lines[0].startswith(f"{notice.signal.upper()}: {notice.hazard[:10]}")
        assert lines[1].startswith("Result: ")
        assert len(lines) == 2 + len(notice.avoid)


def test_there_is_a_recurring_look_every_100_flight_hours() -> None:
    """Common practice, no source."""
    due = [item for item in shipped().library.inspection.values() if item.every == "100 flight hours"]
    assert len(due) > 10
    assert {item.who for item in due} == {"mechanic"}


def test_small_screws_in_inserts_get_removable_medium_strength_threadlocker() -> None:
    """Common practice, no source."""
    library = shipped().library
    lockers = {name for name, each in library.consumables.items() if "medium-strength removable" in each.text.lower()}
    assert lockers
    tree = shipped().trees["cot-will-not-release"]
    bracket = tree.variants["Bracken"].steps["refit-bracket"]
    assert isinstance(bracket, Fix)
    assert lockers & set(bracket.consumables)
    assert bracket.wait >= 60, "it may not be operated before it holds"


def unloaded(*before: Move) -> Walk:
    """A walk of crew at an empty cot that did not let go, after these moves, came free and was unloaded."""
    walk = begin(shipped().trees["cot-will-not-release"], shipped().library, Move(Kind.BEGIN, occupant=OFF))
    for move in (*before, Move(Kind.FINDING, label="Comes free")):
        walk = to_the_work(walk)
        walk = apply(walk, move)
    while walk.key.phase.stage != Stage.PROVE:
        walk = to_the_work(apply(to_the_work(walk), Move(Kind.DONE)))
    return to_the_work(walk)


def to_the_work(walk: Walk) -> Walk:
    gates = {Gate.PEOPLE: Kind.PEOPLE_HERE, Gate.WARNINGS: Kind.ACKNOWLEDGE, Gate.OCCUPANT: Kind.OCCUPANT_OFF}
    while (gate := walk.site.gate(walk.key)) is not None:
        walk = apply(walk, Move(gates[gate]))
    return walk


def test_a_mount_that_did_not_let_go_is_out_of_use_but_where_the_crew_check_proves_what_pushing_cured() -> None:
    """The equipment dossier, S01, deferral: out of use, except when C1 was cured by its crew action and the crew lock
    check passed; then a mechanic looks within 24 hours.
    """
    pushed = Move(Kind.FALLBACK, line=1)
    for before in ((), (pushed,)):
        walk = unloaded(*before)
        before_it_passed = {"mount-unproved", "mechanic-look", "lock-open"}
        assert walk.key.open_items == before_it_passed, "not before the crew check has passed"
        assert apply(walk, Move(Kind.PASSED)).key.open_items == {"mechanic-look"}
        failed = to_the_work(apply(walk, Move(Kind.FAILED)))
        failed = apply(failed, Move(Kind.FINDING, label="Cot is out"))
        assert failed.key.open_items == {"mount-out-of-use", "mechanic-look"}
    for line in (2, 3):
        walk = apply(unloaded(Move(Kind.FALLBACK, line=line)), Move(Kind.PASSED))
        assert walk.key.open_items == {"mount-out-of-use", "mechanic-look"}, "the bar was needed, or nothing helped"


NUMBERS = {"one": 1, "two": 2, "second": 2, "third": 3, "three": 3, "four": 4, "fourth": 4}
PEOPLE = re.compile(rf"\b({'|'.join(NUMBERS)}) (?:person|people|hold|holds)\b", re.IGNORECASE)
BESIDE = ("With a patient aboard", "one person more is needed")
"""Words that speak of somebody beside those whom the page has asked for."""


def test_no_step_speaks_of_more_people_than_its_page_has_asked_for() -> None:
    """With a patient aboard the page asks for one more, who stays at the head; a line may ask for one more as well."""
    told = 0
    for tree in shipped().trees.values():
        for variant in tree.distinct_variants():
            for step in variant.steps.values():
                for sentence in " ".join(line for line in step.do if isinstance(step, Work)).split(". "):
                    named = [NUMBERS[word.lower()] for word in PEOPLE.findall(sentence)]
                    told += len(named)
                    if named and not any(words in sentence for words in BESIDE):
                        assert max(named) <= step.people, f"{tree.id}, {step.id}: {sentence}"
    assert told > 50


def test_where_a_patient_may_be_on_the_cot_the_warning_of_a_lift_is_that_of_the_loaded_cot() -> None:
    """247 kg: 47 kg dressed and 200 kg rated load (the equipment dossier, A.1). In short it is hazard and first line.

    The load constant of the revised NIOSH equation is 23 kg a person. Four people share far more, so more are wanted.
    """
    library = shipped().library
    loaded, empty = library.notices["loaded-lift"], library.notices["heavy-lift"]
    assert f"{47 + 200} kg, that is {(47 + 200) / 4:.0f} kg for each of four" in loaded.hazard
    assert (47 + 200) / 4 > 23 > 42 / 2
    assert "four people" in loaded.avoid[0]
    assert "more if they are there" in loaded.avoid[0]
    assert not re.search("patient|loaded", " ".join((empty.hazard, empty.result, *empty.avoid)))
    told = 0
    for tree in shipped().trees.values():
        works = [s for v in tree.distinct_variants() for s in v.steps.values() if isinstance(s, Work) and s.occupied]
        aboard = [each.notices for each in (*tree.first_actions, *tree.fallback, *works)]
        assert not any("heavy-lift" in names for names in aboard), tree.id
        told += sum("loaded-lift" in names for names in aboard)
    assert told > 5
