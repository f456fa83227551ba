"""Trees that lead on to another: its symptom stands with its id, with a command that begins it."""

from __future__ import annotations

import io
import shlex
import sys
from pathlib import Path

import pytest
from leading import FIRST, OTHER, leading_library

from faulttree.cli.main import main

TO_A_NEW_CELL = "acknowledge\ndone\npassed\n"
PASSED = f"Finch\nacknowledge\nLights\n1.0 V\n{TO_A_NEW_CELL}"
ENDED = "Finch\nacknowledge\nLights\nunable: no meter\nFilm\n"


@pytest.fixture
def library(tmp_path, monkeypatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("COLUMNS", "80")
    return leading_library(tmp_path / "lamps of the base")


@pytest.fixture
def run(capsys, monkeypatch):
    """A command with what is typed; its exit code and output."""

    def run(typed: str, *words: str) -> tuple[int, str]:
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        code = main(list(words))
        return code, capsys.readouterr().out

    return run


def test_the_library_is_sound(run, library) -> None:
    code, out = run("", "check", str(library))
    assert (code, "error" in out) == (0, False), out


@pytest.mark.parametrize(("typed", "word"), [(PASSED, "Then walk"), (ENDED, "Walk")])
def test_line_mode_says_the_symptom_and_a_command_that_begins_it(run, library, typed, word) -> None:
    code, out = run(typed, "walk", FIRST, "--as", "repairer", "--library", str(library))
    assert code == 0
    assert f"\n{word}: The lamp flickers (tree {OTHER}).\n" in out
    command = next(line for line in out.splitlines() if line.startswith("Begin it by: ")).partition(": ")[2]
    program, *words = shlex.split(command)
    assert program == "faulttree"
    code, out = run("Finch\nstop\n", *words)
    assert code == 3
    assert "The lamp flickers." in out


def test_the_library_in_use_is_not_named_and_practice_goes_on(run, library, monkeypatch) -> None:
    monkeypatch.setenv("FAULTTREE_LIBRARY", str(library))
    _, out = run(PASSED, "walk", FIRST, "--as", "repairer", "--practice")
    assert f"Begin it by: faulttree walk {OTHER} --practice\n" in out


def test_a_tree_that_is_no_more_has_its_id_alone(run, library) -> None:
    """It was there when the walk began: the walk goes on without it, and names no command that would fail."""
    in_it = ("--as", "repairer", "--library", str(library))
    _, out = run("Finch\nacknowledge\nLights\n1.0 V\nstop\n", "walk", FIRST, *in_it)
    (library / f"{OTHER}.yaml").unlink()
    code, out = run(f"yes\n{TO_A_NEW_CELL}", "walk", "--resume", out.split("--resume ")[1].strip(), *in_it)
    assert code == 0
    assert f"Then walk the tree {OTHER}." in out
    assert "Begin it by" not in out
