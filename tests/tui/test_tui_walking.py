"""Walking on the screen: each page and each answer, by key and by tap, to each kind of end."""

from __future__ import annotations

import datetime
import shutil
from pathlib import Path

import pytest
from leading import FIRST, OTHER, OTHER_SYMPTOM, leading_library
from shipped import SAMPLE
from textual.widgets import Input
from tui_hands import answer, lead_to, make, until
from tui_runs import (
    FREE,
    LAMP,
    LEG,
    OCCUPIED,
    PHONE,
    REL,
    WHEEL,
    WIDE,
    Ramp,
    answer_begin,
    letters,
    next_move,
    reading_for,
    running,
)

from faulttree.journal import read_journal
from faulttree.keys import Gate, Kind, Move, Stage
from faulttree.present.blocks import notice_block, sentence
from faulttree.present.ends import TITLES
from faulttree.present.start import LIST_TITLE, things_needed
from faulttree.tui.widgets.paper import Paper

pytestmark = pytest.mark.usefixtures("quick_keys")


async def finch(ramp: Ramp) -> None:
    """The sample's lamp with one cell."""
    await answer_begin(ramp, model="Finch")


def recorded(ramp: Ramp) -> list[str]:
    """The moves that are on the disk, by their words."""
    return [str(entry.move.kind) for entry in read_journal(ramp.session.journal.recorded.path).entries]


# -- from the start page to an answer


async def test_the_start_page_stands_first_with_the_first_actions(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp)
        assert all(ramp.shows(action.do) for action in ramp.walk.tree.first_actions)
        assert all(ramp.shows(line) for line in ramp.walk.tree.before)
        assert recorded(ramp) == ["begin"]


async def test_on_the_start_page_nothing_of_the_first_step_is_answered(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await finch(ramp)
        for key in ("1", "2", "a", "u", "m", "c"):
            await ramp.press(key)
            assert recorded(ramp) == ["begin"], key
            assert ramp.name == "WalkScreen", key


async def test_enter_on_the_start_page_says_that_the_people_are_here_where_that_is_asked(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp)
        assert ramp.shows("all this is so, 2 people are here")
        await ramp.press("enter")
        assert recorded(ramp) == ["begin", "people here"]


async def test_people_are_waited_for(walks: Path) -> None:
    async with running(walks, WHEEL, "mechanic") as ramp:
        await answer_begin(ramp)
        await make(ramp, next_move(ramp.walk, ramp.walk.step.findings[0].label))  # type: ignore[union-attr]
        await until(
            lambda: ramp.walk.site.gate(ramp.walk.key) == Gate.PEOPLE,
            lambda: make(ramp, next_move(ramp.walk, _first_label(ramp))),
        )
        people = ramp.walk.site.needs(ramp.walk.key).people
        assert ramp.shows(f"This takes {people} people. Go on when {people} are here.")
        for key in ("a", "1", "2"):
            await ramp.press(key)
        assert ramp.last.kind != Kind.PEOPLE_HERE
        await ramp.press("enter")
        assert ramp.last.kind == Kind.PEOPLE_HERE


def _first_label(ramp: Ramp) -> str:
    findings = getattr(ramp.walk.step, "findings", ())
    return findings[0].label if findings else str(Kind.FAILED)


async def test_new_warnings_stand_alone_page_after_page_and_only_a_goes_on(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await ramp.press("enter")
        notices = ramp.walk.site.pending(ramp.walk.key)
        read: list[str] = []

        async def read_page() -> None:
            page = letters("".join(ramp.strips))
            here = [each.id for each in notices if letters(" ".join(notice_block(each).lines)) in page]
            assert here, "no page without a warning"
            read.extend(here)
            text = ramp.text
            await ramp.press("enter", "1", "2", "z")
            assert "acknowledge" not in recorded(ramp)
            assert ramp.text == text
            await ramp.press("a")

        await until(lambda: ramp.walk.site.gate(ramp.walk.key) != Gate.WARNINGS, read_page)
        assert read == [each.id for each in notices]
        assert len(read) > 1
        assert recorded(ramp).count("acknowledge") == 1


async def test_a_warning_that_was_read_is_one_line_afterwards(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await finch(ramp)
        await ramp.press("enter")
        assert ramp.shows("Result: It burns fingers.")
        await ramp.press("a")
        assert ramp.shows("WARNING, read before: The lens gets hot in use.")
        assert not ramp.shows("It burns fingers")


@pytest.mark.parametrize("size", [PHONE, WIDE])
async def test_at_every_size_all_warnings_are_shown_before_they_count_as_read(
    walks: Path, size: tuple[int, int]
) -> None:
    async with running(walks, REL, size=size) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await answer(ramp, "enter")
        notices = [letters(" ".join(notice_block(each).lines)) for each in ramp.walk.site.pending(ramp.walk.key)]
        pages: list[str] = []

        async def read_page() -> None:
            pages.append(await whole_page(ramp))
            await ramp.press("a")

        await until(lambda: "acknowledge" in recorded(ramp), read_page)
        assert all(notice in "".join(pages) for notice in notices)


async def whole_page(ramp: Ramp) -> str:
    """The letters of a page that may be longer than the screen, row after row as it is moved."""
    rows = [line.rstrip() for line in ramp.strips[:-1]]
    for _ in range(200):
        before = ramp.text
        await ramp.press("down")
        if ramp.text == before:
            break
        rows.append(ramp.strips[-2].rstrip())
    return letters("".join(rows))


# -- findings


@pytest.mark.parametrize("digit", ["1", "2"])
async def test_a_finding_is_a_digit(walks: Path, digit: str) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await finch(ramp)
        await ramp.press("enter", "a", digit)
        assert (ramp.last.kind, ramp.last.label) == (Kind.FINDING, ["Lights", "Stays dark"][int(digit) - 1])


async def test_a_finding_can_be_tapped(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await finch(ramp)
        await ramp.tap("all this is so")
        await ramp.tap("I have read")
        await ramp.tap("2  Stays dark")
        assert ramp.last.label == "Stays dark"


async def test_a_tap_beside_the_answers_does_nothing(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await finch(ramp)
        await ramp.press("enter", "a")
        for words in ("Does the lamp light", "read before", "OPEN"):
            await ramp.tap(words)
        assert recorded(ramp) == ["begin", "acknowledge"]


async def test_what_is_no_answer_here_changes_nothing(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await finch(ramp)
        await ramp.press("enter", "a")
        await ramp.press("3", "9", "0", "c", "i", "m", "g", "r", "z", "enter", "tab", "a", "b")
        assert recorded(ramp) == ["begin", "acknowledge"]
        assert ramp.name == "WalkScreen"


# -- readings


async def at_volts(ramp: Ramp) -> None:
    await finch(ramp)
    await ramp.press("enter", "a", "1")
    assert ramp.walk.key.step == "volts"


async def test_a_reading_is_typed_with_its_unit(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("m")
        assert ramp.shows("Voltage of the cell after ten seconds under load")
        await ramp.enter("0.9 V")
        assert (ramp.last.kind, ramp.last.value, ramp.last.label) == (Kind.READING, "0.9 V", "Flat")
        assert ramp.shows("0.9 V: Flat.")


@pytest.mark.parametrize("keys", [("m", "3", "1"), ("3", "1")])
async def test_no_digit_of_a_reading_is_lost_where_the_page_was_not_seen_to_its_end(
    walks: Path, keys: tuple[str, ...]
) -> None:
    """A page that moves would swallow the first digit, and another value would be recorded."""
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.resize(40, 12)
        assert not ramp.screen.query_one(Paper).is_seen
        for key in keys:
            await ramp.pilot.press(key)
            await ramp.pilot.pause()
        assert ramp.name == "AskScreen"
        assert ramp.screen.query_one(Input).value == "31"


async def test_readings_that_were_left_undecided_stay_in_the_log(walks: Path) -> None:
    async with running(walks, WHEEL, "mechanic", model="Alder") as ramp:
        await ramp.press("2", "enter", "a", "2", "enter", "a")
        assert ramp.walk.site.gate(ramp.walk.key) is None
        await ramp.press("m")
        await ramp.enter("1.0 mm")
        await ramp.enter("0.04 in")
        assert ramp.shows("third time")
        await ramp.press("enter")
        assert (ramp.last.kind, ramp.last.text) == (Kind.NOTE, "Read and left undecided: 1.0 mm, 0.04 in.")


async def test_a_reading_in_another_unit_is_said_in_the_limits_unit_too(walks: Path) -> None:
    """950 mV is 0.95 V by the definition of the prefix milli (SI brochure)."""
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("m")
        await ramp.enter("950 mV")
        assert ramp.shows("950 mV = 0.95 V: Flat.")
        assert ramp.last.value == "950 mV"


async def test_what_cannot_be_a_reading_is_refused_in_words_and_asked_again(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        log = recorded(ramp)
        await ramp.press("m")
        for typed in ("0.9", "0.9 A", "0.9 V V", "high", "-1 V", "5 V", "nan V", "1e999 V"):
            await ramp.enter(typed)
            assert recorded(ramp) == log
            assert ramp.name == "AskScreen", typed
            assert ramp.shows(typed.split()[0]) or ramp.shows("unit"), typed
        await ramp.enter("0.9 V")
        assert ramp.last.label == "Flat"


async def test_near_an_edge_a_second_reading_is_asked_for_and_both_are_kept(walks: Path) -> None:
    """The edge is 1.1 V and the gauge resolves 0.01 V."""
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("m")
        await ramp.enter("1.095 V")
        assert ramp.shows("within the gauge's resolution")
        assert ramp.last.kind == Kind.FINDING, "nothing is recorded yet"
        log = recorded(ramp)
        await ramp.enter("1.097 V")
        assert recorded(ramp) == [*log, "reading"], "both are one move"
        assert (ramp.last.value, ramp.last.text, ramp.last.label) == ("1.097 V", "also read: 1.095 V", "Flat")


@pytest.mark.parametrize(
    ("third", "counts", "also", "label"),
    [("1.12 V", "1.12 V", "1.095 V, 1.11 V", "Good"), ("1.09 V", "1.09 V", "1.095 V, 1.11 V", "Flat")],
)
async def test_two_readings_in_two_bands_ask_for_a_third_that_decides(
    walks: Path, third: str, counts: str, also: str, label: str
) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        log = recorded(ramp)
        await ramp.press("m")
        await ramp.enter("1.095 V")
        await ramp.enter("1.11 V")
        assert ramp.shows("1.095 V is Flat, 1.11 V is Good. Read it a third time: that decides.")
        assert recorded(ramp) == log
        await ramp.enter(third)
        assert recorded(ramp) == [*log, "reading"]
        assert (ramp.last.value, ramp.last.text, ramp.last.label) == (counts, f"also read: {also}", label)


async def test_a_second_reading_that_cannot_be_is_asked_for_again_and_the_first_stays(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("m")
        await ramp.enter("1.1 V")
        await ramp.enter("11 V")
        assert ramp.shows("Read so far: 1.1 V.")
        await ramp.enter("1.1 V")
        assert (ramp.last.value, ramp.last.text) == ("1.1 V", "also read: 1.1 V")


async def test_a_second_reading_that_is_left_answers_nothing_and_the_first_stays_in_the_log(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        for left in ("escape", "enter"):
            await ramp.press("m")
            await ramp.enter("1.1 V")
            await ramp.press(left)
            assert ramp.name == "WalkScreen"
            assert (ramp.last.kind, ramp.last.text) == (Kind.NOTE, "Read and left undecided: 1.1 V.")
            assert ramp.walk.key.step == "volts"


async def test_a_digit_at_a_measured_check_is_the_first_of_a_reading_or_asked_about(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("1")
        assert (ramp.name, ramp.typed) == ("AskScreen", "1")
        await ramp.press(*".3 V", "enter")
        assert (ramp.last.kind, ramp.last.value, ramp.last.label) == (Kind.READING, "1.3 V", "Good")


@pytest.mark.parametrize(
    ("said", "kind", "value", "label"),
    [("1", Kind.READING, "1 V", "Flat"), ("2", Kind.FINDING, "", "Flat")],
)
async def test_a_measured_check_can_be_answered_by_its_bands_too(
    walks: Path, said: str, kind: Kind, value: str, label: str
) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        log = recorded(ramp)
        await ramp.press("1", "enter")
        assert ramp.shows('"1" can be')
        assert recorded(ramp) == log
        await ramp.press(said)
        assert (ramp.last.kind, ramp.last.value, ramp.last.label) == (kind, value, label)


async def test_a_digit_that_is_left_at_a_measured_check_is_no_answer(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        log = recorded(ramp)
        for left in (["escape"], ["backspace", "enter"], ["enter", "b"]):
            await ramp.press("2", *left)
            await ramp.press(*(["escape"] if ramp.name == "AskScreen" else []))
            assert ramp.name == "WalkScreen"
            assert recorded(ramp) == log


async def test_an_empty_reading_leaves_the_check_as_it_was(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        text = ramp.text
        await ramp.press("m", "enter")
        assert ramp.text == text
        await ramp.press("m", "escape")
        assert ramp.text == text


async def test_every_measured_check_takes_a_reading_for_each_band(walks: Path) -> None:
    async with running(walks, WHEEL, "mechanic", model="Alder") as ramp:
        await answer_begin(ramp)
        name = next(step.id for step in ramp.walk.site.variant.steps.values() if getattr(step, "measure", ""))
        await lead_to(ramp, name)
        step = ramp.walk.step
        bands = ramp.walk.library.limits[step.measure].scales["Alder"].bands  # type: ignore[union-attr]
        for band in bands:
            await make(ramp, Move(Kind.READING, value=reading_for(ramp.walk, band.label)))
            assert ramp.last.label == band.label
            await ramp.press("b")
            await until(
                lambda: ramp.walk.site.gate(ramp.walk.key) is None, lambda: make(ramp, next_move(ramp.walk, ""))
            )


# -- unable, cannot


async def test_unable_asks_why_and_takes_a_reason_by_digit(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await finch(ramp)
        await ramp.press("enter", "a", "u")
        assert ramp.shows("Why (no patient data)?")
        assert ramp.shows("1  no spare cell"), "the tree's own reason stands first"
        await ramp.press("1")
        assert (ramp.last.kind, ramp.last.text) == (Kind.UNABLE, "no spare cell")


async def test_unable_takes_words(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await finch(ramp)
        await ramp.press("enter", "a", "u")
        await ramp.press(str(len(ramp.screen.options)))  # type: ignore[attr-defined]
        await ramp.enter("it rains [hard]")
        assert ramp.last.text == "it rains [hard]"


async def test_unable_without_a_reason_is_not_made(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await finch(ramp)
        await ramp.press("enter", "a")
        for leave in (["b"], ["escape"], ["5", "escape"], ["5", "enter"]):
            await ramp.press("u", *leave)
            assert ramp.name == "WalkScreen"
            assert recorded(ramp) == ["begin", "acknowledge"]


async def test_a_fix_that_cannot_be_done_says_why(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await make(ramp, Move(Kind.READING, value="1 V"))
        await ramp.press("enter", "c")
        assert ramp.shows("no part")
        await ramp.press("1")
        assert (ramp.last.kind, ramp.last.text) == (Kind.CANNOT, "no part")
        await ramp.press("enter")
        assert ramp.shows(TITLES["out of service"])


# -- fixes


async def test_lines_are_ticked_one_by_one_by_enter(walks: Path) -> None:
    async with running(walks, WHEEL, "mechanic", model="Bracken") as ramp:
        await answer_begin(ramp)
        await lead_to(ramp, "fit-wheel")
        lines = ramp.walk.step.lines  # type: ignore[union-attr]
        for at, line in enumerate(lines):
            assert ramp.walk.key.phase.line == at
            assert ramp.shows(f"NEXT: {sentence(line)}")
            assert ramp.shows(f"Enter  done - line {at + 1} of {len(lines)}")
            await ramp.press("1", "2", "a")
            assert ramp.walk.key.phase.line == at, "nothing but Enter ticks a line"
            await ramp.press("enter")
        assert recorded(ramp).count("done") == len(lines)
        assert ramp.walk.key.phase.stage != Stage.DO


async def test_a_torque_stands_on_the_page_of_every_line(walks: Path) -> None:
    async with running(walks, WHEEL, "mechanic", model="Bracken") as ramp:
        await answer_begin(ramp)
        await lead_to(ramp, "fit-wheel")
        for _ in ramp.walk.step.lines:  # type: ignore[union-attr]
            assert ramp.shows("Torque, axle nut M8: 15 N·m (133 lbf·in).")
            await ramp.press("enter")
        assert ramp.walk.key.phase.stage != Stage.DO


async def brought_to(ramp: Ramp, *stages: Stage, answered: str = "") -> None:
    """Bring the fix where the walk stands to a stage."""
    await until(lambda: ramp.walk.key.phase.stage in stages, lambda: make(ramp, next_move(ramp.walk, answered)))


async def at_a_wait(ramp: Ramp) -> None:
    """The wait of the first fix that has one."""
    await answer_begin(ramp)
    steps = ramp.walk.site.variant.steps.values()
    await lead_to(ramp, next(step.id for step in steps if getattr(step, "wait", 0)))
    await brought_to(ramp, Stage.WAIT)
    assert ramp.shows("before the operational check")


async def test_a_wait_is_over_when_somebody_says_so_once_more(walks: Path) -> None:
    """By the clock it is not over yet: Enter asks again, and only yes counts."""
    async with running(walks, LEG, "mechanic", model="Bracken") as ramp:
        await at_a_wait(ramp)
        await ramp.press("1", "a")
        assert ramp.walk.key.phase.stage == Stage.WAIT
        for left in ("2", "b", "escape"):
            await answer(ramp, "enter")
            assert ramp.shows("By the clock the wait is over at")
            await ramp.press(left)
            assert ramp.name == "WalkScreen"
            assert ramp.walk.key.phase.stage == Stage.WAIT
        await answer(ramp, "enter", "1")
        assert ramp.last.kind == Kind.WAITED


async def test_a_wait_that_is_over_by_the_clock_is_not_asked_about(
    walks: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from faulttree.tui.screens import walk_moves

    whole = walk_moves.now
    async with running(walks, LEG, "mechanic", model="Bracken") as ramp:
        await at_a_wait(ramp)
        minutes = ramp.walk.step.wait  # type: ignore[union-attr]
        monkeypatch.setattr(walk_moves, "now", lambda: whole() + datetime.timedelta(minutes=float(minutes) + 1))
        await answer(ramp, "enter")
        assert ramp.last.kind == Kind.WAITED


async def test_a_second_inspection_names_who_looked(walks: Path) -> None:
    async with running(walks, REL, "mechanic") as ramp:
        await answer_begin(ramp)
        await lead_to(ramp, "set-free-play")
        await brought_to(ramp, Stage.INSPECT)
        assert ramp.shows("Second inspection, by somebody other than who did the work.")
        for left in ("escape", "enter"):
            await ramp.press("i", left)
            assert ramp.walk.key.phase.stage == Stage.INSPECT
        await ramp.press("i")
        assert ramp.shows("Name or initials of who inspected")
        await ramp.enter("J. Brandt")
        assert (ramp.last.kind, ramp.last.text) == (Kind.INSPECTED, "J. Brandt")


@pytest.mark.parametrize(("key", "kind"), [("1", Kind.PASSED), ("2", Kind.FAILED)])
async def test_the_operational_check_is_answered_by_digits(walks: Path, key: str, kind: Kind) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await make(ramp, Move(Kind.READING, value="1 V"))
        await make(ramp, Move(Kind.DONE))
        assert ramp.shows("Does it light each time?")
        await ramp.press("enter", "a")
        assert ramp.last.kind == Kind.DONE
        await ramp.press(key)
        assert ramp.last.kind == kind
        assert ramp.walk.passed == (kind == Kind.PASSED)


@pytest.fixture
def leaving_open(tmp_path: Path) -> Path:
    """The sample's library with a fallback line that leaves two things open, which no fix of the tree closes."""
    folder = tmp_path / "library"
    shutil.copytree(SAMPLE, folder)
    changes = {
        "library.yaml": ("open_items:\n", "open_items:\n" + LEFT),
        "lamp-does-not-light.yaml": ("Work with the spare lamp.}", "Work with the spare lamp., opens: [bag, cord]}"),
    }
    for name, (before, after) in changes.items():
        text = (folder / name).read_text(encoding="utf-8")
        assert text.count(before) == 1
        (folder / name).write_text(text.replace(before, after), encoding="utf-8")
    return folder


LEFT = """  bag: {kind: disturbance, is: Bag stands open.}
  cord: {kind: hazard, is: Cord lies on the floor.}
"""


@pytest.mark.parametrize("first", ["bag", "cord"])
async def test_what_is_left_open_after_a_passed_check_is_closed_one_by_one(
    walks: Path, leaving_open: Path, first: str
) -> None:
    """The first by Enter, the others by digits from 2, in any order; no digit that said passed closes anything."""
    async with running(walks, LAMP, "repairer", library=leaving_open) as ramp:
        await at_volts(ramp)
        await make(ramp, Move(Kind.FALLBACK, line=1))
        await make(ramp, Move(Kind.READING, value="1 V"))
        await brought_to(ramp, Stage.LEFT_OPEN, Stage.ENDED, answered=str(Kind.PASSED))
        assert ramp.walk.key.phase.stage == Stage.LEFT_OPEN
        log = recorded(ramp)
        assert ramp.shows("This is still open. Close it, then say so.")
        await ramp.press("1", "3", "a")
        assert recorded(ramp) == log
        await answer(ramp, "enter" if first == "bag" else "2")
        assert (ramp.last.kind, ramp.last.item) == (Kind.CLOSED, first)
        assert not ramp.shows("FAULT CORRECTED")
        await ramp.press("1", "2")
        assert recorded(ramp) == [*log, "closed"]
        await answer(ramp, "enter")
        assert recorded(ramp) == [*log, "closed", "closed"]
        assert ramp.shows("FAULT CORRECTED. NOT YET APPROVED FOR RETURN TO SERVICE.")


# -- the last look


async def test_the_last_look_stands_before_the_first_work_and_goes_on_by_enter(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await make(ramp, Move(Kind.READING, value="1 V"))
        assert ramp.shows("look once more")
        assert ramp.shows("One look alone decides")
        log = recorded(ramp)
        await ramp.press("1", "2", "a", "c")
        assert recorded(ramp) == log
        await ramp.press("enter")
        assert ramp.shows("Fit a new cell")
        assert recorded(ramp) == log, "looking once more is no move"


async def test_looking_again_goes_back_to_the_one_check(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await make(ramp, Move(Kind.READING, value="1 V"))
        await ramp.press("g")
        assert ramp.last.kind == Kind.BACK
        assert ramp.walk.key.step == ramp.last.to
        assert await again(ramp) is False, "it is offered once for a way"
        await ramp.press("b")
        await make(ramp, Move(Kind.READING, value="0.8 V"))
        assert ramp.walk.key.step == "fit-cell"
        assert ramp.shows("look once more"), "answered otherwise it is another way"


async def again(ramp: Ramp) -> bool:
    """Whether the last look is offered after the same answers were given again."""
    answers = {"spare-cell": Move(Kind.FINDING, label="Lights"), "volts": Move(Kind.READING, value="1 V")}
    await until(lambda: ramp.walk.key.step == "fit-cell", lambda: make(ramp, answers[ramp.walk.key.step]))
    return ramp.shows("look once more")


async def test_the_last_look_can_be_tapped(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await make(ramp, Move(Kind.READING, value="1 V"))
        await ramp.tap("it was read right")
        assert ramp.shows("NEXT: Read the type in the cap.")


def is_asked(ramp: Ramp) -> bool:
    """Whether no gate is left before the step."""
    return ramp.walk.site.gate(ramp.walk.key) is None


async def test_crew_is_not_led_into_work_by_the_last_look(walks: Path) -> None:
    """With the patient on the cot the gate comes at once; the look is for the mechanic who takes over."""
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await answer(ramp, "enter")
        for label in ("Still held", "Short of the line", "Moves"):
            await until(lambda: is_asked(ramp), lambda: make(ramp, next_move(ramp.walk, "")))
            await make(ramp, Move(Kind.FINDING, label=label))
        assert ramp.walk.site.gate(ramp.walk.key) == Gate.OCCUPANT
        assert ramp.shows("Nothing more is to be done here while somebody is on it.")
        assert not ramp.shows("look once more")
        assert not ramp.shows(ramp.walk.step.text), "the work itself"
        await make(ramp, Move(Kind.OCCUPANT_OFF))
        assert ramp.shows("The next step is for: mechanic.")
        assert not ramp.shows("look once more")
        await make(ramp, Move(Kind.TAKE_OVER, role="mechanic", occupant="off"))
        await ramp.press("enter")
        assert ramp.shows("look once more")


async def test_the_last_look_is_not_offered_at_an_end_with_a_hazard_open(walks: Path) -> None:
    """What is to be done there comes first."""
    async with running(walks, LEG, "mechanic", model="Bracken") as ramp:
        await answer_begin(ramp)
        await lead_to(ramp, "clear-snag")
        hazard = ramp.walk.library.open_items["leg-not-down"]
        assert hazard.kind == "hazard"
        await make(ramp, Move(Kind.CANNOT, text="no tool"))
        assert (ramp.walk.step.kind, ramp.walk.ended) == ("out of service", True)  # type: ignore[union-attr]
        assert "leg-not-down" in ramp.walk.key.open_items
        assert not ramp.shows("look once more")
        assert ramp.shows(TITLES["out of service"])
        assert ramp.shows(hazard.text)


# -- where no listed cause fits


@pytest.mark.parametrize("tapped", [False, True])
async def test_where_no_cause_fits_g_goes_back_to_the_answer_to_look_at_first(walks: Path, tapped: bool) -> None:
    """Each of the three answers rules out what the others leave; without the first most is left."""
    async with running(walks, WHEEL, "mechanic", model="Alder") as ramp:
        await answer_begin(ramp)
        for label in ("Round and clean", "Whole", "Smooth"):
            assert not ramp.shows("look there again")
            await until(lambda: is_asked(ramp), lambda: make(ramp, next_move(ramp.walk, "")))
            await make(ramp, Move(Kind.FINDING, label=label))
        await until(lambda: is_asked(ramp), lambda: make(ramp, next_move(ramp.walk, "")))
        assert ramp.shows("No listed cause fits all that was found. Look again first at line 1")
        await (ramp.tap("look there again") if tapped else ramp.press("g"))
        assert (ramp.last.kind, ramp.last.to) == (Kind.BACK, "tread")
        assert ramp.walk.key.step == "tread"


# -- ends

ENDS = [
    (LAMP, "Finch", "fit-cell"),
    (LAMP, "Finch", "out-of-use"),
    (REL, "Alder", "to-engineering"),
    (REL, "Alder", "out-of-use"),
    (WHEEL, "Alder", "deferred-flat"),
    (LEG, "Bracken", "second-mechanic"),
]


@pytest.mark.parametrize(("tree", "model", "target"), ENDS)
async def test_a_walk_goes_to_each_kind_of_end(walks: Path, tree: str, model: str, target: str) -> None:
    async with running(walks, tree, "repairer" if tree == LAMP else "mechanic", model=model) as ramp:
        await answer_begin(ramp, FREE, model)
        await lead_to(ramp, target)
        await until(lambda: ramp.walk.ended, lambda: make(ramp, next_move(ramp.walk, str(Kind.PASSED))))
        await ramp.press(*(["enter"] if ramp.shows("look once more") else []))
        kind = getattr(ramp.walk.step, "kind", "")
        assert ramp.shows(TITLES[kind] if kind else "FAULT CORRECTED. NOT YET APPROVED FOR RETURN TO SERVICE.")
        assert ramp.shows("Enter leave")
        await ramp.press("e")
        assert ramp.name == "WholeScreen", "everything can be shown at an end"
        await ramp.press("enter", "enter")
        assert ramp.name == "FindScreen"
        assert ramp.app.session is None


async def test_conditions_of_a_deferral_are_ticked_one_by_one(walks: Path) -> None:
    async with running(walks, WHEEL, "mechanic", model="Alder") as ramp:
        await answer_begin(ramp)
        await lead_to(ramp, "deferred-flat")
        conditions = ramp.walk.step.when  # type: ignore[union-attr]
        for at, condition in enumerate(conditions, 1):
            assert ramp.shows(f"NEXT: {sentence(condition)}")
            assert ramp.shows(f"condition {at} of {len(conditions)} is so")
            await ramp.press("enter")
        assert ramp.walk.ended


async def test_after_the_end_another_walk_can_be_begun(walks: Path) -> None:
    async with running(walks, LAMP, "repairer", library=None) as ramp:
        await finch(ramp)
        await lead_to(ramp, "out-of-use")
        await ramp.press("enter")
        first = ramp.session.id if ramp.app.session else ""
        await ramp.press(*(["enter"] if ramp.name == "WalkScreen" else []))
        assert ramp.name == "FindScreen"
        await ramp.press("1")
        await finch(ramp)
        assert ramp.session.id != first


# -- who may do it, and whether somebody is on it


async def test_a_step_for_another_role_is_not_shown_and_handed_over_or_taken_over(walks: Path) -> None:
    async with running(walks, LAMP) as ramp:
        await finch(ramp)
        await ramp.press("enter", "a", "1")
        assert ramp.shows("The next step is for: repairer.")
        assert not ramp.shows("Is the old cell good under load?")
        for key in ("1", "2", "3", "m", "enter", "a"):
            await ramp.press(key)
        assert ramp.last.kind == Kind.FINDING
        await ramp.press("t")
        assert ramp.shows("Is this still so?"), "the open cell is asked about"
        await ramp.press("1")
        assert (ramp.last.kind, ramp.last.role) == (Kind.TAKE_OVER, "repairer")
        assert ramp.shows("all this is so"), "who comes anew sees the start page first"
        await ramp.press("enter")
        assert ramp.shows("Is the old cell good under load?")


async def test_a_step_that_is_not_for_an_occupant_asks_first(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await until(
            lambda: ramp.walk.site.gate(ramp.walk.key) == Gate.OCCUPANT,
            lambda: make(ramp, next_move(ramp.walk, str(Kind.UNABLE))),
        )
        assert ramp.shows("Nothing more is to be done here while somebody is on it.")
        assert ramp.shows("It cannot wait? Key f")
        await ramp.press("1", "3", "9")
        assert ramp.walk.site.gate(ramp.walk.key) == Gate.OCCUPANT
        await ramp.press("2")
        assert ramp.last.kind == Kind.OCCUPANT_OFF


async def test_the_occupants_line_stands_first_while_somebody_is_on_it(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await ramp.press("enter")
        assert ramp.shows("Patient first.")
        await ramp.press("o", "2")
        assert not ramp.shows("Patient first.")
        await ramp.press("o", "1")
        assert ramp.shows("Patient first.")


# -- on to another tree


@pytest.mark.parametrize("tapped", [False, True])
@pytest.mark.parametrize("cell", [True, False])
async def test_an_end_that_leads_on_to_another_tree_begins_it_by_g(
    walks: Path, tmp_path: Path, cell: bool, tapped: bool
) -> None:
    """After a passed check, and at an end that only another tree goes on from."""
    library = leading_library(tmp_path / "lamps")
    async with running(walks, FIRST, "repairer", library=library) as ramp:
        await at_volts(ramp)
        if cell:
            await make(ramp, Move(Kind.READING, value="1 V"))
            await until(lambda: ramp.walk.ended, lambda: make(ramp, next_move(ramp.walk, str(Kind.PASSED))))
        else:
            await make(ramp, Move(Kind.UNABLE, text="no meter"))
            await make(ramp, Move(Kind.FINDING, label="Film"))
        first = ramp.session.id
        assert ramp.shows(f"alk: {OTHER_SYMPTOM} (tree {OTHER}).")
        await (ramp.tap("go on with it") if tapped else ramp.press("g"))
        await finch(ramp)
        assert ramp.walk.tree.id == OTHER
        assert ramp.session.id != first
        assert ramp.shows(OTHER_SYMPTOM)


async def test_a_tree_that_is_no_more_is_not_offered(walks: Path, tmp_path: Path) -> None:
    library = leading_library(tmp_path / "lamps")
    async with running(walks, FIRST, "repairer", library=library) as ramp:
        await at_volts(ramp)
        (library / f"{OTHER}.yaml").unlink()
        await make(ramp, Move(Kind.UNABLE, text="no meter"))
        await make(ramp, Move(Kind.FINDING, label="Film"))
        assert ramp.shows(f"Walk the tree {OTHER}.")
        assert not ramp.shows("go on with it")
        before = ramp.text
        await ramp.press("g")
        assert ramp.text == before


async def test_what_may_be_needed_is_listed_once_nobody_is_on_it_any_more(walks: Path) -> None:
    """While somebody is on it nobody is to look for tools; before the first step without them a mechanic sees them."""
    async with running(walks, REL, "mechanic") as ramp:
        await answer_begin(ramp, OCCUPIED)
        assert not ramp.shows("that may be needed")
        await answer(ramp, "enter")
        await ramp.press("o", "2")
        assert ramp.last.kind == Kind.OCCUPANT_OFF
        assert ramp.shows(LIST_TITLE)
        for needed in things_needed(ramp.walk):
            assert all(ramp.shows(name) for name in needed.names)
        await ramp.press("enter")
        assert ramp.name == "WalkScreen"
        await ramp.press("o", "1", "o", "2")
        assert ramp.name == "WalkScreen", "it was shown already"


async def test_on_the_start_page_itself_the_list_appears_and_no_page_more(walks: Path) -> None:
    async with running(walks, REL, "mechanic") as ramp:
        await answer_begin(ramp, OCCUPIED)
        await ramp.press("o", "2")
        assert ramp.name == "WalkScreen"
        assert ramp.shows("People that may be needed")


async def test_the_first_role_is_not_shown_what_may_be_needed(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await answer(ramp, "enter")
        await ramp.press("o", "2")
        assert ramp.last.kind == Kind.OCCUPANT_OFF
        assert ramp.name == "WalkScreen"
        assert not ramp.shows("may be needed")
