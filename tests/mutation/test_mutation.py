"""Every shipped tree, broken in every way that applies: check, proof or the comparison notices each break."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

import pytest

from faulttree.compare import WEAKER, compare
from faulttree.library import LoadedLibrary, load_library, shipped_library

from .__main__ import FEWEST
from .breaks import BREAKS
from .documents import Subject, plain, text_of
from .running import Row, outcomes_of, rows_of

KINDS = set((Path(__file__).parents[1] / "compare" / "kinds.txt").read_text(encoding="utf-8").split())
SAMPLE = Path(__file__).parents[1] / "sample"


@cache
def library(folder: Path) -> LoadedLibrary:
    return load_library(folder)


@cache
def rows(folder: Path, id: str) -> tuple[Row, ...]:
    return tuple(rows_of(Subject(library(folder), id), most=1))


TREES = [pytest.param(folder, id, id=id) for folder in (shipped_library(), SAMPLE) for id in load_library(folder).trees]


@pytest.mark.long
@pytest.mark.parametrize(("folder", "id"), TREES)
def test_every_break_is_noticed(folder: Path, id: str) -> None:
    """By an error or warning that the whole tree has not, or by a change that weighs more than other."""
    found = rows(folder, id)
    assert [(row.broken.name, each.place) for row in found for each in row.outcomes if not each.caught] == []
    assert sum(bool(row.outcomes) for row in found) >= FEWEST
    assert {kind for row in found for each in row.outcomes for kind in each.kinds} <= KINDS
    what_weakens_is_told_as_weaker(found)


def what_weakens_is_told_as_weaker(found: Sequence[Row]) -> None:
    """By the comparison alone, so that it exits 1; where the tree cannot be read any more, check has told why."""
    for row in found:
        for each in row.outcomes:
            if row.broken.weakens:
                assert each.weight == WEAKER or (each.weight is None and each.rules), (row.broken.name, each)


@pytest.mark.parametrize(("folder", "id"), TREES)
def test_what_is_not_broken_is_noticed_by_nobody(folder: Path, id: str) -> None:
    """Written anew from plain data a tree means what it meant, and nothing is found."""
    subject = Subject(library(folder), id)
    assert text_of(subject.docs["tree"])
    written, tree, problems = subject.read({**subject.copy(), "tree": plain(subject.file.root)})
    assert (written, tree) == (subject.library, subject.tree)
    assert tree == library(folder).trees[id]
    assert problems == [] or subject.known
    assert compare(subject.side, subject.side).changes == ()


@pytest.mark.long
def test_every_break_applies_to_some_shipped_tree() -> None:
    """A break that applies nowhere any more would be noticed by nobody and not be missed."""
    left = list(BREAKS)
    for id in load_library(shipped_library()).trees:
        subject = Subject(library(shipped_library()), id)
        left = [each for each in left if not any(outcomes_of(subject, each, 1))]
    assert [each.name for each in left] == []


def test_breaks_have_names_of_their_own() -> None:
    assert len({each.name for each in BREAKS}) == len(BREAKS)
    assert sum(each.weakens for each in BREAKS) >= FEWEST
