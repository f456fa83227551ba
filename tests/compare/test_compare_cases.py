"""The sample with one text of one file replaced: what the comparison has to say of it, word for word.

A case has `edits` (file, old, new; each old text once) and `found`, one line a change: its weight and kind, where it
is, what it says, before and after. `back` has what is found the other way round, where a case states it; `given` has
edits of both sides, and `tree` names a tree of the shipped library to be taken instead of the sample. A text that is to
be replaced wherever it stands has `every`.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

from faulttree.cli.compare import words_of
from faulttree.compare import Change, Comparison, Side, compare
from faulttree.library import load_library, shipped_library

HERE = Path(__file__).parent
SAMPLE = HERE.parent / "sample"
CASES = sorted(HERE.glob("cases/*.yaml"))


def side(folder: Path) -> Side:
    loaded = load_library(folder)
    assert loaded.library is not None, loaded.problems
    assert loaded.trees, loaded.problems
    return Side(loaded.library, loaded.trees)


def begun(case: dict, folder: Path) -> Path:
    """The folder of the old side."""
    source, tree = (shipped_library(), case["tree"]) if "tree" in case else (SAMPLE, "")
    others = set(load_library(source).trees) - {tree} if tree else set()
    shutil.copytree(source, folder, ignore=lambda _, names: [name for name in names if Path(name).stem in others])
    edit(case.get("given", ()), folder)
    return folder


def edit(edits: list[dict], folder: Path) -> None:
    for each in edits:
        path = folder / each["file"]
        text = path.read_text(encoding="utf-8")
        count = text.count(each["old"])
        assert count == 1 or (count and each.get("every")), f"{each['old']!r} stands {count} times"
        path.write_text(text.replace(each["old"], each["new"]), encoding="utf-8")


def lines_of(comparison: Comparison) -> Iterator[str]:
    for change in comparison.changes:
        yield line_of(change)


def line_of(change: Change) -> str:
    said = words_of(change, [f"<{name}>" for name in change.names])
    where = f"{change.sort} {', '.join(change.subjects)}"
    values = f" | {change.before} -> {change.after}" if change.before or change.after else ""
    return f"{change.weight}, {change.kind}, {where}: {said}{values}"


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_case(path: Path, tmp_path: Path) -> None:
    case = yaml.safe_load(path.read_text(encoding="utf-8"))
    start = begun(case, tmp_path / "old")
    shutil.copytree(start, tmp_path / "new")
    edit(case["edits"], tmp_path / "new")
    old, new = side(start), side(tmp_path / "new")
    assert list(lines_of(compare(old, new))) == case["found"]
    back = list(lines_of(compare(new, old)))
    assert len(back) > 0 or not case["found"]
    if "back" in case:
        assert back == case["back"]
    is_weaker = any(line.startswith("weaker") for line in case["found"])
    assert path.stem.startswith("weaker-") == is_weaker
