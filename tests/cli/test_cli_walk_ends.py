"""Line mode at a walk's turning points: the last look, waits, handing over first, and all that comes after a walk."""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from cli_runs import LAMP, SAMPLE, Ran

from faulttree import sessions
from faulttree.cli import line_mode
from faulttree.cli.main import main
from faulttree.journal import read_journal, summaries
from faulttree.journal.names import default_folder
from faulttree.keys import Kind, Move
from faulttree.present.after import CUT_SHORT

Walked = Callable[..., Ran]
REL = "cot-will-not-release"
TO_THE_BRACKET = "no|people here|acknowledge|Still held|people here|acknowledge|Short of the line|people here|Moves"
THE_WORK = "|".join(["people here", "acknowledge", *["done"] * 12])
PROVED = "inspected AB|people here|acknowledge|passed"
LAST_LOOK = 'One look alone decides: "Are handle and bracket steady on the mount?" You answered: Moves.'


class Terminal(io.StringIO):
    """What a person types at a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.fixture
def walk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Walked:
    """Walk in line mode by answers parted by strokes: out of a file, out of a pipe, or typed at a terminal."""

    def walked(*words: str, answers: str, source: str = "file") -> Ran:
        text = answers.replace("|", "\n") + "\n"
        if source == "file":
            (tmp_path / "answers").write_text(text)
            words = (*words, "--answers", str(tmp_path / "answers"))
        else:
            monkeypatch.setattr(sys, "stdin", (Terminal if source == "terminal" else io.StringIO)(text))
        code = main(["walk", "--plain", *words])
        return Ran(code, *capsys.readouterr())

    return walked


def moves() -> list[Move]:
    """The moves of the one walk that was recorded."""
    [summary] = summaries(default_folder(), include_ended=True)
    return [entry.move for entry in read_journal(summary.path).entries]


def plain(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("source", ["file", "pipe"])
def test_a_mechanics_walk_ends_with_times_parts_and_tags_and_no_answer_more(walk: Walked, source: str) -> None:
    answers = f"{TO_THE_BRACKET}|{THE_WORK}|waited|{PROVED}"
    ran = walk(REL, "--as", "mechanic", answers=answers, source=source)
    assert (ran.code, ran.err) == (0, "")
    end = plain(ran.out.rpartition("FAULT CORRECTED.")[2])
    assert "NOT BEFORE 20" in end
    assert "UTC: Medium-strength removable threadlocker on a thread treated with activator, 1 hour before use." in end
    assert "Used, to be replaced in stock: SKM-0437 Handle bracket (if it was needed)." in end
    assert "TAG on the mount: NOT AVAILABLE. It is out of use until a mechanic approves it." in end
    assert [move.kind for move in moves()].count(Kind.BACK) == 0


def test_parts_of_work_given_up_are_ordered(walk: Walked) -> None:
    ran = walk(REL, "--as", "mechanic", answers=f"{TO_THE_BRACKET}|cannot no part")
    assert "To order: SKM-0437 Handle bracket (if needed)." in plain(ran.out)


def test_what_has_to_be_waited_for_stands_at_each_step_and_at_the_hand_over(walk: Walked) -> None:
    ran = walk(REL, "--as", "mechanic", answers=f"{TO_THE_BRACKET}|{THE_WORK}|hand over mechanic")
    wait, _, page = ran.out.partition("HAND-OVER.")
    assert "NOT BEFORE 20" in wait.rpartition("Wait 60 minutes before the operational check.")[2]
    assert "NOT BEFORE 20" in page
    assert "what it is on is not to be used before that either." in plain(wait), "the same time is not named twice"
    assert wait.rpartition("Wait 60 minutes")[2].count("60 minutes") == 0


# -- the last look


@pytest.mark.parametrize("source", ["file", "pipe"])
def test_where_nobody_can_look_again_the_last_look_is_told_and_takes_no_answer(walk: Walked, source: str) -> None:
    ran = walk(REL, "--as", "mechanic", answers=f"{TO_THE_BRACKET}|people here|stop", source=source)
    assert plain(ran.out).count(LAST_LOOK) == 1
    assert "If that was misread, it may be: Release cable free play too large;" in plain(ran.out)
    assert [move.kind for move in moves()][-2:] == [Kind.PEOPLE_HERE, Kind.STOP]


AT_A_TERMINAL = "\n".join(
    ["2", "1", *[""] * 4, "acknowledge", "Still held", "people here", *[""] * 3, "acknowledge", "2", "people here", "2"]
)
"""As `TO_THE_BRACKET`, with Enter between the warnings."""


def test_at_a_terminal_the_last_look_is_offered_until_it_was_taken(walk: Walked) -> None:
    typed = f"{AT_A_TERMINAL}|done|note by torch|fallback|0||people here|stop"
    ran = walk(REL, "--as", "mechanic", answers=typed, source="terminal")
    assert plain(ran.out).count(LAST_LOOK) == 3, "a note and the fallback do not take it"
    assert '"done" is asked for further on.' in ran.out
    assert [move.kind for move in moves()][-4:] == [Kind.NOTE, Kind.FALLBACK, Kind.PEOPLE_HERE, Kind.STOP]


def test_looking_again_goes_back_to_the_one_look_and_is_offered_for_another_answer_anew(walk: Walked) -> None:
    again = "look again|people here|Moves||back|people here|Moves|stop"
    ran = walk(REL, "--as", "mechanic", answers=f"{AT_A_TERMINAL}|{again}", source="terminal")
    assert Move(Kind.BACK, to="bracket") in moves()
    assert plain(ran.out).count(LAST_LOOK) == 2, "after looking again once more; taken, it is not offered again"


def test_an_end_without_work_gets_its_last_look(walk: Walked) -> None:
    answers = f"{AT_A_TERMINAL}||cannot|no part||"
    ran = walk(REL, "--as", "mechanic", answers=answers, source="terminal")
    before, _, end = ran.out.partition("OUT OF SERVICE.")
    assert "Next: Out of service. Before it, look once more." in before
    assert "To order: SKM-0437" in end
    assert ran.code == 0


# -- waits


@pytest.mark.parametrize("source", ["file", "pipe"])
def test_a_wait_that_the_clock_speaks_against_is_marked_where_nobody_can_be_asked(walk: Walked, source: str) -> None:
    answers = f"{TO_THE_BRACKET}|{THE_WORK}|waited|{PROVED}"
    ran = walk(REL, "--as", "mechanic", answers=answers, source=source)
    [waited] = [move for move in moves() if move.kind == Kind.WAITED]
    assert waited.text == CUT_SHORT
    assert "WAIT of 1 hour: said to be over before it was by the clock." in plain(ran.out)
    assert "the wait said to be over before it was by the clock;" in plain(ran.out)


def test_a_wait_that_is_over_is_not_marked(walk: Walked, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(line_mode, "now", lambda: sessions.now() + timedelta(minutes=61))
    ran = walk(REL, "--as", "mechanic", answers=f"{TO_THE_BRACKET}|{THE_WORK}|waited|{PROVED}")
    [waited] = [move for move in moves() if move.kind == Kind.WAITED]
    assert waited.text == ""
    assert "WAIT of 1 hour: said to be over. " in plain(ran.out)


# -- the fallback


def answers_after(text: str) -> list[str]:
    """The numbered answers after the last such text."""
    page = text.rpartition("Going on is your choice.")[2]
    return [line for line in page.splitlines() if line[:2].rstrip(".").isdigit() and line[1:3] == ". "]


def test_after_a_line_that_worked_handing_over_stands_first(walk: Walked) -> None:
    ran = walk(REL, answers="yes|fallback|1|no|open|hand over")
    assert answers_after(ran.out)[0] == "0. hand over - to the next person; the walk waits."
    assert ran.code == 0


def test_it_has_a_number_that_no_finding_has_and_goes_away_with_the_next_answer(walk: Walked) -> None:
    ran = walk(LAMP, "--library", str(SAMPLE), answers="Finch|acknowledge|fallback|1|unable dark|0", source="pipe")
    first, *findings = answers_after(ran.out.partition("Is the old cell")[0])
    assert first.startswith("0. hand over")
    assert findings[0].startswith("1. Lights")
    assert "there is no answer 0 here" in plain(ran.out).casefold() or '"0" can be a reading' in plain(ran.out)


def test_between_warnings_it_is_offered_before_going_on(walk: Walked) -> None:
    ran = walk(REL, answers="1|fallback|1|1|people here|fallback|1|1|hand over", source="terminal")
    assert plain(ran.out).count('"hand over", or "acknowledge", or Enter for the next one:') == 1
    assert ran.out.count("Enter for the next one:") == 2
    assert (ran.code, moves()[-1].kind) == (0, Kind.HAND_OVER)


def test_typing_its_number_hands_over(walk: Walked) -> None:
    ran = walk(REL, answers="yes|fallback|1|yes|0")
    assert (ran.code, moves()[-1].kind) == (0, Kind.HAND_OVER)


def test_no_line_that_worked_offers_nothing_more(walk: Walked) -> None:
    ran = walk(REL, answers="yes|fallback|0|stop")
    assert "0. hand over" not in ran.out
