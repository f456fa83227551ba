"""docs/for-authors.md: its commands are commands, its pieces are read, and its beginning can be followed."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
import yaml
from cli_runs import ROOT, Run

from faulttree.cli.main import COMMANDS, load_command
from faulttree.load.parse import load

PAGE = (ROOT / "docs" / "for-authors.md").read_text(encoding="utf-8")
LINES = [line.strip() for line in PAGE.split("\n") if line.startswith("    ")]
WRITTEN = [part.strip() for line in LINES for part in line.split(";") if part.strip().startswith("faulttree ")]
IN_CI = re.findall(r"run: (faulttree [^\n>]*)", PAGE)
PIECES = re.findall(r"```yaml\n(.*?)```", PAGE, re.DOTALL)


@pytest.mark.parametrize("line", [*WRITTEN, *IN_CI])
def test_a_command_is_one(line: str) -> None:
    """Its words fit its parser."""
    _, name, *words = shlex.split(line)
    assert name in {each for each, _ in COMMANDS}
    load_command(name)[0].parse(words)


def test_there_are_commands_and_pieces() -> None:
    assert len(WRITTEN) > 8
    assert len(IN_CI) == 3
    assert len(PIECES) == 4


@pytest.mark.parametrize("piece", PIECES)
def test_a_piece_is_yaml(piece: str) -> None:
    """To an author's editor, and those of trees to the program."""
    assert yaml.safe_load(piece)
    if "cases:" in piece or "findings:" in piece:
        assert load(piece.encode(), "piece.yaml").problems == ()


def test_the_beginning_can_be_followed(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Both trees are begun, and only blanks are told of."""
    monkeypatch.chdir(tmp_path)
    for line in (each for each in WRITTEN if each.startswith("faulttree new ")):
        assert run(*shlex.split(line)[1:]).code == 0
    ran = run("check", "--concise")
    assert ran.code == 1
    assert {line.split()[2] for line in ran.out.splitlines()} == {"blank-left:"}
