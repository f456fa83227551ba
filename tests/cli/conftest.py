"""What tests of the command line share: running a command in this process, and libraries with something changed."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from cli_runs import LAMP, ROOT, SAMPLE, MakeLibrary, Ran, Run

from faulttree.cli.main import main


@pytest.fixture(autouse=True)
def plain_surroundings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """80 columns, no colour, no library by environment, and all the user's folders below a temporary one."""
    for name in ("FAULTTREE_LIBRARY", "NO_COLOR", "FORCE_COLOR", "TERM"):
        monkeypatch.delenv(name, raising=False)
    for name in ("DATA", "STATE", "CACHE", "CONFIG"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / "home" / name.lower()))
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.chdir(ROOT)


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs a command in this process."""

    def ran(*words: str) -> Ran:
        capsys.readouterr()
        code = main(list(words))
        written = capsys.readouterr()
        return Ran(code, written.out, written.err)

    return ran


@pytest.fixture
def library(tmp_path: Path) -> MakeLibrary:
    """Makes a copy of the sample with one text of one file replaced by another."""

    def made(old: str = "", new: str = "", file: str = f"{LAMP}.yaml") -> Path:
        folder = tmp_path / "library"
        shutil.copytree(SAMPLE, folder, dirs_exist_ok=True)
        text = (folder / file).read_text(encoding="utf-8")
        assert old in text
        (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")
        return folder

    return made
