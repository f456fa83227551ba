"""The first page and what is asked before a walk: symptoms by digit and by words, walks that wait, the occupant."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from tui_hands import make, to_the_work
from tui_runs import (
    FREE,
    LAMP,
    LEG,
    OCCUPIED,
    PHONE,
    REL,
    SAMPLE,
    SHIPPED,
    USUAL,
    WHEEL,
    answer_begin,
    loaded,
    running,
)

from faulttree.journal import summaries
from faulttree.keys import OFF, ON, Gate, Kind, Move
from faulttree.symptoms import listed

pytestmark = pytest.mark.usefixtures("quick_keys")


def symptoms(folder: Path) -> list[str]:
    return [each.symptom for each in listed(folder)]


def library_of(folder: Path, count: int) -> Path:
    """A library of so many trees: the sample's again and again under other names."""
    shutil.copytree(SAMPLE, folder)
    text = (folder / f"{LAMP}.yaml").read_text(encoding="utf-8")
    (folder / f"{LAMP}.yaml").unlink()
    inspection = (folder / "inspection.yaml").read_text(encoding="utf-8")
    (folder / "inspection.yaml").write_text(inspection.replace(LAMP, "lamp-0"), encoding="utf-8")
    for at in range(count):
        letters = f"{chr(65 + at % 8)}{chr(65 + at // 8)}Q"
        tree = text.replace(f"id: {LAMP}", f"id: lamp-{at}").replace("short: LMP", f"short: {letters}")
        tree = tree.replace("symptom: The lamp does not light", f"symptom: Lamp {at} does not light")
        (folder / f"lamp-{at}.yaml").write_text(tree, encoding="utf-8")
    return folder


# -- symptoms


async def test_all_symptoms_stand_numbered_the_most_urgent_first(walks: Path) -> None:
    async with running(walks) as ramp:
        assert ramp.name == "FindScreen"
        for at, symptom in enumerate(symptoms(SHIPPED), 1):
            assert ramp.shows(f"{at}  {symptom}")
        assert ramp.shows("DRAFT"), "a tree that is not released says so"
        assert ramp.shows("leave")


@pytest.mark.parametrize("at", [1, 2, 3])
async def test_a_digit_begins_the_walk_of_that_symptom(walks: Path, at: int) -> None:
    async with running(walks) as ramp:
        await ramp.press(str(at))
        await answer_begin(ramp)
        assert ramp.name == "WalkScreen"
        assert ramp.walk.tree.symptom == symptoms(SHIPPED)[at - 1]


async def test_on_a_narrow_page_symptoms_and_what_they_are_worth_are_not_cut(walks: Path) -> None:
    async with running(walks, size=PHONE) as ramp:
        for name in symptoms(SHIPPED):
            assert ramp.shows(f"{name} DRAFT")
        assert all(row.count("DRAFT") == row.count("DR") for row in ramp.strips), "no word is broken"


async def test_a_tap_on_a_row_does_what_its_digit_does(walks: Path) -> None:
    async with running(walks) as ramp:
        await ramp.tap(symptoms(SHIPPED)[2][:20])
        await answer_begin(ramp)
        assert ramp.walk.tree.symptom == symptoms(SHIPPED)[2]


TYPED = [
    ("thumps", WHEEL),
    ("legs drop", LEG),
    ("lock wont let go", REL),
    ("stuck", REL),
    ("thumping whel", WHEEL),
    ("relese", REL),
    ("LEGS", LEG),
]


@pytest.mark.parametrize(("words", "tree"), TYPED)
async def test_typed_words_find_a_symptom_misspelt_ones_too(walks: Path, words: str, tree: str) -> None:
    async with running(walks) as ramp:
        await ramp.type(words)
        assert ramp.shows(f"Looking for: {words}_")
        number = next((key for key in "123" if ramp.shows(f"{key}  {loaded(tree)[1].symptom}")), "")
        assert number
        await ramp.press(number)
        await answer_begin(ramp)
        assert ramp.walk.tree.id == tree


async def test_enter_takes_the_only_one_that_is_left(walks: Path) -> None:
    async with running(walks) as ramp:
        await ramp.type("thumps")
        await ramp.press("enter")
        await answer_begin(ramp)
        assert ramp.walk.tree.id == WHEEL


async def test_enter_takes_nothing_where_several_are_left_or_nothing_was_typed(walks: Path) -> None:
    async with running(walks) as ramp:
        await ramp.press("enter")
        assert ramp.name == "FindScreen"
        await ramp.type("cot")
        await ramp.press("enter")
        assert ramp.name == "FindScreen"


async def test_words_that_fit_nothing_are_said_to_and_all_symptoms_keep_their_numbers(walks: Path) -> None:
    async with running(walks) as ramp:
        await ramp.type("xyzzy")
        assert ramp.shows('Nothing like "xyzzy" is listed. All symptoms:')
        for at, symptom in enumerate(symptoms(SHIPPED), 1):
            assert ramp.shows(f"{at}  {symptom}")


@pytest.mark.parametrize("words", ["xyzzy", "thumps xyzzy", "lamp", "qwe", "thump qqqq"])
async def test_enter_begins_nothing_that_was_not_typed(walks: Path, words: str) -> None:
    """A slip of the fingers and Enter led into the walk of whatever was the least unlike it."""
    async with running(walks) as ramp:
        await ramp.type(words)
        await ramp.press("enter")
        assert ramp.name == "FindScreen"
        assert ramp.shows("Nothing is begun by Enter here. Choose by its number.")
        await ramp.press("1")
        assert ramp.name == "ChooseScreen"


async def test_letters_are_rubbed_out_one_by_one(walks: Path) -> None:
    async with running(walks) as ramp:
        await ramp.type("whee x")
        await ramp.press("backspace", "backspace", "backspace")
        assert ramp.shows("Looking for: whe_")
        await ramp.press(*["backspace"] * 10)
        assert not ramp.shows("Looking for")
        assert all(ramp.shows(symptom) for symptom in symptoms(SHIPPED))


async def test_a_double_letter_counts_twice_and_v_is_a_letter_here(walks: Path) -> None:
    async with running(walks) as ramp:
        day = ramp.app.looks.day
        await ramp.type("wheel v")
        assert ramp.shows("Looking for: wheel v_")
        assert ramp.app.looks.day == day
        await ramp.press("f2")
        assert ramp.app.looks.day != day


async def test_words_without_end_are_cut(walks: Path) -> None:
    async with running(walks) as ramp:
        await ramp.type("a" * 80)
        assert ramp.shows("a" * 60 + "_")
        assert not ramp.shows("a" * 61)


async def test_more_than_nine_are_shown_nine_by_nine(walks: Path, tmp_path: Path) -> None:
    folder = library_of(tmp_path / "many", 20)
    names = symptoms(folder)
    async with running(walks, library=folder) as ramp:
        assert ramp.shows(f"9  {names[8]}")
        assert not ramp.shows(names[9])
        assert ramp.shows("20 symptoms in all")
        await ramp.press("tab")
        assert ramp.shows(f"1  {names[9]}")
        await ramp.press("tab")
        assert ramp.shows(f"2  {names[19]}")
        assert not ramp.shows("3  Lamp")
        await ramp.press("9")
        assert ramp.name == "FindScreen", "no symptom has that number here"
        await ramp.press("2")
        await answer_begin(ramp, model="Finch")
        assert ramp.walk.tree.symptom == names[19]


async def test_tab_comes_round_to_the_first_again(walks: Path, tmp_path: Path) -> None:
    folder = library_of(tmp_path / "many", 12)
    async with running(walks, library=folder) as ramp:
        first = ramp.text
        await ramp.press("tab", "tab")
        assert ramp.text == first


async def test_a_tree_with_errors_is_not_walked_and_the_reason_is_told(walks: Path, tmp_path: Path) -> None:
    folder = library_of(tmp_path / "bad", 1)
    file = folder / "lamp-0.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("Lights: volts", "Lights: nowhere"), encoding="utf-8")
    async with running(walks, library=folder) as ramp:
        await ramp.press("1")
        assert ramp.name == "TextScreen"
        assert ramp.shows("is not walked")
        await ramp.press("enter")
        assert ramp.name == "FindScreen"
        assert not walks.exists()


async def test_a_library_that_is_not_there_is_told(walks: Path, tmp_path: Path) -> None:
    async with running(walks, library=tmp_path / "nowhere") as ramp:
        assert ramp.name == "FindScreen"
        await ramp.press("1", "0", "tab", "enter")
        assert ramp.name == "FindScreen"


async def test_a_tree_that_is_not_there_is_told(walks: Path) -> None:
    async with running(walks, "no-such-tree", library=SHIPPED) as ramp:
        assert ramp.shows("no-such-tree")
        await ramp.press("enter")
        assert ramp.name == "FindScreen"


# -- the occupant, the model, the role


@pytest.mark.parametrize(("said", "occupant"), [(OCCUPIED, ON), (FREE, OFF)])
@pytest.mark.parametrize("model", ["Alder", "Bracken"])
async def test_occupant_and_model_are_asked_first(walks: Path, said: str, occupant: str, model: str) -> None:
    async with running(walks, WHEEL) as ramp:
        assert ramp.name == "ChooseScreen"
        assert ramp.shows("Is a patient on the cot?")
        await answer_begin(ramp, said, model)
        assert (ramp.walk.key.occupant, ramp.walk.key.model) == (occupant, model)
        assert ramp.kinds == [Kind.BEGIN]


@pytest.mark.parametrize("tree", [WHEEL, REL])
@pytest.mark.parametrize(("key", "occupant"), [("1", ON), ("2", OFF), ("enter", "unanswered")])
async def test_yes_is_1_no_is_2_and_enter_is_not_answered_whatever_else_is_asked(
    walks: Path, tree: str, key: str, occupant: str
) -> None:
    """Whoever is used to it records the right thing, and is asked for the model where that matters."""
    async with running(walks, tree) as ramp:
        assert ramp.shows("Is a patient on the cot?")
        await ramp.press(key)
        if tree == WHEEL:
            assert ramp.shows("Which one is it?")
            assert ramp.shows("Patient first. Cannot wait: key f.") == (occupant != OFF)
            await ramp.press("f")
            assert ramp.name == "FallbackScreen"
            await ramp.press("escape", "2")
            assert ramp.walk.key.model == "Bracken"
        assert ramp.walk.key.occupant == occupant


@pytest.mark.parametrize(("wanted", "named"), [("", False), ("Bracken", True)])
async def test_no_page_names_a_model_that_nobody_has_said_yet(walks: Path, wanted: str, named: bool) -> None:
    async with running(walks, WHEEL, model=wanted) as ramp:
        assert ramp.shows("Is a patient on the cot?")
        assert ramp.shows("DRAFT r1. Bracken.") == named
        assert not ramp.shows("DRAFT r1. Alder."), "nobody said so"
        if not named:
            await ramp.press("1")
            assert ramp.shows("Which one is it?")
            assert not ramp.shows("DRAFT r1. Alder.")


@pytest.mark.parametrize(
    ("key", "asked"), [("3", (ON, "Alder")), ("4", (ON, "Bracken")), ("5", (OFF, "Alder")), ("6", (OFF, "Bracken"))]
)
async def test_one_digit_more_says_the_model_as_well(walks: Path, key: str, asked: tuple[str, str]) -> None:
    async with running(walks, WHEEL) as ramp:
        said = f"{'Yes' if asked[0] == ON else 'No'}, and it is {asked[1]}"
        assert ramp.shows(f"{key}  {said}")
        await ramp.press(key)
        assert (ramp.walk.key.occupant, ramp.walk.key.model) == asked


async def test_leaving_the_question_of_the_model_begins_nothing(walks: Path) -> None:
    async with running(walks) as ramp:
        await ramp.press("8", "1", "b")
        assert (ramp.name, ramp.app.session, ramp.app.taken_up) == ("FindScreen", None, None)
        assert not walks.exists()


MOST_KEYS = 5
"""From the first page to the first check on a usual terminal, warnings read: a target of the screen."""


@pytest.mark.parametrize("at", range(1, 9))
@pytest.mark.parametrize("occupant", ["Yes", "No"])
async def test_the_first_check_is_five_keys_away(walks: Path, at: int, occupant: str) -> None:
    async with running(walks) as ramp:
        await ramp.press(str(at))
        options = ramp.screen.options  # type: ignore[attr-defined]
        place = max(place for place, option in enumerate(options) if option.startswith(occupant))
        await ramp.press(str(place + 1), "enter")
        for _ in range(MOST_KEYS - 3):
            if ramp.walk.site.gate(ramp.walk.key) == Gate.WARNINGS:
                await ramp.press("a")
        assert ramp.walk.site.gate(ramp.walk.key) in (None, Gate.OCCUPANT)


async def test_where_the_model_is_said_or_makes_no_difference_only_the_occupant_is_asked(walks: Path) -> None:
    async with running(walks, WHEEL, model="Bracken") as ramp:
        assert ramp.screen.options == ("Yes", "No")  # type: ignore[attr-defined]
        await ramp.press("2")
        assert (ramp.walk.key.occupant, ramp.walk.key.model) == (OFF, "Bracken")
    async with running(walks, REL) as ramp:
        assert ramp.screen.options == ("Yes", "No")  # type: ignore[attr-defined]


async def test_an_occupant_who_is_not_known_counts_as_one(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        assert ramp.shows("not answered, so taken as yes")
        await ramp.press("enter")
        assert ramp.shows("Patient first.")
        assert ramp.walk.key.occupant == "unanswered"


async def test_a_library_without_occupant_does_not_ask(walks: Path) -> None:
    async with running(walks, LAMP) as ramp:
        assert ramp.screen.options == ("Finch", "Wren")  # type: ignore[attr-defined]
        await ramp.press("2")
        assert ramp.walk.key.model == "Wren"


async def test_another_symptom_leads_back_without_a_walk(walks: Path) -> None:
    async with running(walks) as ramp:
        await ramp.press("1")
        assert ramp.shows("another symptom")
        await ramp.press("b")
        assert ramp.name == "FindScreen"
        assert ramp.app.session is None
        assert not walks.exists()


async def test_a_walk_starts_as_the_first_role_or_as_the_one_that_was_said(walks: Path) -> None:
    for role, begun in (("", "crew"), ("mechanic", "mechanic")):
        async with running(walks, REL, role) as ramp:
            await answer_begin(ramp)
            assert ramp.walk.key.role == begun


async def test_a_role_that_is_none_is_told(walks: Path) -> None:
    async with running(walks, REL, "cook") as ramp:
        await answer_begin(ramp)
        assert ramp.shows('"cook" is no role here')
        assert summaries(walks, include_ended=True) == [] if walks.exists() else True


async def test_only_what_is_printed_as_a_digit_can_answer(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        for key in ("3", "9", "0", "y", "space", "x"):
            await ramp.press(key)
            assert ramp.name == "ChooseScreen", key


# -- walks that wait


async def test_a_walk_that_waits_stands_first_and_is_taken_up_by_0(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp)
        await ramp.press("s")
        assert ramp.is_left
        walk_id = ramp.session.id
    async with running(walks) as ramp:
        assert ramp.shows("One walk waits or has left something open")
        assert ramp.shows(f"{walk_id}: Cot will not release")
        await ramp.press("0")
        assert ramp.shows("Go on with which walk?")
        await ramp.press("1")
        assert ramp.shows("Your role?")
        await ramp.press("2", "2")
        assert ramp.name == "WalkScreen"
        assert ramp.session.id == walk_id
        assert (ramp.last.kind, ramp.walk.key.role, ramp.walk.key.occupant) == (Kind.TAKE_OVER, "mechanic", OFF)


async def test_each_question_of_who_takes_up_names_the_walk(walks: Path) -> None:
    """Somebody who came to the wrong walk of several would have answered for it."""
    async with running(walks, REL) as ramp:
        await answer_begin(ramp)
        await to_the_work(ramp)
        await make(ramp, Move(Kind.FALLBACK, line=2, occupant=OFF))
        await ramp.press("s")
        walk_id = ramp.session.id
    async with running(walks) as ramp:
        await ramp.press("0", "1")
        for asked, key in (("Your role?", "2"), ("Is a patient on the cot?", "2"), ("Is this still so?", "1")):
            assert ramp.shows(asked), ramp.text
            assert ramp.strips[0].startswith(f"{walk_id}: Cot will not release from the mount. DRAFT r1.")
            await ramp.press(key)
        assert ramp.name != "WalkScreen"
        await ramp.press("1")
        assert ramp.name == "WalkScreen"
        await ramp.press("enter", "t")
        assert ramp.strips[0].startswith("Cot will not release from the mount. DRAFT r1.")


@pytest.mark.parametrize("size", [(40, 20), (20, 8)])
async def test_a_narrow_question_names_the_walk_too(walks: Path, size: tuple[int, int]) -> None:
    async with running(walks, REL, size=size) as ramp:
        assert ramp.strips[0].startswith("Cot will not rel")
        assert ramp.shows("DRAFT r1.")


async def test_leaving_the_choice_of_walks_changes_nothing(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp)
        await ramp.press("s")
    [before] = summaries(walks)
    async with running(walks) as ramp:
        for keys in (["0", "b"], ["0", "1", "b"], ["0", "1", "2", "b"]):
            await ramp.press(*keys)
            assert ramp.name == "FindScreen", keys
            assert ramp.app.session is None
    assert summaries(walks)[0].last == before.last


async def test_four_walks_that_wait_are_counted_and_all_can_be_chosen(walks: Path) -> None:
    for _ in range(4):
        async with running(walks, REL) as ramp:
            await answer_begin(ramp)
            await ramp.press("s")
    async with running(walks, size=PHONE) as ramp:
        assert ramp.shows("4 walks wait or have left something open")
        await ramp.press("0")
        assert len(ramp.screen.options) == 4  # type: ignore[attr-defined]


@pytest.mark.parametrize("size", [PHONE, USUAL])
async def test_of_many_walks_that_wait_the_one_with_a_hazard_is_named(walks: Path, size: tuple[int, int]) -> None:
    """It was the first of five, and the newest three were shown."""
    async with running(walks, REL) as ramp:
        await answer_begin(ramp)
        await to_the_work(ramp)
        await make(ramp, Move(Kind.FALLBACK, line=2, occupant=OFF))
        hazard = ramp.session.id
        await ramp.press("s")
    for _ in range(4):
        async with running(walks, WHEEL, model="Alder") as ramp:
            await answer_begin(ramp)
            await ramp.press("s")
    async with running(walks, size=size) as ramp:
        assert ramp.shows("5 walks wait or have left something open. Go on with one:")
        assert ramp.shows(f"{hazard}: Cot will not release")
        assert ramp.shows("4 more") or ramp.shows("2 more")
        assert ramp.shows("What is wrong?"), "it is asked on the same screen"
        await ramp.press("0")
        assert ramp.shows(f"1  {hazard}")


async def test_one_key_leads_to_walks_that_wait_and_to_those_that_are_over(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp)
        await ramp.press("s")
    async with running(walks, LAMP, "repairer", model="Finch") as ramp:
        for move in (Move(Kind.FINDING, label="Stays dark"), Move(Kind.FINDING, label="No click")):
            await make(ramp, Move(Kind.ACKNOWLEDGE)) if ramp.walk.site.gate(ramp.walk.key) else None
            await make(ramp, move)
        await make(ramp, Move(Kind.UNABLE, text="no key"))
        assert ramp.walk.ended
    async with running(walks) as ramp:
        assert ramp.shows("and 1 ended walk with something open")
        assert sum(row.startswith("0  ") for row in ramp.strips) == 1, "one key, one row"


async def test_without_walks_0_is_nothing(walks: Path) -> None:
    async with running(walks) as ramp:
        assert not ramp.shows("wait")
        await ramp.press("0")
        assert ramp.name == "FindScreen"


async def test_a_walk_that_another_program_holds_open_is_told(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp)
        async with running(walks, resume=ramp.session.id) as other:
            assert other.name in ("TextScreen", "FindScreen")
            assert other.app.session is None


async def test_resuming_by_id_asks_anew_and_says_what_has_changed(walks: Path, tmp_path: Path) -> None:
    folder = library_of(tmp_path / "changing", 1)
    async with running(walks, "lamp-0", library=folder, model="Finch") as ramp:
        await ramp.press("s")
        walk_id = ramp.session.id
    file = folder / "lamp-0.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("revision: 2", "revision: 3"), encoding="utf-8")
    async with running(walks, library=folder, resume=walk_id) as ramp:
        await ramp.press("1")
        assert ramp.name == "WalkScreen"
        assert ramp.shows("The tree or its shared entries have changed since this walk began")
        assert ramp.walk.tree.revision == 2, "it goes on as it was"
        await ramp.resize(100, 30)
        assert ramp.shows("have changed since this walk began")


async def test_a_withdrawn_tree_says_so_where_its_walk_is_taken_up(walks: Path, tmp_path: Path) -> None:
    folder = library_of(tmp_path / "changing", 1)
    async with running(walks, "lamp-0", library=folder, model="Finch") as ramp:
        await ramp.press("s")
        walk_id = ramp.session.id
    file = folder / "lamp-0.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("status: draft", "status: withdrawn"), encoding="utf-8")
    async with running(walks, library=folder, resume=walk_id) as ramp:
        await ramp.press("1")
        assert ramp.shows("THIS TREE HAS BEEN WITHDRAWN")


async def test_an_id_that_is_none_is_told(walks: Path) -> None:
    async with running(walks, resume="REL-0101-ZZ") as ramp:
        assert ramp.name == "TextScreen"
        await ramp.press("enter")
        assert ramp.name == "FindScreen"


async def test_practice_walks_say_so_from_the_first_page_on(walks: Path) -> None:
    async with running(walks, practice=True) as ramp:
        assert ramp.shows("PRACTICE.")
        await ramp.press("1")
        assert ramp.shows("PRACTICE.")
        await answer_begin(ramp)
        assert ramp.shows("PRACTICE.")
        await ramp.press("k")
        assert ramp.shows("PRACTICE.")


@pytest.mark.parametrize("tree", [REL, WHEEL])
async def test_the_fallback_is_one_key_away_at_the_first_question_too(walks: Path, tree: str) -> None:
    """Nothing is recorded yet, but what to do when it cannot wait is not kept from anybody."""
    async with running(walks, tree) as ramp:
        assert ramp.shows("Patient first.")
        await ramp.press("f")
        assert ramp.name == "FallbackScreen"
        await ramp.press("escape")
        assert ramp.name == "ChooseScreen"
        assert not walks.exists()
