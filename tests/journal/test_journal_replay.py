"""A journal is replayed to the walk that was written."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from journal_walks import (
    DATA,
    MOVES,
    NOON,
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
    Facts,
    create,
    read_journal,
    replay,
)
from faulttree.keys import Kind, Move, Phase, Stage
from faulttree.problems import MoveError
from faulttree.readback import begin, encode
from faulttree.value import replace
from faulttree.walk import apply


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


def proving(kind: str) -> dict[str, bytes]:
    """The library with a fix that opens and closes the tag, which is of this kind."""
    text = DATA["trees/lamp-is-dark.yaml"].decode()
    tree = text.replace(
        "closes: [cell-out]\n    operational_check: lights\n    failed: fit-switch",
        "opens: [tag]\n    closes: [cell-out, tag]\n    operational_check: lights\n    failed: fit-switch",
    )
    library = DATA["library.yaml"].replace(b"tag: {kind: duty", f"tag: {{kind: {kind}".encode())
    return {**DATA, "library.yaml": library, "trees/lamp-is-dark.yaml": tree.encode()}


@pytest.mark.parametrize("kind", ["duty", "hazard"])
def test_a_journal_of_before_closed_what_a_fix_closes_when_its_work_was_done(kind: str, tmp_path: Path) -> None:
    """Then what it says was open is so, and the walk goes on from there."""
    files = proving(kind)
    tree, library = load(written(tmp_path / "library", files), TREE)
    move = Move(Kind.BEGIN, model="Wren")
    walk = begin(tree, library, move)
    with create(tmp_path / "walks", files, walk, move, Facts(), NOON) as journal:
        walk = added(journal, walk, *MOVES, Move(Kind.ACKNOWLEDGE), Move(Kind.DONE), Move(Kind.DONE))
        assert walk.key.open_items == {"tag"}, "until its operational check has passed"
        assert replay(journal.recorded, load) == walk
    walk = begin(tree, library, move)
    with create(tmp_path / "before", files, walk, move, Facts(), NOON) as journal:
        walk = added(journal, walk, *MOVES, Move(Kind.ACKNOWLEDGE), Move(Kind.DONE))
        done = apply(walk, Move(Kind.DONE))
        before = replace(done, key=done.key._replace(open_items=frozenset()))
        journal.append(before, NOON)
        after = added(journal, before, Move(Kind.FAILED))
        assert replay(journal.recorded, load) == after
        assert "tag" not in after.key.open_items


def test_a_journal_of_before_asked_for_a_hazard_that_was_opened_after_the_work(tmp_path: Path) -> None:
    """Then a passed check closed none, so it was asked for; now the check that passed has proved that it is over."""
    files = proving("hazard")
    move = Move(Kind.BEGIN, model="Wren")
    walk = begin(*load(written(tmp_path / "library", files), TREE), move)
    with create(tmp_path / "before", files, walk, move, Facts(), NOON) as journal:
        walk = added(journal, walk, *MOVES, Move(Kind.ACKNOWLEDGE), Move(Kind.DONE))
        done = apply(walk, Move(Kind.DONE))
        before = replace(done, key=done.key._replace(open_items=frozenset()))
        journal.append(before, NOON)
        walk = added(journal, before, Move(Kind.FALLBACK, line=2), Move(Kind.OCCUPANT_OFF))
        passed = apply(walk, Move(Kind.PASSED))
        assert passed.ended
        asks = passed.key._replace(open_items=frozenset({"tag"}), phase=Phase(Stage.LEFT_OPEN))
        walk = replace(passed, key=asks)
        journal.append(walk, NOON)
        walk = added(journal, walk, Move(Kind.CLOSED, item="tag"))
        assert walk.passed
        assert replay(journal.recorded, load) == walk


def test_a_journal_of_before_began_from_a_code_with_less_open(tmp_path: Path) -> None:
    """Then what the accesses of a step close was closed by a code on which the step is given up."""
    files = dict(DATA)
    files["library.yaml"] += b"accesses: {lid: {is: Lid on, place: bench, minutes: 1, people: 2, closes: [cell-out]}}\n"
    text = files["trees/lamp-is-dark.yaml"].decode()
    files["trees/lamp-is-dark.yaml"] = text.replace("    measure:", "    access: [lid]\n    measure:").encode()
    tree, library = load(written(tmp_path / "library", files), TREE)
    given_up = walked((tree, library), (*MOVES[:3], Move(Kind.UNABLE, text="dark")))
    move = Move(Kind.BEGIN, code=encode(given_up), occupant="off")
    walk = begin(tree, library, move)
    assert walk.key.open_items == {"cell-out"}, "it may have been given up before the lid was on"
    before = replace(walk, key=walk.key._replace(open_items=frozenset()))
    with create(tmp_path / "before", files, before, move, Facts(), NOON) as journal:
        before = added(journal, before, Move(Kind.NOTE, text="read back"))
        assert replay(journal.recorded, load) == before


def test_a_journal_of_before_says_of_nobody_who_closed_what_and_is_read_as_it_was(
    tmp_path: Path, loaded: Loaded
) -> None:
    journal, walk = begun(tmp_path, *loaded)
    walk = added(journal, walk, Move(Kind.FALLBACK, line=2), Move(Kind.HAND_OVER))
    before = Move(Kind.TAKE_OVER, role="crew", closed=("tag",))
    with pytest.raises(MoveError, match="not for crew to close"):
        apply(walk, before)
    walk = apply(walk, before, was_recorded=True)
    with journal:
        journal.append(walk, NOON)
    assert replay(read_journal(journal.path), load) == walk
    assert "tag" not in walk.key.open_items
