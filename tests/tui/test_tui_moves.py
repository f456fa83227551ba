"""What can be done beside answering: going back, handing over, notes, the fallback, pages beside the walk, leaving."""

from __future__ import annotations

from pathlib import Path

import pytest
from tui_hands import OCCUPANT_KEYS, answer, lead_to, make, seen, to_the_work, until
from tui_runs import (
    FULL,
    LAMP,
    OCCUPIED,
    PHONE,
    REL,
    TINY,
    USUAL,
    WHEEL,
    WIDE,
    Ramp,
    answer_begin,
    letters,
    next_move,
    running,
    shown_in,
)

from faulttree.journal import open_journal, read_journal, summaries
from faulttree.keys import OFF, ON, UNANSWERED, Gate, Kind, Move
from faulttree.present import done_so_far
from faulttree.present.blocks import notice_block, open_lines, sentence
from faulttree.present.wanted import NOT_AVAILABLE
from faulttree.problems import JournalError
from faulttree.readback import encode
from faulttree.sessions import now, shown
from faulttree.spelling import spell
from faulttree.tui import endings
from faulttree.tui.widgets.paper import Paper
from faulttree.walk import HANDED_OVER, STOPPED, apply

pytestmark = pytest.mark.usefixtures("quick_keys")


async def at_volts(ramp: Ramp) -> None:
    """The second step of the sample's lamp, with the cell out."""
    await answer_begin(ramp, model="Finch")
    await make(ramp, Move(Kind.ACKNOWLEDGE))
    await answer(ramp, "1")
    assert ramp.walk.key.step == "volts"


async def at_the_fix(ramp: Ramp) -> None:
    await at_volts(ramp)
    await make(ramp, Move(Kind.READING, value="1 V"))
    await ramp.press("enter")


# -- back


async def test_back_goes_to_the_step_before_and_the_log_keeps_what_was_done(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("b")
        assert ramp.walk.key.step == "spare-cell"
        assert ramp.kinds[-2:] == [Kind.FINDING, Kind.BACK]
        assert "cell-out" in ramp.walk.key.open_items, "what was done to the lamp is not undone"


async def test_at_the_first_step_there_is_no_way_back(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await answer_begin(ramp, model="Finch")
        await ramp.press("enter", "a", "b")
        assert ramp.kinds == [Kind.BEGIN, Kind.ACKNOWLEDGE]
        assert "b back" not in ramp.strips[-1]


@pytest.mark.parametrize(("digit", "step"), [("1", "spare-cell"), ("2", "volts")])
async def test_so_far_goes_back_to_any_line_of_it(walks: Path, digit: str, step: str) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_the_fix(ramp)
        await ramp.press("l")
        assert all(ramp.shows(line.partition(". ")[2]) for line in done_so_far(ramp.walk).lines)
        await ramp.press(digit)
        assert ramp.walk.key.step == step
        assert (ramp.last.kind, ramp.last.to) == (Kind.BACK, step)


async def test_so_far_is_only_read_where_it_is_left(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_the_fix(ramp)
        log = ramp.kinds
        await ramp.press("l", "b")
        assert ramp.kinds == log
        assert ramp.name == "WalkScreen"


async def test_after_a_passed_check_so_far_is_read_and_nothing_goes_back(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_the_fix(ramp)
        await ramp.press("enter", "1")
        assert ramp.walk.passed
        log = ramp.kinds
        await ramp.press("b", "r", "f", "h", "t", "s", "o")
        assert ramp.kinds == log
        await ramp.press("l")
        assert ramp.name == "TextScreen"
        await ramp.press("1", "enter")
        assert ramp.kinds == log


async def test_before_anything_was_answered_so_far_says_so(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await answer_begin(ramp, model="Finch")
        await ramp.press("enter", "l")
        assert ramp.shows("Nothing yet.")


async def test_starting_over_is_offered_once_a_check_has_failed(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_the_fix(ramp)
        await ramp.press("r")
        assert ramp.last.kind != Kind.START_OVER
        await ramp.press("enter", "2")
        log = ramp.kinds
        for left in ("2", "b", "escape"):
            await ramp.press("r")
            assert ramp.shows("Start over from the first step?")
            await ramp.press(left)
            assert ramp.name == "WalkScreen"
            assert ramp.kinds == log
        await ramp.press("r", "1")
        assert ramp.kinds == [*log, Kind.START_OVER]
        assert ramp.walk.key.step == "spare-cell"
        assert ramp.shows("From the first step.")


# -- notes, defects


@pytest.mark.parametrize(("key", "kind"), [("n", Kind.NOTE), ("d", Kind.ALSO_FOUND)])
async def test_a_text_is_written_down_as_it_was_typed(walks: Path, key: str, kind: Kind) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        text = 'rust [red] "here" 50%, aass'
        await ramp.press(key)
        await ramp.enter(text)
        assert (ramp.last.kind, ramp.last.text) == (kind, text)
        assert ramp.shows("Written down.")
        assert ramp.walk.key.step == "volts"


async def test_a_text_that_is_left_or_empty_is_not_written(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        log = ramp.kinds
        for left in (["escape"], ["enter"], ["space", "space", "enter"], ["x", "escape"]):
            await ramp.press("n", *left)
            assert ramp.name == "WalkScreen"
            assert ramp.kinds == log


async def test_whoever_writes_is_told_not_to_write_about_patients(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("n")
        assert ramp.shows("no patient data")


async def test_a_note_can_be_written_at_the_end(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_the_fix(ramp)
        await ramp.press("enter", "1", "n")
        await ramp.enter("lens scratched")
        assert ramp.last.text == "lens scratched"
        assert ramp.shows("FAULT CORRECTED.")


# -- the occupant


async def test_an_occupant_comes_and_goes_by_o(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp)
        await ramp.press("enter", "o", "1")
        assert (ramp.last.kind, ramp.walk.key.occupant) == (Kind.OCCUPANT_ON, ON)
        log = ramp.kinds
        await ramp.press("o", "1")
        assert ramp.kinds == log, "what is so already is no move"
        await ramp.press("o", "b")
        assert ramp.kinds == log
        await ramp.press("o", "2")
        assert (ramp.last.kind, ramp.walk.key.occupant) == (Kind.OCCUPANT_OFF, OFF)


@pytest.mark.parametrize("occupant", [ON, ""])
async def test_yes_is_always_1_and_no_always_2(walks: Path, occupant: str) -> None:
    """Where the occupant stands in the way 1 does not say that nobody is on it."""
    async with running(walks, REL) as ramp:
        await ramp.press(OCCUPANT_KEYS[occupant])
        await until(lambda: ramp.walk.site.gate(ramp.walk.key) == Gate.OCCUPANT, lambda: give_up(ramp, occupant))
        await answer(ramp, "1")
        assert ramp.walk.key.occupant == ON
        assert ramp.walk.site.gate(ramp.walk.key) == Gate.OCCUPANT
        await answer(ramp, "2")
        assert ramp.walk.key.occupant == OFF


async def give_up(ramp: Ramp, occupant: str) -> None:
    """Give up the step of now, or take over from whoever may not do it; the occupant stays as it was."""
    move = next_move(ramp.walk, str(Kind.UNABLE))
    await make(ramp, Move(move.kind, role=move.role, occupant=occupant) if move.kind == Kind.TAKE_OVER else move)


# -- the fallback


@pytest.mark.parametrize("size", [USUAL, PHONE, TINY])
async def test_the_fallback_is_one_key_away_at_every_page_of_the_walk(walks: Path, size: tuple[int, int]) -> None:
    async with running(walks, REL, size=size) as ramp:
        await answer_begin(ramp, OCCUPIED)
        for label in ("", "", "", "Still held", "", "", ""):
            text = ramp.text
            await ramp.press("f")
            assert ramp.name == "FallbackScreen"
            await ramp.press("escape")
            assert ramp.text == text
            assert Kind.FALLBACK not in ramp.kinds, "it was only read"
            if ramp.walk.site.gate(ramp.walk.key) == Gate.ROLE:
                break
            await make(ramp, next_move(ramp.walk, label))


@pytest.mark.parametrize("size", [USUAL, PHONE])
async def test_no_letter_and_no_digit_closes_the_fallback(walks: Path, size: tuple[int, int]) -> None:
    async with running(walks, REL, size=size) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await ramp.press("f")
        text = ramp.text
        await ramp.press(*"allback0123456789hswtno")
        assert ramp.name == "FallbackScreen"
        assert ramp.text == text
        assert ramp.kinds == [Kind.BEGIN]


@pytest.mark.parametrize("size", [USUAL, PHONE, TINY])
async def test_every_line_of_the_fallback_is_shown_before_it_is_asked_which_worked(
    walks: Path, size: tuple[int, int]
) -> None:
    async with running(walks, REL, size=size) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await ramp.press("f")
        shown: list[str] = []

        async def read_on() -> None:
            shown.append(letters("".join(line.rstrip() for line in ramp.strips[:-1])))
            await ramp.press("enter")

        await until(lambda: ramp.name != "FallbackScreen", read_on)
        for line in ramp.walk.tree.fallback:
            assert all(letters(word) in "".join(shown) for word in sentence(line.do).split())
        assert ramp.screen.question == "Which line worked?"  # type: ignore[attr-defined]
        assert list(ramp.screen.options) == [sentence(line.do) for line in ramp.walk.tree.fallback]  # type: ignore[attr-defined]


@pytest.mark.parametrize(("said", "occupant"), [("1", ON), ("2", OFF), ("enter", "")])
async def test_a_line_that_worked_is_recorded_with_what_it_opens_and_the_occupant_is_asked_anew(
    walks: Path, said: str, occupant: str
) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await ramp.press("f")
        await answer(ramp, "enter", "2")
        assert ramp.shows("Is a patient on the cot?")
        await answer(ramp, said)
        follows = {ON: [Kind.OCCUPANT_ON], OFF: [Kind.OCCUPANT_OFF], "": []}[occupant]
        assert ramp.kinds == [Kind.BEGIN, Kind.FALLBACK, *follows]
        assert ramp.walk.log[1].move.line == 2
        assert ramp.walk.key.occupant == (occupant or UNANSWERED)
        assert set(ramp.walk.tree.fallback[1].opens) <= ramp.walk.key.open_items
        assert ramp.shows("You may hand over now: key h.")


async def test_that_none_worked_is_recorded_and_changes_nothing_else(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        key = ramp.walk.key
        await ramp.press("f")
        await answer(ramp, "enter", "0")
        assert (ramp.last.kind, ramp.last.line) == (Kind.FALLBACK, 0)
        assert ramp.walk.key == key
        assert ramp.name == "WalkScreen"
        assert ramp.shows("no line of it worked")


async def test_which_line_worked_can_be_left_and_nothing_is_recorded(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        for left in ("b", "escape"):
            await ramp.press("f")
            await answer(ramp, "enter", "9", "a", "enter")
            assert ramp.screen.question == "Which line worked?"  # type: ignore[attr-defined]
            await ramp.press(left)
            assert ramp.name == "WalkScreen"
            assert ramp.kinds == [Kind.BEGIN]


HAND_OVER_FIRST = "h  hand over - to the next person; the walk waits."


def keys_in_rows(ramp: Ramp) -> list[str]:
    """The keys that the rows of the page begin with, in order."""
    rows = ramp.screen.rows(ramp.screen.canvas())
    return [row.text.split()[0] for row in rows if row.key and row.text[:1].isalnum() and "  " in row.text]


@pytest.mark.parametrize("size", [USUAL, PHONE])
@pytest.mark.parametrize("steps", [1, 2, 3, 4])
async def test_after_a_fallback_line_that_worked_handing_over_stands_first(
    walks: Path, size: tuple[int, int], steps: int
) -> None:
    """At the people's gate, at new warnings and at a check; until the next answer."""
    async with running(walks, REL, size=size) as ramp:
        await answer_begin(ramp, OCCUPIED)
        for label in ("", "", "Still held", "")[:steps]:
            await make(ramp, next_move(ramp.walk, label))
        await make(ramp, Move(Kind.FALLBACK, line=1, occupant=ON))
        await ramp.press("n")
        await ramp.enter("it came free")
        shown = [row.text for row in ramp.screen.rows(ramp.screen.canvas())]
        assert letters(HAND_OVER_FIRST) in letters("".join(shown))
        assert keys_in_rows(ramp)[0] == "h"
        await answer(ramp, "h")
        assert (ramp.last.kind, ramp.walk.state) == (Kind.HAND_OVER, HANDED_OVER)


async def test_the_next_answer_takes_handing_over_away_from_the_first_place(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await make(ramp, next_move(ramp.walk, ""))
        await make(ramp, Move(Kind.FALLBACK, line=1, occupant=ON))
        assert ramp.shows(HAND_OVER_FIRST)
        await make(ramp, Move(Kind.ACKNOWLEDGE))
        assert not ramp.shows(HAND_OVER_FIRST)
        assert keys_in_rows(ramp)[0] == "1"


async def test_that_the_patient_cannot_wait_is_recorded_and_opens_the_fallback(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await make(ramp, Move(Kind.PEOPLE_HERE))
        await make(ramp, Move(Kind.ACKNOWLEDGE))
        await make(ramp, Move(Kind.FINDING, label="Still held"))
        await to_the_work(ramp)
        await until(lambda: ramp.walk.site.gate(ramp.walk.key) is None, lambda: make(ramp, next_move(ramp.walk, "")))
        await answer(ramp, "u")
        options = ramp.screen.options  # type: ignore[attr-defined]
        await answer(ramp, str(1 + options.index("the patient cannot wait")))
        assert (ramp.last.kind, ramp.last.text) == (Kind.UNABLE, "the patient cannot wait")
        assert ramp.name == "FallbackScreen"
        await answer(ramp, "enter", "1", "2")
        assert ramp.kinds[-3:] == [Kind.UNABLE, Kind.FALLBACK, Kind.OCCUPANT_OFF]


# -- hand over, take over, stop


async def test_handing_over_shows_the_page_for_whoever_comes_next(walks: Path) -> None:
    async with running(walks, LAMP) as ramp:
        await answer_begin(ramp, model="Finch")
        await ramp.press("enter", "a", "1", "h")
        await ramp.press(*(["2"] if ramp.name == "ChooseScreen" else []))
        assert ramp.walk.state == HANDED_OVER
        assert ramp.shows("HAND-OVER. NOT APPROVED FOR RETURN TO SERVICE.")
        assert ramp.shows(encode(ramp.walk))
        assert all(ramp.shows(line) for line in open_lines(ramp.walk))
        await ramp.press("1", "a", "b", "n", "f", "o", "s")
        assert ramp.last.kind == Kind.HAND_OVER
        await ramp.press("enter")
        assert ramp.name == "FindScreen"
        assert ramp.shows("One walk waits")


async def test_handing_over_from_the_start_page_shows_the_hand_over(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await answer_begin(ramp, model="Finch")
        await ramp.press("h")
        assert ramp.shows("Hand over to whom?")
        await ramp.press("2")
        assert (ramp.last.kind, ramp.last.to) == (Kind.HAND_OVER, "repairer")
        assert ramp.walk.state == HANDED_OVER
        assert ramp.shows("HAND-OVER.")
        assert ramp.shows("Handed over to: repairer.")
        assert ramp.shows("The step is for: user.")
        await ramp.press("enter", "0")
        assert ramp.shows("The lamp does not light, handed over to: repairer, ")


async def test_whoever_takes_over_on_the_page_of_a_hand_over_is_asked_as_whom(walks: Path) -> None:
    """The step may be for one role only, but that page does not say that pressing the key makes one of it."""
    async with running(walks, LAMP) as ramp:
        await answer_begin(ramp, model="Finch")
        await ramp.press("enter", "a", "1")
        assert ramp.walk.site.gate(ramp.walk.key) == Gate.ROLE
        await ramp.press("h")
        assert ramp.walk.state == HANDED_OVER
        await ramp.press("t")
        assert ramp.shows("Your role?")
        assert ramp.last.kind == Kind.HAND_OVER


async def test_a_walk_that_was_handed_over_is_open_to_others_while_its_page_is_read(walks: Path) -> None:
    """It is taken over from another terminal; whoever still has its page is told so, before anything is asked."""
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await make(ramp, Move(Kind.HAND_OVER, to="user"))
        assert ramp.screen.session.journal.is_open is False  # type: ignore[attr-defined]
        with open_journal(walks / f"{ramp.screen.session.id}.jsonl") as other:  # type: ignore[attr-defined]
            await ramp.press("t")
            assert ramp.shows("The walk was handed over, and this walk is open on another screen.")
            other.append(apply(shown(walks, other.id)[1], Move(Kind.TAKE_OVER, role="user")), now())
        await ramp.press("t")
        assert ramp.shows("The walk was handed over, and somebody else has gone on with it since.")
        assert ramp.walk.state == HANDED_OVER
        assert not ramp.shows("Your role?")


async def test_on_the_page_of_a_hand_over_the_walk_is_taken_over_and_recorded(walks: Path) -> None:
    """Left half way, it is open to others again; taken over, it is not, and what is answered then is recorded."""
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await make(ramp, Move(Kind.HAND_OVER, to="user"))
        path = walks / f"{ramp.screen.session.id}.jsonl"  # type: ignore[attr-defined]
        await ramp.press("t", "escape")
        open_journal(path).close()
        await make(ramp, Move(Kind.TAKE_OVER, role="repairer"))
        await to_the_work(ramp)
        with pytest.raises(JournalError, match="this walk is open on another screen"):
            open_journal(path)
        await make(ramp, Move(Kind.READING, value="1.3 V"))
        kinds = [entry.move.kind for entry in read_journal(path).entries]
    assert kinds[-3:] == [Kind.HAND_OVER, Kind.TAKE_OVER, Kind.READING]


async def test_a_hand_over_that_is_left_is_none(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("h", "b")
        assert ramp.last.kind == Kind.FINDING


async def test_taking_over_asks_role_occupant_and_what_is_open(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await make(ramp, Move(Kind.PEOPLE_HERE))
        await make(ramp, Move(Kind.ACKNOWLEDGE))
        await make(ramp, Move(Kind.FINDING, label="Free but heavy"))
        opened = [name for name in ramp.walk.library.open_items if name in ramp.walk.key.open_items]
        assert len(opened) == 2
        await ramp.press(*(["enter"] if ramp.shows("look once more") else []), "t")
        await ramp.press(*(["2"] if ramp.shows("Your role?") else []), "2")
        for name in opened:
            assert ramp.shows(ramp.walk.library.open_items[name].text)
            await ramp.press("2" if name == opened[0] else "1")
        assert ramp.last.kind == Kind.TAKE_OVER
        assert (ramp.last.role, ramp.last.occupant, ramp.last.closed) == ("mechanic", OFF, (opened[0],))
        assert ramp.walk.key.open_items == {opened[1]}
        assert ramp.shows("all this is so"), "whoever comes anew reads the start page"


async def test_a_duty_does_not_vanish_by_one_key(walks: Path) -> None:
    """Left without a name, the question comes again, and the duty stays open."""
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        for move in (Move(Kind.PEOPLE_HERE), Move(Kind.ACKNOWLEDGE), Move(Kind.FINDING, label="Free but heavy")):
            await make(ramp, move)
        await ramp.press(*(["enter"] if ramp.shows("look once more") else []), "t")
        await ramp.press(*(["2"] if ramp.shows("Your role?") else []), "2", "1", "2")
        assert ramp.name == "AskScreen"
        assert ramp.shows("Name or initials of who closed it")
        assert ramp.shows("DUTY: Tag on the mount.")
        await ramp.press("escape")
        assert ramp.shows("Is this still so?")
        await ramp.press("1")
        assert (ramp.last.kind, ramp.last.closed, ramp.last.closed_by) == (Kind.TAKE_OVER, (), ())
        assert "mount-out-of-use" in ramp.walk.key.open_items


async def test_taking_over_that_is_left_half_way_changes_nothing(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp)
        await ramp.press("enter")
        log, text = ramp.kinds, ramp.text
        for keys in (["t", "b"], ["t", "2", "b"], ["t", "2", "escape"]):
            await ramp.press(*keys)
            assert ramp.name == "WalkScreen"
            assert (ramp.kinds, ramp.text) == (log, text)


async def test_the_same_role_taking_over_goes_on_without_the_start_page(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("t", "2", "1")
        assert ramp.last.kind == Kind.TAKE_OVER
        assert ramp.shows("Is the old cell good under load?")


async def test_stopping_leaves_the_program_with_what_is_open_as_its_last_words(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("s")
        assert ramp.is_left
        assert ramp.walk.state == STOPPED
        assert ramp.app.return_code == 3, "the same as in line mode: something waits"
    words = " ".join(ramp.app.last_words)
    assert "STILL OPEN (disturbance): Cell lies outside the lamp." in words
    assert "NOT APPROVED FOR RETURN TO SERVICE" in words
    assert f"faulttree walk --resume {ramp.session.id}" in words


@pytest.mark.parametrize(
    ("before", "key"),
    [
        ([], "ctrl+q"),
        (["n"], "ctrl+c"),
        (["f"], "ctrl+q"),
        (["u"], "ctrl+c"),
        (["k"], "ctrl+q"),
        (["question_mark"], "ctrl+c"),
        (["ctrl+p"], "ctrl+q"),
    ],
)
async def test_leaving_stops_the_walk_from_any_page(walks: Path, before: list[str], key: str) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press(*before, key)
        assert ramp.is_left
        assert ramp.walk.state == STOPPED
        assert ramp.app.return_code == 3
        path = ramp.session.journal.recorded.path
    assert read_journal(path).entries[-1].move.kind == Kind.STOP


async def test_leaving_without_a_walk_or_after_its_end_is_no_unfinished_walk(walks: Path) -> None:
    async with running(walks) as ramp:
        await ramp.press("ctrl+q")
        assert (ramp.is_left, ramp.app.return_code, ramp.app.last_words) == (True, 0, ())
    async with running(walks, LAMP, "repairer") as ramp:
        await at_the_fix(ramp)
        await ramp.press("enter", "1", "ctrl+q")
        assert (ramp.is_left, ramp.app.return_code) == (True, 0)
        assert ramp.kinds[-1] == Kind.PASSED


async def test_what_is_open_at_the_end_is_said_last(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await lead_on(ramp, "u", "out-of-use")
        assert ramp.walk.ended
        await ramp.press("ctrl+q")
        assert "STILL OPEN (disturbance): Cell lies outside the lamp." in ramp.app.last_words


async def lead_on(ramp: Ramp, key: str, target: str) -> None:
    """Give up step after step until the walk stands at ``target``."""
    for _ in range(12):
        if ramp.walk.key.step == target:
            break
        kind = Kind.UNABLE if hasattr(ramp.walk.step, "unable") else Kind.CANNOT
        await make(ramp, Move(kind, text="no light"))
    await ramp.press(*(["enter"] if ramp.shows("look once more") else []))


# -- pages beside the walk

ASIDES = [("w", "BlocksScreen"), ("k", "CodeScreen"), ("e", "WholeScreen"), ("question_mark", "TextScreen")]


@pytest.mark.parametrize(("key", "screen"), ASIDES)
async def test_a_page_beside_the_walk_is_closed_to_where_it_was(walks: Path, key: str, screen: str) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        before, log = ramp.text, ramp.kinds
        for close in ("enter", "escape", "b"):
            await ramp.press(key)
            assert ramp.name == screen
            await ramp.press("1", "2", "a", "question_mark")
            assert ramp.name == screen
            assert ramp.kinds == log
            await ramp.press(close)
            assert ramp.text == before
            assert ramp.kinds == log


async def test_a_page_beside_the_walk_is_closed_by_a_tap_on_its_key(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("w")
        await ramp.tap("Enter close")
        assert ramp.name == "WalkScreen"


async def test_wanted_now_says_not_available_and_what_is_open(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("w")
        assert ramp.shows(NOT_AVAILABLE)
        assert ramp.shows("OPEN (disturbance): Cell lies outside the lamp.")
        assert ramp.shows("TAG: NOT AVAILABLE. Cell lies outside the lamp.")


@pytest.mark.parametrize("looks", ["█", "#"])
async def test_the_code_stands_large_with_the_words_to_say_it(walks: Path, looks: str) -> None:
    from faulttree.tui.looks import Looks

    async with running(walks, LAMP, "repairer", looks=Looks(ascii=looks == "#")) as ramp:
        await at_volts(ramp)
        await ramp.press("k")
        code = encode(ramp.walk)
        assert ramp.shows(f"Read-back code: {code}")
        assert ramp.shows("Not in the code: fallback lines, notes, readings, names, times, waits.")
        for group in code.split("-"):
            assert " ".join(spell(group)) in ramp.text
        assert looks in ramp.text


@pytest.mark.parametrize("size", [USUAL, PHONE])
async def test_everything_leaves_nothing_out_of_any_page(walks: Path, size: tuple[int, int]) -> None:
    """On the start page, at warnings, at a step, at the last look and at the end: the same page without a limit."""
    async with running(walks, LAMP, "repairer", size=size) as ramp:
        await answer_begin(ramp, model="Finch")
        await check_everything(ramp, "Documents that may be needed: ", "The lamp is out of the charger.")
        await ramp.press("enter")
        notices = [letters(" ".join(notice_block(each).lines)) for each in ramp.walk.site.pending(ramp.walk.key)]
        await check_everything(ramp, *notices)
        await make(ramp, Move(Kind.ACKNOWLEDGE))
        await check_everything(ramp, "Take the cell out.", "no spare cell")
        await ramp.press("1")
        await make(ramp, Move(Kind.READING, value="1 V"))
        await check_everything(ramp, "It rests on:", "One look alone decides")
        await make(ramp, Move(Kind.DONE))
        await ramp.press("1")
        await check_everything(ramp, "FAULT CORRECTED.", "Used, to be replaced in stock", "Done so far:")


async def check_everything(ramp: Ramp, *texts: str) -> None:
    await ramp.press("e")
    assert ramp.name == "WholeScreen"
    rows = shown_in(ramp.screen.rows(FULL._replace(width=ramp.app.size.width)))
    assert all(letters(text) in rows for text in texts)
    await ramp.press("enter")


async def test_help_names_every_key_of_the_page(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        keys = [key for key in list(ramp.screen.keys()) if key.does]
        await ramp.press("question_mark")
        lines = ramp.screen.lines  # type: ignore[attr-defined]
        for key in keys:
            assert any(key.does in line for line in lines), key
        assert any("day or night" in line for line in lines)
        assert any(line.startswith("ctrl+q") for line in lines)


async def test_help_says_how_the_page_is_moved(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        for key in ("question_mark", "f1"):
            await ramp.press(key)
            text = "\n".join(ramp.screen.lines)  # type: ignore[attr-defined]
            assert all(words in text for words in ("Down, Up", "Page Down, Page Up", "Home, End", "? or F1"))
            await ramp.press("enter")
            assert ramp.name == "WalkScreen"


async def test_where_letters_are_typed_f1_shows_the_keys_and_takes_nothing_of_the_text(walks: Path) -> None:
    """The keys of that page, and of those that are the same everywhere only those that are no letter."""
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("n", *"dry", "f1")
        lines = ramp.screen.lines  # type: ignore[attr-defined]
        assert any(line.startswith("Enter  take the line") for line in lines)
        assert any(line.startswith("Page Down") for line in lines)
        assert not any(line.startswith(("?", "v ", "Space", "ctrl+p")) for line in lines)
        await ramp.press("enter")
        assert (ramp.name, ramp.typed) == ("AskScreen", "dry")
        await ramp.press(*" cell", "enter")
        assert (ramp.last.kind, ramp.last.text) == (Kind.NOTE, "dry cell")


async def test_f1_is_in_the_row_of_keys_where_letters_are_typed_and_can_be_tapped(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        for opening, name in (("n", "AskScreen"), ("ctrl+p", "ActionsScreen")):
            await ramp.press(opening)
            assert (ramp.name, "F1 keys" in ramp.strips[-1]) == (name, True)
            await ramp.pilot.click(offset=(ramp.strips[-1].index("F1 keys") + 1, ramp.app.size.height - 1))
            await ramp.settle()
            assert ramp.name == "TextScreen"
            assert ramp.shows("this help")
            await ramp.press("enter", "escape")
            assert ramp.name == "WalkScreen"


async def test_what_walk_it_is_and_the_patients_line_stay_while_the_page_is_moved(walks: Path) -> None:
    for size in (PHONE, (40, 12)):
        async with running(walks, REL, "mechanic", size=size) as ramp:
            await answer_begin(ramp, OCCUPIED)
            status = [row.rstrip() for row in ramp.strips[:3]]
            assert "DRAFT r1." in status[0]
            assert status[0].startswith("Cot will not release")
            assert status[1:] == ["mechanic. Is a patient on the cot? Yes.", "Patient first. Cannot wait: key f."]
            below = ramp.strips[4]
            for key in ("down", "space", "space", "space", "up", "end"):
                await ramp.press(key)
                assert [row.rstrip() for row in ramp.strips[:3]] == status, key
            assert below not in ramp.strips
            assert ramp.shows("all this is so")


async def test_the_page_is_copied_as_text(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("y")
        assert ramp.shows("Copied")
        assert ramp.app.clipboard == endings.as_text(ramp.walk, False, ramp.session.times())
        assert "Is the old cell good under load?" in ramp.app.clipboard


async def test_the_page_is_put_into_a_file_and_never_over_another(walks: Path, tmp_path: Path) -> None:
    target = tmp_path / "page.txt"
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("p")
        assert ramp.typed == f"{ramp.session.id}.txt"
        await ramp.enter(str(target))
        assert ramp.shows("Saved in")
        assert target.read_text(encoding="utf-8") == endings.as_text(ramp.walk, False, ramp.session.times())
        for name in (str(target), str(tmp_path / "no" / "where.txt")):
            await ramp.press("p")
            await ramp.enter(name)
            assert ramp.shows("is there already") or ramp.shows("cannot be written")
        await ramp.press("p", "escape")
        assert ramp.name == "WalkScreen"


@pytest.mark.parametrize("key", ["v", "f2"])
async def test_day_and_night_change_and_nothing_else_does(walks: Path, key: str) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        before = ramp.text
        night = ramp.app.screen.styles.background
        await ramp.press(key)
        assert ramp.app.looks.day
        assert ramp.app.theme == "day"
        assert ramp.text == before
        strip = ramp.screen.query("Paper").first().render_line(0)  # type: ignore[attr-defined]
        assert {segment.style.bgcolor.get_truecolor().hex for segment in strip if segment.style} == {"#ffffff"}
        await ramp.press(key)
        assert not ramp.app.looks.day
        assert ramp.app.screen.styles.background == night


async def test_what_was_said_stays_when_day_and_night_change_or_the_window_does(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("m")
        await ramp.enter("0.9 A")
        said = ramp.strips[0].strip()
        assert said
        await ramp.press("v")
        assert ramp.strips[0].strip() == said
        await ramp.resize(*WIDE)
        assert ramp.strips[0].strip() == said
        await ramp.press("w", "enter")
        assert ramp.strips[0].strip() == said


# -- the window


async def test_a_window_that_changes_loses_nothing(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await ramp.press("enter")
        for size in (PHONE, TINY, WIDE, (1, 1), (200, 60), USUAL):
            await ramp.resize(*size)
            assert ramp.kinds[-1] == Kind.PEOPLE_HERE
        assert ramp.walk.site.gate(ramp.walk.key) == Gate.WARNINGS
        assert ramp.shows("I have read")


@pytest.mark.parametrize("size", [PHONE, TINY, (30, 10), WIDE], ids=str)
async def test_a_line_that_is_typed_while_the_window_changes_is_kept(walks: Path, size: tuple[int, int]) -> None:
    """What was typed last stays in sight, so that it is seen where the next letter goes."""
    async with running(walks, LAMP, "repairer", model="Finch") as ramp:
        await ramp.press("enter", "n")
        await ramp.type("this note is wider than a telephone, cut")
        await ramp.resize(*size)
        assert ramp.shows("phone, cut")
        await ramp.type(" in two")
        await ramp.resize(*USUAL)
        await ramp.press("enter")
        assert ramp.last.text == "this note is wider than a telephone, cut in two"


@pytest.mark.parametrize("sizes", [(USUAL, PHONE), (USUAL, WIDE), (PHONE, USUAL), (PHONE, WIDE), (TINY, USUAL)])
async def test_no_warning_is_passed_over_when_the_window_changes_between_two_pages(
    walks: Path, sizes: tuple[tuple[int, int], tuple[int, int]]
) -> None:
    """Before the window changes some pages were read; whatever was on none of them has to be on one afterwards."""
    async with running(walks, REL, size=sizes[0]) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await answer(ramp, "enter")
        notices = [letters(" ".join(notice_block(each).lines)) for each in ramp.walk.site.pending(ramp.walk.key)]
        await seen(ramp)
        shown = whole_text(ramp)
        for at in range(60):
            await answer(ramp, "a")
            if ramp.last.kind == Kind.ACKNOWLEDGE:
                break
            shown += whole_text(ramp)
            if at == 2:
                await ramp.resize(*sizes[1])
                shown += whole_text(ramp)
        assert ramp.last.kind == Kind.ACKNOWLEDGE
        assert all(notice in shown for notice in notices)


def whole_text(ramp: Ramp) -> str:
    """The letters of the whole page, what stands below the screen too: that has to be moved to before it is read."""
    return shown_in(ramp.screen.query("Paper").first()._rows)  # type: ignore[attr-defined]


async def test_warnings_are_not_read_before_their_page_was_seen_to_its_end(walks: Path) -> None:
    async with running(walks, REL, size=TINY) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await answer(ramp, "enter")
        assert ramp.kinds[-1] == Kind.PEOPLE_HERE
        shown = ""
        for _ in range(400):
            if ramp.last.kind == Kind.ACKNOWLEDGE:
                break
            shown += letters("".join(line.rstrip() for line in ramp.strips[:-1]))
            await ramp.press("a")
        assert ramp.last.kind == Kind.ACKNOWLEDGE
        for notice in ramp.walk.site.notices(ramp.walk.site.needs(ramp.walk.key).notices):
            if notice.needs_acknowledging:
                assert all(letters(word) in shown for word in notice.hazard.split())


PINNED = 3
"""Rows that stay in a window of seven: never more than half."""


async def test_a_page_that_is_longer_than_the_screen_is_moved(walks: Path) -> None:
    async with running(walks, LAMP, "repairer", size=TINY) as ramp:
        await at_volts(ramp)
        assert "DOWN more" in ramp.strips[-1]
        first = ramp.text
        await ramp.press("end")
        assert "DOWN more" in ramp.strips[-1], "what was never shown is not jumped over"
        await seen(ramp)
        await ramp.press("home", "end")
        assert ramp.shows("checked now")
        assert "DOWN more" not in ramp.strips[-1]
        await ramp.press("home")
        assert ramp.text == first
        await ramp.press("down", "up")
        assert ramp.text == first
        await ramp.press("space")
        rows = ramp.strips
        stay = [row.rstrip() for row in rows[:PINNED]]
        assert stay == first.splitlines()[:PINNED], "what walk it is stays"
        assert first.splitlines()[6].rstrip() == rows[PINNED].rstrip(), "a row of the screen before stays in sight"
        await ramp.press("pageup")
        assert ramp.text == first


async def test_a_row_is_tapped_where_it_is_after_moving(walks: Path) -> None:
    async with running(walks, LAMP, "repairer", size=TINY) as ramp:
        await at_volts(ramp)
        log = ramp.kinds
        await until(lambda: any(line.startswith("u  un") for line in ramp.strips), lambda: ramp.press("down"))
        await ramp.tap("u  un")
        assert ramp.name == "WalkScreen", "the page was not seen to its end"
        await seen(ramp)
        await ramp.tap("u  un")
        assert ramp.shows("Why (no patient data)?")
        assert ramp.kinds == log


@pytest.mark.parametrize("size", [USUAL, TINY])
async def test_an_answer_counts_only_once_its_page_was_seen_to_its_end(walks: Path, size: tuple[int, int]) -> None:
    """In a small window an answer moves the page on, row after row, until all of it was on the screen."""
    async with running(walks, LAMP, "repairer", size=size) as ramp:
        await answer_begin(ramp, model="Finch")
        await make(ramp, Move(Kind.ACKNOWLEDGE))
        paper = ramp.screen.query(Paper).first()
        presses = 0
        while ramp.last.kind != Kind.FINDING and presses < 20:
            was_seen = paper.is_seen
            await ramp.press("2")
            presses += 1
            assert was_seen == (ramp.last.kind == Kind.FINDING)
        assert ramp.last.label == "Stays dark"
        assert (presses == 1) == (size == USUAL)


# -- a move that cannot be recorded


async def test_a_move_that_cannot_be_recorded_does_not_count_until_it_is(
    walks: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    from faulttree.journal import Journal
    from faulttree.problems import JournalError

    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        log = ramp.kinds
        whole = Journal.append

        def full(*args: object) -> None:
            raise JournalError("the disk is full", "make room")

        monkeypatch.setattr(Journal, "append", full)
        await ramp.press("u", "4")
        await ramp.press(*(["x", "enter"] if ramp.name == "AskScreen" else []))
        assert ramp.name == "UnrecordedScreen"
        assert ramp.shows("NOT RECORDED")
        assert ramp.shows("The disk is full. Make room.")
        assert ramp.kinds == log
        await ramp.press("enter")
        assert ramp.shows("could not be recorded this time either")
        await ramp.press("p")
        await ramp.enter(str(tmp_path / "copy"))
        assert ramp.shows("The walk up to here was saved in")
        await ramp.press("b")
        assert ramp.name == "WalkScreen"
        assert ramp.kinds == log
        await make(ramp, Move(Kind.UNABLE, text="no light"))
        assert ramp.name == "UnrecordedScreen"
        monkeypatch.setattr(Journal, "append", whole)
        await ramp.press("enter")
        assert ramp.kinds == [*log, Kind.UNABLE]
        assert ramp.name == "WalkScreen"
    [summary] = summaries(walks)
    assert summary.problem == ""


# -- everything by its words


async def test_what_can_be_done_is_found_by_its_words_and_no_answer_is(walks: Path) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press("ctrl+p")
        assert ramp.name == "ActionsScreen"
        offered = [key.does for key in ramp.screen.offered]  # type: ignore[attr-defined]
        assert any("write something down" in does for does in offered)
        assert any("save and stop" in does for does in offered)
        assert not any("Flat" in does or "No reading" in does for does in offered)
        await ramp.press(*"write", "space", *"down")
        assert ramp.shows("1  write something down")
        await ramp.press("1")
        assert ramp.name == "AskScreen"
        await ramp.enter("by its words")
        assert (ramp.last.kind, ramp.last.text) == (Kind.NOTE, "by its words")


async def test_looking_for_words_can_be_left_and_nothing_is_done(walks: Path) -> None:
    async with running(walks, WHEEL, "mechanic", model="Alder") as ramp:
        await answer_begin(ramp)
        log, text = ramp.kinds, ramp.text
        await ramp.press("ctrl+p", *"stop", "enter", "escape")
        assert ramp.name == "WalkScreen"
        assert (ramp.kinds, ramp.text) == (log, text)


async def test_lead_to_comes_to_where_it_says(walks: Path) -> None:
    """The hands that other tests use."""
    async with running(walks, WHEEL, "mechanic", model="Alder") as ramp:
        await answer_begin(ramp)
        await lead_to(ramp, "fit-wheel")
        assert ramp.walk.key.step == "fit-wheel"
        assert ramp.walk.site.gate(ramp.walk.key) is None


async def test_after_going_back_all_that_was_done_is_still_shown_as_gone_back_over(walks: Path) -> None:
    """Work that was ticked vanished from the list of what was done as soon as its step was left by going back."""
    async with running(walks, LAMP, "repairer", model="Finch") as ramp:
        await lead_to(ramp, "fit-cell")
        await make(ramp, Move(Kind.DONE))
        assert ramp.walk.key.step == "fit-cell"
        step = ramp.walk.step
        done = f'Gone back over, but done: "{step.text.removesuffix(".")}", line 1.'
        await make(ramp, Move(Kind.BACK))
        await answer(ramp, *(["1"] if ramp.name == "ChooseScreen" else []))
        assert ramp.walk.key.step != step.id
        assert ramp.shows("more in the log (key l)") or ramp.shows(done), ramp.text
        await ramp.press("l")
        assert ramp.shows("Also in the log, no findings of this way:")
        assert ramp.shows(done)
        await ramp.press("escape")
        while len(ramp.walk.way) > 1:
            await make(ramp, Move(Kind.BACK))
        await ramp.press("l")
        assert ramp.shows("Nothing on this way yet.")
        assert ramp.shows(done)
        assert ramp.shows("was answered: Lights.")


@pytest.mark.parametrize("width", [80, 40])
async def test_the_row_of_keys_says_how_many_lines_a_page_leaves_out(walks: Path, width: int) -> None:
    said = set()
    async with running(walks, LAMP, "repairer", size=(width, 24)) as ramp:
        await at_volts(ramp)
        for height in range(24, 7, -1):
            await ramp.resize(width, height)
            hidden = sum(row.hidden for row in ramp.screen.rows(ramp.screen.canvas()))
            assert (f"e {hidden} more line" in ramp.strips[-1]) == (hidden > 0), ramp.text
            assert "e everything" not in ramp.strips[-1] or not hidden
            said.add(hidden > 0)
        assert said == {True, False}
        await ramp.press("e")
        assert ramp.name == "WholeScreen"
        assert "more line" not in ramp.strips[-1]


@pytest.mark.parametrize("key", ["n", "d"])
async def test_where_words_are_written_down_the_prompt_says_no_patient_data(walks: Path, key: str) -> None:
    async with running(walks, LAMP, "repairer") as ramp:
        await at_volts(ramp)
        await ramp.press(key)
        assert ramp.name == "AskScreen"
        assert ramp.shows("(no patient data):")
        await ramp.press("escape", "question_mark")
        assert ramp.shows("another defect that you saw; no patient data")


@pytest.mark.parametrize("keys", [["u"], ["h"], ["l"], ["question_mark"], ["t", "2"], ["w"]])
async def test_a_line_that_worked_is_asked_for_from_every_page_beside_the_walk(walks: Path, keys: list[str]) -> None:
    """From the page that asks why, the fallback was read, and nobody asked which line of it worked."""
    async with running(walks, REL) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await to_the_work(ramp)
        before = ramp.walk
        await ramp.press(*keys)
        assert ramp.name != "WalkScreen"
        await ramp.press("f")
        assert ramp.name == "FallbackScreen"
        await ramp.press("escape")
        assert ramp.name not in ("WalkScreen", "FallbackScreen"), "nothing was done: the page asks on"
        await ramp.press("f")
        await answer(ramp, "enter")
        assert ramp.shows("Which line worked?")
        await answer(ramp, "2", "1")
        assert ramp.walk.log[: len(before.log)] == before.log
        assert ramp.kinds[len(before.log) :] == [Kind.FALLBACK, Kind.OCCUPANT_ON], "what was asked is given up"
        assert (ramp.name, ramp.app.taken_up) == ("WalkScreen", None)
        await ramp.press("n")
        await ramp.enter("handle stiff")
        assert ramp.name == "WalkScreen", "it is asked once"


async def test_on_a_page_that_has_to_be_moved_handing_over_takes_one_press(walks: Path) -> None:
    """The page said that one may hand over now by h, and the press only moved it, so that its row was gone."""
    async with running(walks, REL, size=PHONE) as ramp:
        await answer_begin(ramp, OCCUPIED)
        await to_the_work(ramp)
        await make(ramp, Move(Kind.FALLBACK, line=2, occupant=ON))
        assert ramp.shows("h  hand over")
        assert ramp.strips[-1].startswith("DOWN more")
        await ramp.press("h")
        assert ramp.walk.state == HANDED_OVER
