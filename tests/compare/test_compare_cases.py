"""The sample with one text of one file replaced: what the comparison has to say of it, word for word.

A case has `edits` (file, old, new; each old text once) and `found`, one line a change: its weight and kind, where it
is, what it says, before and after. `back` has what is found the other way round, where a case states it.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

from faulttree.cli.compare import words_of
from faulttree.compare import Change, Comparison, Side, compare
from faulttree.library import load_library

HERE = Path(__file__).parent
SAMPLE = HERE.parent / "sample"
CASES = sorted(HERE.glob("cases/*.yaml"))


def side(folder: Path) -> Side:
    loaded = load_library(folder)
    assert loaded.library is not None, loaded.problems
    assert loaded.trees, loaded.problems
    return Side(loaded.library, loaded.trees)


def edited(case: dict, folder: Path) -> Side:
    shutil.copytree(SAMPLE, folder, dirs_exist_ok=True)
    for edit in case["edits"]:
        path = folder / edit["file"]
        text = path.read_text(encoding="utf-8")
        assert text.count(edit["old"]) == 1, f"{edit['old']!r} stands {text.count(edit['old'])} times"
        path.write_text(text.replace(edit["old"], edit["new"]), encoding="utf-8")
    return side(folder)


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
    old, new = side(SAMPLE), edited(case, tmp_path)
    assert list(lines_of(compare(old, new))) == case["found"]
    back = list(lines_of(compare(new, old)))
    assert len(back) > 0 or not case["found"]
    if "back" in case:
        assert back == case["back"]
    is_weaker = any(line.startswith("weaker") for line in case["found"])
    assert path.stem.startswith("weaker-") == is_weaker
