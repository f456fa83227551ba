"""The files of a library's folder: which are refused, which cannot be read, how they are named in problems."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from faulttree.library import (
    load_library,
    load_tree,
)
from faulttree.problems import ERROR, WARNING, Problem, UnreadableError

SAMPLE = Path(__file__).parent / "sample"
LAMP = "lamp-does-not-light"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the sample library in `here/lib`, with `here` as the current folder."""
    here = tmp_path / "here"
    shutil.copytree(SAMPLE, here / "lib")
    monkeypatch.chdir(here)
    return here / "lib"


def told(problems: tuple[Problem, ...]) -> list[tuple[str, str]]:
    return [(problem.file, problem.rule) for problem in problems]


def add_tree(path: Path, id: str, **changes: str) -> None:
    """A copy of the lamp's tree with another id and these texts replaced."""
    text = (SAMPLE / f"{LAMP}.yaml").read_text().replace(f"id: {LAMP}", f"id: {id}")
    for before, after in changes.items():
        text = text.replace(before, after)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text)


# -- what is refused


def test_links_that_lead_out_of_the_library_are_refused(folder: Path) -> None:
    outside = folder.parent / "outside"
    add_tree(outside / "far.yaml", "far")
    (folder / "far.yaml").symlink_to(outside / "far.yaml")
    (folder / "more").symlink_to(outside)
    (folder / "notices.yaml").rename(outside / "notices.yaml")
    (folder / "notices.yaml").symlink_to(outside / "notices.yaml")
    loaded = load_library(folder)
    assert told(loaded.problems) == [
        ("lib/far.yaml", "file-refused"),
        ("lib/more", "file-refused"),
        ("lib/notices.yaml", "file-refused"),
    ]
    assert loaded.library is None


def test_links_inside_the_library_are_followed(folder: Path) -> None:
    (folder / "real").mkdir()
    (folder / f"{LAMP}.yaml").rename(folder / "real" / f"{LAMP}.txt")
    (folder / "lamp.yaml").symlink_to(folder / "real" / f"{LAMP}.txt")
    (folder / "loop").symlink_to(folder)
    loaded = load_library(folder)
    assert loaded.problems == ()
    assert loaded.tree_files == {LAMP: "lib/lamp.yaml"}


def test_a_library_that_is_reached_by_a_link_is_read(folder: Path) -> None:
    link = folder.parent / "link"
    link.symlink_to(folder)
    assert list(load_library(link).trees) == [LAMP]


def test_what_is_no_regular_file_is_refused(folder: Path) -> None:
    os.mkfifo(folder / "pipe.yaml")
    (folder / "gone.yaml").symlink_to(folder / "nothing.yaml")
    (folder / "round.yaml").symlink_to(folder / "round.yaml")
    loaded = load_library(folder)
    assert told(loaded.problems) == [
        ("lib/gone.yaml", "file-refused"),
        ("lib/pipe.yaml", "file-refused"),
        ("lib/round.yaml", "file-refused"),
    ]
    assert list(loaded.trees) == [LAMP]


def test_shared_files_in_a_folder_below_are_misplaced(folder: Path) -> None:
    (folder / "more").mkdir()
    shutil.copy(folder / "notices.yaml", folder / "more")
    assert told(load_library(folder).problems) == [("lib/more/notices.yaml", "file-misplaced")]


def test_hidden_trees_are_not_read_but_told_of(folder: Path) -> None:
    add_tree(folder / ".draft.yaml", "draft")
    add_tree(folder / ".attic" / "old.yaml", "old")
    add_tree(folder / "more" / ".attic" / "older.yaml", "older")
    (folder / ".attic" / "workflow.yaml").write_text("on: push\n")
    (folder / ".git").mkdir()
    loaded = load_library(folder)
    assert list(loaded.trees) == [LAMP]
    assert [(each.file, each.rule, each.severity) for each in loaded.problems] == [
        ("lib/.attic/old.yaml", "file-hidden", WARNING),
        ("lib/.draft.yaml", "file-hidden", WARNING),
        ("lib/more/.attic/older.yaml", "file-hidden", WARNING),
    ]


def test_trees_that_end_otherwise_are_not_read_but_told_of(folder: Path) -> None:
    add_tree(folder / "old.yml", "old")
    add_tree(folder / "more" / "OLDER.YAML", "older")
    add_tree(folder / "more" / f"{LAMP}.yml", "oldest")
    shutil.copy(folder / f"{LAMP}.yaml", folder / "more" / f"{LAMP}.yaml")
    (folder / "notices.yml").symlink_to(folder / "notices.yaml")
    add_tree(folder / ".attic" / "hidden.yml", "hidden")
    loaded = load_library(folder)
    told_of = [(each.file, each.rule, each.severity) for each in loaded.problems if each.rule != "id-taken"]
    assert told_of == [
        ("lib/.attic/hidden.yml", "file-hidden", WARNING),
        ("lib/more/OLDER.YAML", "file-suffix", WARNING),
        (f"lib/more/{LAMP}.yml", "file-suffix", WARNING),
        ("lib/notices.yml", "file-suffix", WARNING),
        ("lib/old.yml", "file-suffix", WARNING),
    ]
    assert list(loaded.trees) == [LAMP]
    words = {each.file: (each.message, each.help) for each in loaded.problems}
    assert words["lib/old.yml"] == ('"old.yml" ends in .yml and is not read', 'rename it to "old.yaml"')
    assert words["lib/more/OLDER.YAML"][1] == 'rename it to "OLDER.yaml"'
    assert words[f"lib/more/{LAMP}.yml"][1] == (
        f'give it another name that ends in .yaml, for there is a "{LAMP}.yaml", or delete it'
    )


def test_other_files_that_end_otherwise_are_passed_by(folder: Path) -> None:
    (folder / "workflow.yml").write_text("on: push\nx: faulttree: 1\n")
    (folder / "long.yml").write_text("# x\n" * 200 + "faulttree: 1\n")
    (folder / "notes.txt").write_text("faulttree: 1\n")
    (folder / "folder.yml").mkdir()
    (folder / "gone.yml").symlink_to(folder / "nothing.yml")
    os.mkfifo(folder / "pipe.yml")
    add_tree(folder / "another" / "tree.yml", "tree")
    shutil.copy(folder / "library.yaml", folder / "another")
    assert load_library(folder).problems == ()


def test_problems_with_files_have_a_help(folder: Path) -> None:
    os.mkfifo(folder / "pipe.yaml")
    (problem,) = load_library(folder).problems
    assert (problem.severity, problem.message) == (ERROR, '"pipe.yaml" is no regular file')
    assert problem.help == "delete it or rename it"


# -- what cannot be read


def test_a_folder_without_library_yaml_is_unreadable(tmp_path: Path) -> None:
    with pytest.raises(UnreadableError, match=r"there is no library\.yaml"):
        load_library(tmp_path)
    with pytest.raises(UnreadableError, match="cannot be read: no such file or directory"):
        load_library(tmp_path / "nowhere")


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may read everything")
def test_a_file_without_permission_is_unreadable(folder: Path) -> None:
    (folder / "tools.yaml").chmod(0)
    with pytest.raises(UnreadableError, match=r'"lib/tools\.yaml" cannot be read: permission denied'):
        load_library(folder)


def test_a_file_that_cannot_be_opened_is_unreadable(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(path: Path, *_: object) -> None:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(UnreadableError, match=r'"lib/library\.yaml" cannot be read: permission denied') as caught:
        load_library(folder)
    assert caught.value.advice == "check its name and permissions"


# -- how files are named


def test_files_are_named_from_the_current_folder(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def names() -> list[str]:
        return sorted(load_tree(folder, LAMP).tree_files.values())

    assert names() == [f"lib/{LAMP}.yaml"]
    (folder / "more").mkdir()
    monkeypatch.chdir(folder / "more")
    assert names() == [f"../{LAMP}.yaml"]
    monkeypatch.chdir("/")
    assert names() == [(folder / f"{LAMP}.yaml").relative_to("/").as_posix()]
    (folder.parent.parent / "elsewhere").mkdir()
    monkeypatch.chdir(folder.parent.parent / "elsewhere")
    assert names() == [(folder / f"{LAMP}.yaml").as_posix()]


def test_a_current_folder_that_is_gone_is_no_reason_to_stop(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    gone = folder.parent / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    assert load_library(folder).tree_files == {LAMP: (folder / f"{LAMP}.yaml").as_posix()}
    monkeypatch.chdir(folder)
