"""What the tests of the journal share."""

from __future__ import annotations

from pathlib import Path

import pytest
from journal_walks import MOVES, TREE, Loaded, added, begun, load, written

from faulttree.walk import Walk


@pytest.fixture(scope="session")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Loaded:
    """The small library and its tree."""
    return load(written(tmp_path_factory.mktemp("library")), TREE)


@pytest.fixture
def small(tmp_path: Path, loaded: Loaded) -> tuple[Path, Walk]:
    """A small journal, closed, with the walk in it."""
    journal, walk = begun(tmp_path / "walks", *loaded)
    with journal:
        return journal.path, added(journal, walk, *MOVES)
