"""`faulttree new`: a tree that passes every rule but for its blanks, and is never written over another file."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import jsonschema
import pytest
import yaml
from cli_runs import LAMP, ROOT, MakeLibrary, Run
from editor import Editor

from faulttree.cli import new
from faulttree.library import load_library, shipped_library
from faulttree.load.schema import schema_text
from faulttree.load.starter import LETTERS, short_name, written

SERVER = shutil.which("yaml-language-server")


def rules_of(run: Run, *words: str) -> set[str]:
    return {line.split()[2] for line in run("check", "--concise", *words).out.splitlines()}


@pytest.fixture
def inside(library: MakeLibrary, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of a copy of the sample, which is the current one."""
    folder = library()
    monkeypatch.chdir(folder)
    return folder


def test_only_blanks_are_left(run: Run, inside: Path) -> None:
    """In the sample, in the shipped library and in a new one; the second line of talk counts them."""
    ran = run("new", "lamp-is-dim")
    assert (ran.code, ran.out) == (0, "lamp-is-dim.yaml\n")
    text = (inside / "lamp-is-dim.yaml").read_text(encoding="utf-8")
    assert f"{text.count(' ___')} blanks" in ran.err
    checked = run("check", "--concise", "lamp-is-dim.yaml")
    assert checked.code == 1
    assert {line.split()[2] for line in checked.out.splitlines()} == {"blank-left:"}
    assert len(checked.out.splitlines()) == text.count(" ___")


def test_only_blanks_are_left_where_the_library_has_duties(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In the shipped library, whose first operational check of the crew has more warnings than go on one page."""
    shutil.copytree(shipped_library(), tmp_path / "trees")
    monkeypatch.chdir(tmp_path / "trees")
    assert run("new", "arm-is-loose").code == 0
    assert rules_of(run, "arm-is-loose.yaml") == {"blank-left:"}
    text = (tmp_path / "trees" / "arm-is-loose.yaml").read_text(encoding="utf-8")
    assert "# What remains to be done, one of: mount-unproved, " in text


def test_filled_in_it_is_sound(run: Run, inside: Path) -> None:
    run("new", "lamp-is-dim")
    path = inside / "lamp-is-dim.yaml"
    text = path.read_text(encoding="utf-8")
    pieces = text.split(" ___")
    filled = "".join(f"{piece} Text {at}" for at, piece in enumerate(pieces[:-1])) + pieces[-1]
    path.write_text(filled, encoding="utf-8")
    assert run("check", "lamp-is-dim.yaml").code == 0
    assert run("check", "--diff", "lamp-is-dim.yaml").out == ""
    assert run("walk", "lamp-is-dim", "--plain").code in (0, 2, 3)


def test_everything_given_is_in_it(run: Run, inside: Path) -> None:
    words = ("--symptom", "Lamp: dim, or off", "--equipment", "lamp", "--equipment", "no", "--urgency", "soon")
    more = ("--short", "LDM", "--author", "A. Fell #2", "--date", "2026-01-02")
    assert run("new", "lamp-is-dim.yaml", *words, *more).code == 0
    tree = load_library(inside).trees["lamp-is-dim"]
    told = (tree.symptom, tree.equipment, tree.urgency, tree.short, tree.author, tree.date)
    assert told == ("Lamp: dim, or off", ("lamp", "no"), "soon", "LDM", "A. Fell #2", "2026-01-02")
    read = yaml.safe_load((inside / "lamp-is-dim.yaml").read_text(encoding="utf-8"))
    assert read["equipment"] == ["lamp", "no"]


def test_a_library_from_an_empty_folder(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "empty"
    folder.mkdir()
    monkeypatch.chdir(folder)
    ran = run("new", "lamp-is-dim", "--with-library")
    assert ran.out.split() == ["library.yaml", "operational-checks.yaml", "lamp-is-dim.yaml"]
    assert rules_of(run) == {"blank-left:"}
    assert (folder / "schemas" / "tree.schema.json").read_text(encoding="utf-8") == schema_text("tree")
    for kind in ("library", "operational-checks"):
        data = yaml.load((folder / f"{kind}.yaml").read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)
        data.pop("date", None), data.pop("revision", None)
        jsonschema.validate(data, yaml.safe_load(schema_text(kind)))
    assert run("new", "other", "--with-library").code == 2


def test_the_schema_is_named_as_the_other_trees_do(run: Run, inside: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From the folder of the new file."""
    (inside / "below").mkdir()
    monkeypatch.chdir(inside / "below")
    assert run("new", "lamp-is-dim").out == "lamp-is-dim.yaml\n"
    first = (inside / "below" / "lamp-is-dim.yaml").read_text(encoding="utf-8").split("\n")[0]
    assert first == "# yaml-language-server: $schema=../tree.schema.json"
    assert not (inside / "schemas").exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((LAMP,), "is there already"),
        (("Lamp of mine",), "can be no name of a tree"),
        (("limits",), "can be no name of a tree"),
        (("../x",), "can be no name of a tree"),
        (("x", "--urgency", "son"), 'did you mean "soon"?'),
        (("x", "--short", "LMP"), f'is that of "{LAMP}.yaml"'),
        (("x", "--short", "LIO"), "can be no short name"),
        (("x", "--symptom", "a\x1bb"), "is no line of text"),
        (("x", "--date", "2026-13-01"), "is no date"),
    ],
)
def test_what_cannot_be_is_refused(words: tuple[str, ...], said: str, run: Run, inside: Path) -> None:
    """With nothing written."""
    before = {path: path.read_bytes() for path in inside.iterdir()}
    ran = run("new", *words)
    assert ran.code == 2
    assert said in " ".join(ran.err.split())
    assert {path: path.read_bytes() for path in inside.iterdir()} == before


def test_a_tree_elsewhere_in_the_library_is_not_doubled(
    run: Run, inside: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (inside / "below").mkdir()
    monkeypatch.chdir(inside / "below")
    assert f'there is a tree "{LAMP}"' in " ".join(run("new", LAMP).err.split())


def test_nobody_writes_into_the_shipped_library(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    ran = run("new", "lamp-is-dim")
    assert ran.code == 2
    assert "there is no library.yaml here or above" in ran.err


@pytest.mark.parametrize("words", [("check", "--fix"), ("release", LAMP, "--by", "B. Tarn")])
def test_nor_is_anything_in_it_mended_or_released(
    words: tuple[str, ...], run: Run, library: MakeLibrary, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A copy stands for the one that ships with the program, with something to mend and an author."""
    folder = library("status: draft  ", "author: A. Fell\nstatus: draft  ")
    path = folder / f"{LAMP}.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("[hot-lens, wrong-cell]", "[wrong-cell, hot-lens]"))
    before = path.read_text(encoding="utf-8")
    monkeypatch.setattr("faulttree.library.shipped_library", lambda: folder)
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    monkeypatch.chdir(elsewhere)
    ran = run(*words)
    assert ran.code == 2
    assert path.read_text(encoding="utf-8") == before
    assert "there is no library.yaml here or above" in ran.err


@pytest.mark.parametrize("day", ["20261125", "2026-13-01", "today"])
def test_a_date_is_written_in_one_way(day: str, run: Run, inside: Path) -> None:
    assert f'"{day}" is no date' in run("new", "lamp-is-dim", "--date", day).err


def test_a_folder_that_cannot_be_written(run: Run, inside: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", fails)
    monkeypatch.setattr(new, "load_library", lambda _, loaded=load_library: loaded(_))
    ran = run("new", "lamp-is-dim")
    assert ran.code == 2


def test_a_person_at_a_terminal_is_asked(run: Run, inside: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only what was not given; Enter leaves a blank."""
    answers = iter(["The lamp is dim\n", "\n", "sooner\n", "soon\n", "\n"])

    class Terminal:
        def isatty(self) -> bool:
            return True

        def readline(self) -> str:
            return next(answers)

    monkeypatch.setattr(new.sys, "stdin", Terminal())
    ran = run("new", "lamp-is-dim")
    assert ran.code == 0
    assert 'One of: soon. (Enter takes "soon") ' in ran.err
    assert 'There is no urgency "sooner"; did you mean "soon"?' in ran.err
    tree = load_library(inside).trees["lamp-is-dim"]
    assert (tree.symptom, tree.equipment, tree.urgency, tree.author) == ("The lamp is dim", ("___",), "soon", "___")
    given = ("--symptom", "a", "--equipment", "b", "--urgency", "soon", "--author", "c")
    ran = run("new", "lamp-is-out", *given)
    assert "?" not in ran.err


def test_as_many_blanks_are_told_as_check_lists(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Those of the shared files of a new library are listed with the tree, so they are counted too."""
    (tmp_path / "own").mkdir()
    monkeypatch.chdir(tmp_path / "own")
    told = run("new", "lamp-is-dim", "--with-library", "--symptom", "It is dim").err
    listed = run("check", "lamp-is-dim.yaml", "--concise").out.splitlines()
    own = [line for line in listed if line.startswith("lamp-is-dim.yaml")]
    assert 0 < len(own) < len(listed)
    assert f"{len(own)} blanks to be filled in, and {len(listed) - len(own)} in the shared files." in told


# -- pieces


@pytest.mark.parametrize(
    "text", ["a", "a: b", "- a", "a #b", "'a", '"a"', "no", "4.10", "a\\b", "[a]", "*a", "@a", "é → ü", "%", "{a: b}"]
)
def test_a_text_is_read_as_it_was_given(text: str) -> None:
    """By our reader and by another, with types guessed."""
    line = f"a: {written(text)}\n"
    assert yaml.load(line, Loader=yaml.BaseLoader) == {"a": text}
    if text != "4.10":
        assert yaml.safe_load(line) == {"a": text}


def test_short_names_are_free_and_of_the_right_letters() -> None:
    taken: set[str] = set()
    for _ in range(200):
        name = short_name("cot-will-not-lock", taken)
        assert name not in taken
        assert len(name) == 3
        assert set(name) <= set(LETTERS)
        taken.add(name)
    assert short_name("i-o-1", ())


# -- an editor


@pytest.fixture
def editor(inside: Path) -> Iterator[Editor]:
    if not SERVER:
        pytest.skip("yaml-language-server is not installed")
    editor = Editor([SERVER], inside)
    yield editor
    editor.close()


def test_an_editor_explains_and_checks_a_new_tree(run: Run, inside: Path, editor: Editor) -> None:
    """The real language server: nothing wrong, a key explained, a misspelt one told of."""
    (inside / "tree.schema.json").write_text(schema_text("tree"), encoding="utf-8")
    assert run("new", "lamp-is-dim").code == 0
    path = inside / "lamp-is-dim.yaml"
    text = path.read_text(encoding="utf-8")
    assert editor.diagnostics(path, text) == []
    assert "Read-back codes" in editor.hover(path, text[: text.index("short:")].count("\n") + 1, 2)
    wrong = text.replace("urgency:", "urgenci:")
    assert any("urgenci" in each["message"] for each in editor.diagnostics(inside / "other.yaml", wrong))


def test_the_editors_of_the_shipped_trees_find_the_schema() -> None:
    for path in (ROOT / "trees").glob("*.yaml"):
        first = path.read_text(encoding="utf-8").split("\n")[0]
        if "$schema=" in first:
            assert os.path.exists(path.parent / first.partition("$schema=")[2])
