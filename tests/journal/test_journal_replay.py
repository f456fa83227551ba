"""A journal is replayed to the walk that was written."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from journal_walks import (
    MOVES,
    TREE,
    Loaded,
    added,
    begun,
    load,
    random_move,
    walked,
    written,
)

from faulttree.journal import (
    read_journal,
    replay,
)
from faulttree.keys import Kind, Move
from faulttree.readback import encode


@pytest.mark.parametrize("seed", range(40))
def test_a_walk_by_chance_is_replayed_as_it_was(tmp_path: Path, loaded: Loaded, seed: int) -> None:
    chance = random.Random(seed)
    move = Move(Kind.BEGIN, model=chance.choice(["Finch", "Wren"]), role=chance.choice(["", "crew", "mechanic"]))
    journal, walk = begun(tmp_path, *loaded, move, seed=seed)
    assert replay(journal.recorded, load) == walk
    for _ in range(25):
        walk = added(journal, walk, random_move(walk, chance))
    with journal:
        assert replay(journal.recorded, load) == walk
    assert replay(read_journal(journal.path), load) == walk


@pytest.mark.parametrize("occupant", ["", "on", "off"])
def test_a_walk_that_went_on_from_a_code_is_replayed(tmp_path: Path, loaded: Loaded, occupant: str) -> None:
    code = encode(walked(loaded, MOVES))
    journal, walk = begun(tmp_path, *loaded, Move(Kind.BEGIN, code=code, occupant=occupant))
    assert walk.key.step == "fit-cell"
    with journal:
        walk = added(journal, walk, Move(Kind.NOTE, text="taken over by radio"))
    assert replay(read_journal(journal.path), load) == walk


def test_a_walk_is_taken_up_on_the_tree_that_it_was_begun_on(tmp_path: Path) -> None:
    library = written(tmp_path / "library")
    journal, walk = begun(tmp_path / "walks", *load(library, TREE))
    walk = added(journal, walk, *MOVES)
    tree = library / "trees" / f"{TREE}.yaml"
    tree.write_text(tree.read_text().replace("Flat: fit-cell", "Flat: fit-switch"))
    assert load(library, TREE)[0] != walk.tree
    assert replay(journal.recorded, load) == walk
