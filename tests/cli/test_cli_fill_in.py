"""The blanks of a walk's end in line mode: asked for one by one, kept as notes, and never needed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from cli_runs import LAMP, SAMPLE, Ran

from faulttree.cli.main import main
from faulttree.journal import read_journal, summaries
from faulttree.journal.names import default_folder
from faulttree.keys import Kind, Move
from faulttree.sessions import shown

Walked = Callable[..., Ran]
NEW_CELL = "Finch|acknowledge|Lights|Flat|done|passed"
FOUND = "Cell voltage under load ___ V."


@pytest.fixture
def walk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Walked:
    """The walk of a new cell by answers parted by strokes, as the repairer."""

    def walked(answers: str, *words: str) -> Ran:
        (tmp_path / "answers").write_text(answers.replace("|", "\n") + "\n")
        lamp = (LAMP, "--library", str(SAMPLE), "--as", "repairer")
        code = main(["walk", "--plain", *lamp, *words, "--answers", str(tmp_path / "answers")])
        return Ran(code, *capsys.readouterr())

    return walked


def plain(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("practice", [False, True])
def test_what_is_typed_stands_in_the_draft_and_as_a_note_in_the_journal(walk: Walked, practice: bool) -> None:
    ran = walk(f"{NEW_CELL}|fill in|0.9 V|10", *(["--practice"] if practice else []))
    assert (ran.code, ran.err) == (0, "")
    asks, _, draft = plain(ran.out).rpartition("ENTRY DRAFT")
    assert "INCOMPLETE: 2 blanks are left." in asks
    word = "PRACTICE. " if practice else ""
    assert (
        f"Note, also found, fill in, or Enter to leave: fill in Cell voltage under load [___] V. {word}1 of 2." in asks
    )
    assert f"Lights [___] of 10. {word}2 of 2. What stands in [___] (no patient data), Enter or - leaves it: 10" in asks
    assert "FOUND: Cell voltage under load 0.9 V." in draft
    assert "WORDS, where it was so: Lights 10 of 10." in draft
    assert "INCOMPLETE" not in draft
    assert f'Filled in by repairer: "0.9 V", blank 1 of "{FOUND}"' in draft
    [summary] = summaries(default_folder(practice), include_ended=True)
    notes = [entry.move for entry in read_journal(summary.path).entries if entry.move.kind == Kind.NOTE]
    assert notes == [
        Move(Kind.NOTE, text="0.9 V", label=FOUND, line=1, to="found"),
        Move(Kind.NOTE, text="10", label="Lights ___ of 10.", line=1, to="proved"),
    ]
    _, again = shown(default_folder(practice), summary.id)
    assert again.ended
    assert [line.move for line in again.log[-2:]] == notes


def test_a_blank_may_be_left_and_nothing_is_recorded_of_it(walk: Walked) -> None:
    ran = walk(f"{NEW_CELL}|fill in|-|10")
    draft = plain(ran.out).rpartition("ENTRY DRAFT")[2]
    assert "FOUND: Cell voltage under load ___ (INCOMPLETE) V." in draft
    assert "INCOMPLETE: 1 blank is left." in draft
    [summary] = summaries(default_folder(), include_ended=True)
    assert [entry.move.text for entry in read_journal(summary.path).entries if entry.move.kind == Kind.NOTE] == ["10"]


def test_the_end_of_the_input_leaves_the_rest(walk: Walked) -> None:
    ran = walk(f"{NEW_CELL}|fill in|0.9 V")
    assert (ran.code, ran.err) == (0, "")


def test_before_the_end_it_is_no_word(walk: Walked) -> None:
    ran = walk("Finch|acknowledge|fill in")
    assert ran.code != 0
    assert '"fill in" is no answer here' in ran.err


def test_what_was_filled_in_before_stands_in_the_sentence_of_the_next(walk: Walked) -> None:
    ran = walk(f"{NEW_CELL}|fill in|0.9 V|10|fill in|0.8 V")
    assert "Cell voltage under load [___] V. 1 of 2. What stands in [___] (no patient data; now: 0.9 V)" in plain(
        ran.out
    )
    assert "FOUND: Cell voltage under load 0.8 V." not in plain(ran.out), "the input ended before the page"
