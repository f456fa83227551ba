"""docs/for-authors.md: its commands are commands, its pieces are read, and its beginning can be followed."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest
import yaml
from cli_runs import ROOT, Run

from faulttree.cli.main import COMMANDS, load_command
from faulttree.load.parse import load

LAMPS = ROOT / "docs" / "lamps"
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
    assert len(PIECES) == 7


@pytest.mark.parametrize("piece", PIECES)
def test_a_piece_is_yaml(piece: str) -> None:
    """To an author's editor, and those of trees to the program."""
    assert yaml.safe_load(piece)
    if "cases:" in piece or "findings:" in piece:
        assert load(piece.encode(), "piece.yaml").problems == ()


def test_pieces_of_shared_files_are_those_of_the_finished_library() -> None:
    """What the page shows of a file stands in it, so that it is read and judged as the library is."""
    for piece in PIECES:
        kind = re.match(r"# yaml-language-server: \$schema=schemas/([a-z-]+)\.schema\.json\n", piece)
        if kind:
            finished = (LAMPS / f"{kind[1]}.yaml").read_text(encoding="utf-8")
            assert finished == piece.replace("schemas/", "../../faulttree/load/schemas/")
    library = yaml.safe_load((LAMPS / "library.yaml").read_text(encoding="utf-8"))
    [piece] = (yaml.safe_load(each) for each in PIECES if each.startswith("open_items:"))
    assert piece["open_items"] == library["open_items"]
    assert {name: {**each, "sections": {}} for name, each in piece["documents"].items()} == {
        name: {**each, "sections": {}} for name, each in library["documents"].items()
    }
    tree = yaml.safe_load((LAMPS / "lamp-is-dark.yaml").read_text(encoding="utf-8"))
    [piece] = (yaml.safe_load(each) for each in PIECES if each.startswith("cases:"))
    assert piece["cases"] == tree["cases"]


def test_the_finished_library_has_no_problem(run: Run) -> None:
    ran = run("check", str(LAMPS), "--strict")
    assert (ran.code, ran.err) == (0, "")
    assert run("check", str(LAMPS), "--diff").code == 0


@pytest.mark.skipif(not shutil.which("dot") or not shutil.which("git"), reason="needs the programs dot and git")
def test_the_page_can_be_followed(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every line as it stands, from the empty folder on; after the first check the files are filled in as on the page.

    At the end the tree is released and the next one begun, which has nothing but blanks.
    """
    for name, value in {"AUTHOR_NAME": "A", "AUTHOR_EMAIL": "a@b.invalid"}.items():
        monkeypatch.setenv(f"GIT_{name}", value)
        monkeypatch.setenv(f"GIT_{name.replace('AUTHOR', 'COMMITTER')}", value)
    folder = tmp_path
    monkeypatch.chdir(folder)
    checks = 0
    for words in (shlex.split(part) for line in LINES for part in re.split(r"; (?=git|mkdir|cd)", line)):
        if words[0] == "cd":
            folder = (folder / words[1]).resolve()
            monkeypatch.chdir(folder)
        elif words[0] in ("git", "mkdir"):
            subprocess.run(words, check=True, capture_output=True)
        else:
            assert words[0] == "faulttree"
            ran = run(*words[1:])
            checks += words[1] == "check"
            first = checks == 1 and words[1] == "check"
            assert ran.code == (1 if first else 0), (words, ran.err)
            if first:
                assert set(re.findall(r"error ([a-z-]+):", ran.out)) == {"blank-left"}
                for file in LAMPS.glob("*.yaml"):
                    text = file.read_text(encoding="utf-8").replace("../../faulttree/load/schemas/", "schemas/")
                    (folder / file.name).write_text(text, encoding="utf-8")
    assert (tmp_path / "base" / "drawings" / "index.html").is_file()
    assert "status: released\nreleased:" in (tmp_path / "base/lamps/lamp-is-dark.yaml").read_text(encoding="utf-8")
    ran = run("check", "lamps", "--concise")
    assert {line.split()[2] for line in ran.out.splitlines()} == {"blank-left:"}
    assert {line.split(":")[0] for line in ran.out.splitlines()} == {"lamps/lamp-is-dim.yaml"}
