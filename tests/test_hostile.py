"""Every command over every hostile file: no traceback, a promised exit code, nothing that acts on a terminal."""

from __future__ import annotations

import io
import os
import shutil
from pathlib import Path

import pytest
from hostile import LAMP, SAMPLE, contents, strange_entries, texts

from faulttree.cli.main import main
from faulttree.visible import visible

CODES = (0, 1, 2, 3)
HEAVY = {"10,000 steps", "many items", "many keys", "one key of a megabyte", "one line of a megabyte"}
"""Files that take seconds to read; they are met once, as a tree."""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the sample, with the user's folders beside it and nobody at the keyboard."""
    for name in ("DATA", "STATE", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("FAULTTREE_LIBRARY", raising=False)
    monkeypatch.setenv("COLUMNS", "60")
    return Path(shutil.copytree(SAMPLE, tmp_path / "library"))


def commands(library: Path, file: Path) -> list[list[str]]:
    """Every command that reads files, with the file and its library."""
    named = ["--library", str(library)]
    return [
        ["check", str(file), "--explore", "-v"],
        ["check", str(library), "--format", "json", "--explore"],
        ["check", str(library), "--concise"],
        ["check", str(file), "--format", "sarif"],
        ["check", str(file), "--format", "junit"],
        ["check", str(library), "--diff"],
        ["symptoms", "lamp", "dark", *named],
        ["symptoms", "--format", "json", *named],
        ["ways", file.stem, "--limit", "1", *named],
        ["ways", str(file), "--limit", "1", *named],
        ["draw", str(file), "--format", "dot", "-o", "-", *named],
        ["draw", str(file), "--format", "list", "-o", "-", *named],
        ["walk", file.stem, "--plain", *named],
        ["compare", str(SAMPLE), str(library)],
        ["compare", str(file), str(SAMPLE / "lamp-does-not-light.yaml"), *named],
        ["release", str(file), "--by", "Finch", *named],
        ["new", "lamp-flickers", *named],
        ["where", *named],
        ["check", str(library), "--fix", "--format", "github"],
    ]


def once_each(every: list[list[str]]) -> list[list[str]]:
    """Each command once, and the longest form of check: what is heavy takes seconds in each of its forms."""
    firsts = {words[0]: words for words in reversed(every)}
    return [*firsts.values(), *(words for words in every if "sarif" in words)]


def ends_well(words: list[str], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Run it with a few answers on stdin; look at its code and at what it wrote."""
    monkeypatch.setattr("sys.stdin", io.StringIO("1\n2\n\nback\nunable\nnote x\nstop\n"))
    capsys.readouterr()
    code = main(words)
    ran = capsys.readouterr()
    assert code in CODES, words
    for written in (ran.out, ran.err):
        assert "Traceback" not in written
        assert "something went wrong" not in written, words
        assert visible(written) == written


@pytest.mark.parametrize("name", [pytest.param(each, marks=[pytest.mark.long] * (each in HEAVY)) for each in contents])
def test_a_hostile_tree(
    name: str, folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """As one tree more in a sound library."""
    file = folder / "hostile.yaml"
    file.write_bytes(contents[name])
    for words in once_each(commands(folder, file)) if name in HEAVY else commands(folder, file):
        ends_well(words, capsys, monkeypatch)


@pytest.mark.parametrize("file", ["library.yaml", "limits.yaml"])
@pytest.mark.parametrize("name", [each for each in contents if each not in HEAVY])
def test_a_hostile_shared_file(
    name: str, file: str, folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """As one of the shared files that all trees need."""
    (folder / file).write_bytes(contents[name])
    named = ["--library", str(folder)]
    for words in (["check", str(folder)], ["symptoms", *named], ["ways", LAMP.stem, "--limit", "1", *named]):
        ends_well(words, capsys, monkeypatch)


def test_strange_entries_of_a_folder(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    strange_entries(folder)
    for entry in sorted(os.listdir(folder)):
        for words in commands(folder, folder / entry):
            ends_well(words, capsys, monkeypatch)


@pytest.mark.parametrize("name", texts)
def test_hostile_words(
    name: str, folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same texts as words of every command and as values of its options."""
    text = texts[name]
    named = ["--library", str(folder)]
    for words in (
        [text],
        ["help", text],
        ["check", text],
        ["check", "--format", text],
        ["check", "--select", text, *named],
        ["new", text, *named],
        ["new", "one", "--symptom", text, "--equipment", text, "--author", text, "--short", text, *named],
        ["symptoms", *named, "--", text],
        ["explain", text],
        ["ways", text, *named],
        ["ways", "lamp-does-not-light", "--as", text, *named],
        ["ways", "lamp-does-not-light", "--model", text, *named],
        ["ways", "lamp-does-not-light", "--limit", text, *named],
        ["draw", text, "--format", "list", "-o", "-", *named],
        ["draw", "lamp-does-not-light", "--as", text, "--format", "list", "-o", "-", *named],
        ["draw", "lamp-does-not-light", "--model", text, "--format", "list", "-o", "-", *named],
        ["draw", "lamp-does-not-light", "--against", text, "--format", "list", "-o", "-", *named],
        ["draw", "lamp-does-not-light", "--format", "svg", "--dot", text, "-o", "-", *named],
        ["draw", "lamp-does-not-light", "--format", "dot", "-o", f"{folder.parent}/out/x{text[:40]}", *named],
        ["walk", text, "--plain", *named],
        ["walk", "--readback", text, *named],
        ["walk", "--resume", text, *named],
        ["walk", "--answers", text, *named],
        ["walk", "lamp-does-not-light", "--plain", "--aircraft", text, "--item", text, "--base", text, *named],
        ["schema", text],
        ["completion", text],
        ["where", "--library", text],
        ["--library", text, "symptoms"],
        ["--color", text, "version"],
    ):
        ends_well(words, capsys, monkeypatch)


@pytest.mark.parametrize("name", ["schema"])
def test_a_hostile_folder_to_write_into(
    name: str, folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Names of folders that are odd are taken as they are, below the current folder."""
    monkeypatch.chdir(folder)
    for text in texts.values():
        if text and not text.startswith(".."):
            ends_well([name, "tree", f"--output={text}"], capsys, monkeypatch)
