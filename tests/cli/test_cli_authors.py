"""docs/for-authors.md: its commands are commands, its pieces are read, and its beginning can be followed."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest
import yaml
from cli_runs import LAMP, ROOT, MakeLibrary, Run

from faulttree.cli.main import COMMANDS, load_command
from faulttree.load.parse import load

PAGE = (ROOT / "docs" / "for-authors.md").read_text(encoding="utf-8")
LINES = [line.strip() for line in re.sub("```.*?```", "", PAGE, flags=re.DOTALL).split("\n") if line.startswith("    ")]
WRITTEN = [part.strip() for line in LINES for part in line.split(";") if part.strip().startswith("faulttree ")]
IN_CI = re.findall(
    r"^ +(?:- )?(?:run: )?(faulttree (?:check|compare) [^\n>]*)", "\n".join(PAGE.split("```yaml")[-1:]), re.M
)
PIECES = re.findall(r"```yaml\n(.*?)```", PAGE, re.DOTALL)


@pytest.mark.parametrize("line", [*WRITTEN, *IN_CI])
def test_a_command_is_one(line: str) -> None:
    """Its words fit its parser."""
    _, *words = shlex.split(line)
    name, *words = words[2:] if words[0] == "--library" else words
    assert name in {each for each, _ in COMMANDS}
    load_command(name)[0].parse(words)


def test_there_are_commands_and_pieces() -> None:
    assert len(WRITTEN) > 8
    assert len(IN_CI) == 3
    assert len(PIECES) == 6


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


@pytest.mark.skipif(not shutil.which("dot"), reason="the program dot is not installed")
def test_the_rest_can_be_followed_with_a_tree_that_is_written(
    run: Run, library: MakeLibrary, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In a repository as the page has it, with the sample in place of the tree of the page."""
    status = "status: draft                        # draft | released | withdrawn\n"
    base = tmp_path / "base"
    shutil.move(library(status, f"{status}author: A. Fell\n"), base / "lamps")
    for words in (
        ["init", "-q"],
        ["add", "."],
        ["-c", "user.name=A", "-c", "user.email=a@b.invalid", "commit", "-qm", "lamps"],
    ):
        subprocess.run(["git", "-C", str(base), *words], check=True, capture_output=True)
    monkeypatch.chdir(base / "lamps")
    for line in LINES[LINES.index("faulttree check") :]:
        if line == "cd ..":
            monkeypatch.chdir(base)
        elif line.startswith("faulttree "):
            words = line.replace("lamp-is-dark", LAMP).replace("--as crew", "--as user")
            ran = run(*shlex.split(words)[1:])
            assert ran.code == 0, (line, ran.err)
    assert (base / "drawings" / "index.html").is_file()
