"""A program that is begun before its input is there: it gives what it makes, and is never left running."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

import pytest
from cli_runs import LAMP, MakeLibrary, Run

from faulttree.cli import running
from faulttree.cli.drawing import Layout
from faulttree.cli.running import Running
from faulttree.problems import UnreadableError

UPPER = [sys.executable, "-c", "import sys; sys.stdout.write(sys.stdin.read().upper())"]
SLEEPS = [sys.executable, "-c", "import sys, time; sys.stdin.read(); time.sleep(600)"]
FAILS = [sys.executable, "-c", "import sys; sys.stdin.read(); sys.exit('no such layout')"]


def is_there(process: int) -> bool:
    """Whether a process of ours runs, or has ended and nobody has asked how."""
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


def test_it_gives_what_it_makes_of_more_than_a_pipe_holds() -> None:
    text = b"abc" * 100_000
    assert Running(UPPER).finish(text) == text.upper()


def test_what_is_not_wanted_any_more_is_ended() -> None:
    begun = Running(UPPER)
    number = begun._process.pid
    assert is_there(number)
    begun.end()
    assert not is_there(number)
    begun.end()


def test_what_takes_too_long_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(running, "SECONDS", 0.2)
    begun = Running(SLEEPS)
    with pytest.raises(UnreadableError, match="took longer than"):
        begun.finish(b"")
    assert not is_there(begun._process.pid)


def test_what_fails_says_what_it_said() -> None:
    with pytest.raises(UnreadableError, match="could not draw it: no such layout"):
        Running(FAILS).finish(b"x")


def test_what_is_no_program_is_told_when_begun(tmp_path: Path) -> None:
    with pytest.raises(UnreadableError, match="cannot be run: no such file"):
        Running([str(tmp_path / "none")])


@pytest.mark.skipif(not shutil.which("dot"), reason="the program dot is not installed")
def test_the_layout_is_begun_once_and_ended_where_nothing_is_drawn() -> None:
    with Layout(None, "A3") as layout:
        layout.begin()
        begun = layout._begun
        layout.begin()
        assert begun is not None
        assert layout._begun is begun
    assert not is_there(begun._process.pid)


@pytest.mark.skipif(not shutil.which("dot"), reason="the program dot is not installed")
def test_a_drawing_that_is_refused_leaves_nothing_running(
    run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The program is begun before it is known whether there is such a model."""
    begun: list[Running] = []
    real = Running.__init__

    def noted(self: Running, command: list[str]) -> None:
        real(self, command)
        begun.append(self)

    monkeypatch.setattr(Running, "__init__", noted)
    ran = run("--library", str(library()), "draw", LAMP, "--model", "Heron")
    assert (ran.code, len(begun)) == (2, 1)
    assert "Heron" in ran.err
    assert not is_there(begun[0]._process.pid)
