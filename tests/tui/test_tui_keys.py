"""Keys with the guard as it is: what was typed too early, what is held down, and a tap too many count for nothing."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from tui_runs import LAMP, OCCUPIED, REL, Ramp, answer_begin, key_event, running

from faulttree.keys import Kind
from faulttree.tui.guard import SILENCE
from faulttree.tui.screens.paged import now
from faulttree.tui.widgets.paper import Paper

DELAY, RATE = 0.5, 30
"""Seconds until a held key begins to repeat, and how often a second it then comes."""


def held(start: float, seconds: float) -> Iterator[float]:
    """When a key that is pressed at ``start`` and held so long is sent; the first time is that of the press."""
    yield start
    yield from (start + DELAY + at / RATE for at in range(int((seconds - DELAY) * RATE)))


async def hold(ramp: Ramp, key: str, after: float = 0.0, seconds: float = 3.0) -> float:
    """Hold a key that was silent: it is sent with the times of a held key, faster than they pass.

    Returns the last of them.
    """
    for at in held(max(after, time.monotonic()) + SILENCE + 0.1, seconds):
        ramp.post(key, at)
        await ramp.settle()
    return at


async def press_fresh(ramp: Ramp, key: str, after: float = 0.0) -> float:
    """Press a key after it was silent for long enough; returns when."""
    at = max(after, time.monotonic()) + SILENCE + 0.1
    ramp.post(key, at)
    await ramp.settle()
    return at


async def at_the_check(ramp: Ramp) -> float:
    """The sample's first check, its warnings read."""
    await answer_begin(ramp, model="Finch")
    await press_fresh(ramp, "enter")
    at = await press_fresh(ramp, "a")
    assert ramp.kinds == [Kind.BEGIN, Kind.ACKNOWLEDGE]
    return at


# -- typed ahead


async def test_keys_typed_before_the_first_page_is_drawn_are_dropped(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        for key in ("1", "enter", "a", "1", "m", "2"):
            ramp.post(key)
        await ramp.settle()
        assert ramp.name == "WalkScreen"
        assert ramp.kinds == [Kind.BEGIN], "only the key of the page that was there counts"


async def test_of_several_keys_at_once_only_the_first_counts(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        at = await at_the_check(ramp)
        for key in ("1", "2", "3", "u", "m"):
            ramp.post(key, at + 1)
        await ramp.settle()
        assert ramp.kinds == [Kind.BEGIN, Kind.ACKNOWLEDGE, Kind.FINDING]
        assert ramp.name == "WalkScreen"


async def test_a_press_that_came_while_the_page_was_on_its_way_is_dropped_even_when_told_late(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        before = time.monotonic()
        await answer_begin(ramp, model="Finch")
        ramp.post("enter", before)
        await ramp.settle()
        assert ramp.shows("all this is so")


# -- held down


@pytest.mark.parametrize("key", ["1", "2"])
async def test_a_held_digit_answers_one_question(walks: Path, key: str) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await hold(ramp, key, await at_the_check(ramp))
        assert ramp.kinds == [Kind.BEGIN, Kind.ACKNOWLEDGE, Kind.FINDING]


async def test_a_held_digit_does_not_go_from_the_list_of_symptoms_into_what_is_asked_next(walks: Path) -> None:
    async with running(walks) as ramp:
        await hold(ramp, "1")
        assert ramp.name == "ChooseScreen"
        assert ramp.app.session is None, "whether somebody is on it was not answered"


async def test_a_held_digit_does_not_go_from_a_reason_into_the_next_check(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        at = await at_the_check(ramp)
        at = await press_fresh(ramp, "u", at)
        assert ramp.name == "ChooseScreen"
        await hold(ramp, "1", at)
        assert ramp.kinds[-1] == Kind.UNABLE


async def test_a_held_a_reads_one_page_of_warnings(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        at = await press_fresh(ramp, "enter")
        assert ramp.shows("1 to 2 of 4")
        last = await hold(ramp, "a", at)
        assert ramp.shows("3 to 4 of 4")
        assert Kind.ACKNOWLEDGE not in ramp.kinds
        await press_fresh(ramp, "a", last)
        assert ramp.kinds[-1] == Kind.ACKNOWLEDGE


async def test_a_held_enter_ticks_one_line(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        at = await at_the_check(ramp)
        at = await press_fresh(ramp, "1", at)
        at = await press_fresh(ramp, "u", at)
        at = await press_fresh(ramp, "2", at)
        at = await press_fresh(ramp, "u", at)
        at = await press_fresh(ramp, "1", at)
        assert ramp.walk.key.step == "wipe-contacts"
        at = await press_fresh(ramp, "enter", at)
        last = await hold(ramp, "enter", at)
        assert ramp.kinds.count(Kind.DONE) == 1
        await press_fresh(ramp, "enter", last)
        assert ramp.kinds.count(Kind.DONE) == 2


async def test_enter_held_after_a_text_does_not_tick_a_line(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        at = await at_the_check(ramp)
        for key in ("1", "u", "2", "u", "1", "enter"):
            at = await press_fresh(ramp, key, at)
        assert ramp.shows("NEXT: ")
        at = await press_fresh(ramp, "n", at)
        for character in "abc":
            ramp.post(character, at + 1)
            await ramp.settle()
        await hold(ramp, "enter", at + 1)
        assert ramp.kinds[-1] == Kind.NOTE
        assert Kind.DONE not in ramp.kinds


async def test_a_key_held_into_a_line_of_text_is_no_letter_of_it(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        last = await hold(ramp, "n", await at_the_check(ramp))
        assert ramp.name == "AskScreen"
        assert ramp.typed == ""
        for character in "n, nn":
            ramp.post(character, last + SILENCE + 0.1)
            await ramp.settle()
        assert ramp.typed == "n, nn", "letters of a text come as fast as they are typed"


async def test_escape_leaves_one_page(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        at = await press_fresh(ramp, "n", await at_the_check(ramp))
        await hold(ramp, "escape", at)
        assert ramp.name == "WalkScreen"


async def test_the_same_key_counts_again_after_its_silence(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        at = await at_the_check(ramp)
        at = await press_fresh(ramp, "1", at)
        at = await press_fresh(ramp, "b", at)
        at = await press_fresh(ramp, "a", at)
        await press_fresh(ramp, "1", at)
        answered = [kind for kind in ramp.kinds if kind in (Kind.FINDING, Kind.BACK)]
        assert answered == [Kind.FINDING, Kind.BACK, Kind.FINDING]


async def test_help_that_is_asked_for_twice_can_be_closed(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        at = await at_the_check(ramp)
        at = await press_fresh(ramp, "question_mark", at)
        at = await press_fresh(ramp, "question_mark", at)
        assert ramp.name == "TextScreen"
        await press_fresh(ramp, "enter", at)
        assert ramp.name == "WalkScreen"


async def test_the_line_can_be_typed_in_after_a_tap_on_the_keys(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        at = await at_the_check(ramp)
        at = await press_fresh(ramp, "n", at)
        await ramp.tap("Enter take it")
        for character in "abc":
            ramp.post(character, at + 1)
            await ramp.settle()
        assert ramp.typed == "abc"


# -- taps


async def tap_at(ramp: Ramp, text: str, at: float) -> None:
    """Tap on the row that holds the text, at that time."""
    row = next(place for place, line in enumerate(ramp.strips) if text in line)
    paper = ramp.screen.query(Paper).first()
    paper.post_message(Paper.Tapped(paper._rows[row].key, at))
    await ramp.settle()


async def test_a_tap_too_many_does_not_answer_the_next_page(walks: Path) -> None:
    """The second tap of two meets another page, where other answers stand."""
    async with running(walks, LAMP, "repairer") as ramp:
        at = await at_the_check(ramp)
        await tap_at(ramp, "1  Lights", at + 1)
        assert ramp.walk.key.step == "volts"
        await tap_at(ramp, "3  No reading", at + 1.3)
        assert ramp.walk.key.step == "volts"
        await tap_at(ramp, "3  No reading", at + 1.3 + SILENCE + 0.01)
        assert ramp.name == "AskScreen", "at a measured check a digit may begin a reading"
        assert ramp.typed == "3"


async def test_a_tap_before_the_page_is_drawn_is_dropped(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        early = time.monotonic()
        await at_the_check(ramp)
        await tap_at(ramp, "1  Lights", early)
        assert ramp.kinds == [Kind.BEGIN, Kind.ACKNOWLEDGE]


# -- words are typed as words are


async def test_letters_that_look_for_a_symptom_come_twice_and_fast(walks: Path) -> None:
    async with running(walks) as ramp:
        for character in "wheel":
            ramp.post(character)
        await ramp.settle()
        assert ramp.shows("Looking for: wheel_")


async def test_letters_typed_before_the_page_that_looks_for_them_are_dropped(walks: Path) -> None:
    """By words or by digits, what is begun was seen: the digits are others once words are looked for."""
    async with running(walks) as ramp:
        ramp.post("w", now() - 3600)
        ramp.post("w")
        await ramp.settle()
        assert ramp.shows("Looking for: w_")
        assert not ramp.shows("Looking for: ww_")
    async with running(walks, LAMP, "repairer", model="Finch") as ramp:
        for key in ("ctrl+p", "n", "o"):
            ramp.post(key)
        await ramp.settle()
        assert ramp.name == "ActionsScreen"
        assert ramp.shows("Looking for: _")
        await ramp.type("ha")
        assert ramp.shows("Looking for: ha_")


async def test_a_key_that_left_a_page_is_no_letter_of_the_first_one(walks: Path) -> None:
    async with running(walks) as ramp:
        await ramp.press("1")
        ramp.post("b")
        for _ in range(5):
            ramp.post("b")
        await ramp.settle()
        ramp.post("b")
        await ramp.settle()
        assert ramp.name == "FindScreen"
        assert not ramp.shows("Looking for")
        await ramp.type("wh")
        assert ramp.shows("Looking for: wh_")


def test_keys_are_sent_as_a_terminal_sends_them() -> None:
    """The helper that the other tests press keys with."""
    assert [(event.key, event.character) for event in map(key_event, ("a", ".", "enter", "space"))] == [
        ("a", "a"),
        ("full_stop", "."),
        ("enter", "\r"),
        ("space", " "),
    ]
