"""Libraries on disk: which is in use, all of it or one tree loaded, and how little a listing needs."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from faulttree import library as shell
from faulttree.library import (
    find_library,
    list_headers,
    load_library,
    load_tree,
    shipped_library,
    tree_path,
)
from faulttree.problems import Problem, UnreadableError, UsageError

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


# -- which library


def test_the_library_that_is_named_comes_first(folder: Path) -> None:
    environ = {"FAULTTREE_LIBRARY": str(SAMPLE)}
    assert find_library(str(folder), environ, SAMPLE) == folder
    assert find_library("lib", {}, folder.parent) == folder
    assert find_library("lib/library.yaml", {}, folder.parent) == folder


def test_then_the_one_of_the_environment(folder: Path) -> None:
    assert find_library(None, {"FAULTTREE_LIBRARY": str(SAMPLE)}, folder) == SAMPLE
    assert find_library(None, {"FAULTTREE_LIBRARY": "lib"}, folder.parent) == folder
    assert find_library(None, {"FAULTTREE_LIBRARY": ""}, folder) == folder


def test_then_the_nearest_upward(folder: Path) -> None:
    deep = folder / "mounts" / "rails"
    deep.mkdir(parents=True)
    assert find_library(None, {}, deep) == folder
    shutil.copy(folder / "library.yaml", folder / "mounts")
    assert find_library(None, {}, deep) == folder / "mounts"


def test_then_the_shipped_one(tmp_path: Path) -> None:
    found = find_library(None, {}, tmp_path)
    assert found == shipped_library()
    assert (found / "library.yaml").is_file()


def test_the_shipped_library_of_a_wheel_stands_in_the_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "faulttree"
    monkeypatch.setattr("importlib.resources.files", lambda name: package)
    with pytest.raises(UnreadableError, match="that ships with the program is not there"):
        shipped_library()
    shutil.copytree(SAMPLE, tmp_path / "trees")
    assert shipped_library() == tmp_path / "trees"
    shutil.copytree(SAMPLE, package / "_trees")
    assert shipped_library() == package / "_trees"


@pytest.mark.parametrize("name", ["nowhere", "tools.yaml", "a\0b", ""])
def test_a_named_folder_that_is_no_library_is_refused_with_advice(folder: Path, name: str) -> None:
    with pytest.raises(UnreadableError, match=r"there is no library\.yaml") as caught:
        find_library(name, {}, folder.parent)
    assert "--library" in caught.value.advice
    with pytest.raises(UnreadableError) as caught:
        find_library(None, {"FAULTTREE_LIBRARY": "nowhere"}, folder.parent)
    assert "FAULTTREE_LIBRARY" in caught.value.advice


# -- all of it


def test_the_sample_is_loaded_whole(folder: Path) -> None:
    loaded = load_library(folder)
    assert loaded.problems == ()
    assert loaded.folder == folder
    assert loaded.library is not None
    assert list(loaded.library.roles) == ["user", "repairer"]
    assert list(loaded.trees) == [LAMP]
    assert loaded.tree_files == {LAMP: f"lib/{LAMP}.yaml"}
    assert loaded.tree_names == {LAMP}
    assert sorted(loaded.files) == [f"lib/{path.name}" for path in sorted(SAMPLE.glob("*.yaml"))]
    lamp = loaded.files[f"lib/{LAMP}.yaml"]
    assert lamp.text == (SAMPLE / f"{LAMP}.yaml").read_text()
    assert lamp.path == folder / f"{LAMP}.yaml"
    assert lamp.is_sound


def test_trees_stand_in_folders_below_too_in_the_order_of_their_paths(folder: Path) -> None:
    add_tree(folder / "b" / "two.yaml", "two")
    add_tree(folder / "a" / "deep" / "one.yaml", "one")
    (folder / "a" / "notes.txt").write_text("no tree")
    (folder / "a" / "old.yml").write_text("no tree")
    loaded = load_library(folder)
    assert loaded.problems == ()
    assert list(loaded.trees) == ["one", "two", LAMP]
    assert loaded.tree_files["one"] == "lib/a/deep/one.yaml"


def test_a_folder_with_a_library_of_its_own_is_another_library(folder: Path) -> None:
    shutil.copytree(SAMPLE, folder / "other")
    assert list(load_library(folder).trees) == [LAMP]


def test_two_trees_of_one_id_are_reported_at_the_second(folder: Path) -> None:
    add_tree(folder / "z.yaml", LAMP)
    loaded = load_library(folder)
    assert told(loaded.problems) == [("lib/z.yaml", "id-taken")]
    assert loaded.problems[0].span.line == 3
    assert f'"lib/{LAMP}.yaml"' in loaded.problems[0].message
    assert loaded.tree_files == {LAMP: f"lib/{LAMP}.yaml"}


def test_the_problems_of_all_files_come_in_one_run_in_order(folder: Path) -> None:
    (folder / "tools.yaml").write_text("faulttree: 1\ntools: {key: {is: Key, is: Key}}\n")
    (folder / "parts.yaml").write_text("faulttree: 1\nparts: {P: {iss: Cell}}\n")
    add_tree(folder / "bad.yaml", "bad", revision="revisoin")
    add_tree(folder / "worse.yaml", "worse", **{"symptom:": "symptom: ]"})
    loaded = load_library(folder)
    assert (loaded.library, loaded.trees) == (None, {})
    assert {file for file, _ in told(loaded.problems)} == {
        "lib/bad.yaml",
        "lib/parts.yaml",
        "lib/tools.yaml",
        "lib/worse.yaml",
    }
    assert list(loaded.problems) == sorted(loaded.problems, key=Problem.order)
    assert not loaded.files["lib/tools.yaml"].is_sound
    assert loaded.files["lib/worse.yaml"].root is None


def test_an_empty_value_is_reported_once(folder: Path) -> None:
    add_tree(folder / "bad.yaml", "bad", **{"urgency: soon": "urgency:"})
    (folder / "tools.yaml").write_text("faulttree: 1\ntools: {key: {is: }}\n")
    loaded = load_library(folder)
    assert told(loaded.problems) == [("lib/bad.yaml", "yaml-empty"), ("lib/tools.yaml", "yaml-empty")]


def test_a_broken_tree_does_not_stop_the_others(folder: Path) -> None:
    (folder / "bad.yaml").write_bytes(b"\xff\xfe")
    loaded = load_library(folder)
    assert list(loaded.trees) == [LAMP]
    assert told(loaded.problems) == [("lib/bad.yaml", "yaml-not-utf8")]


def test_a_file_that_is_too_large_is_not_read_whole(folder: Path) -> None:
    with (folder / "big.yaml").open("wb") as file:
        file.truncate(50_000_000)
    assert told(load_library(folder).problems) == [("lib/big.yaml", "yaml-too-large")]


# -- one tree


def test_one_tree_is_loaded_by_its_id_and_no_other_is_read(folder: Path) -> None:
    (folder / "bad.yaml").write_text("]")
    loaded = load_tree(folder, LAMP)
    assert loaded.problems == ()
    assert list(loaded.trees) == [LAMP]
    assert "lib/bad.yaml" not in loaded.files
    assert "lib/limits.yaml" in loaded.files
    assert loaded.tree_names == {LAMP, "bad"}


def test_one_tree_is_loaded_by_its_file(folder: Path) -> None:
    add_tree(folder / "more" / "two.yaml", "two")
    outside = folder.parent / "three.yaml"
    add_tree(outside, "three")
    assert list(load_tree(folder, "lib/more/two.yaml").trees) == ["two"]
    assert list(load_tree(folder, "more/two.yaml").trees) == ["two"]
    assert list(load_tree(folder, "two.yaml", folder / "more").trees) == ["two"]
    assert list(load_tree(folder, str(outside)).trees) == ["three"]


def test_a_tree_is_found_by_its_id_where_the_file_has_another_name(folder: Path) -> None:
    add_tree(folder / "two.yaml", "second-lamp")
    assert tree_path(folder, "second-lamp") == folder / "two.yaml"


def test_an_unknown_tree_is_refused_with_the_one_that_was_meant(folder: Path) -> None:
    with pytest.raises(UsageError, match='there is no tree "lamp-does-not-ligt"') as caught:
        load_tree(folder, "lamp-does-not-ligt")
    assert caught.value.advice == f'did you mean "{LAMP}"?'
    with pytest.raises(UsageError) as caught:
        load_tree(folder, "xyz")
    assert "faulttree symptoms" in caught.value.advice


@pytest.mark.parametrize("name", ["no/where.yaml", "where.yaml", "a\0.yaml", "..\\x"])
def test_an_unknown_file_is_unreadable(folder: Path, name: str) -> None:
    with pytest.raises(UnreadableError, match="there is no file"):
        load_tree(folder, name)


def test_a_shared_file_is_no_tree(folder: Path) -> None:
    with pytest.raises(UsageError, match="is a shared file and no tree"):
        load_tree(folder, "lib/limits.yaml")


# -- headers


def test_headers_are_listed_by_path(folder: Path) -> None:
    add_tree(folder / "a.yaml", "second")
    (folder / "bad.yaml").write_text("]")
    headers = [(path.name, header.id if header else None) for path, header in list_headers(folder)]
    assert headers == [("a.yaml", "second"), ("bad.yaml", None), (f"{LAMP}.yaml", LAMP)]


def test_only_the_first_bytes_of_a_file_are_read_for_its_header(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []
    read = shell.read_bytes

    def counted(path: Path, most: int = 10**9) -> bytes:
        asked.append(most)
        return read(path, most)

    monkeypatch.setattr(shell, "read_bytes", counted)
    add_tree(folder / "long.yaml", "long", **{"before:": f"x-own: {'a' * 5000}\nbefore:"})
    assert [header.id for _, header in list_headers(folder) if header] == [LAMP, "long"]
    assert asked == [4096, 4096, 10**9]
