"""A walk that went on with another revision of its tree, as its journal holds it."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from journal_walks import DATA, MOVES, NOON, TREE, Loaded, added, begun, load, random_move, written

from faulttree.journal import Journal, copies, open_journal, read_journal, replay, summaries
from faulttree.keys import Kind, Move
from faulttree.problems import JournalError
from faulttree.revised import on_revision, revising
from faulttree.waiting import state_words, waiting
from faulttree.walk import Walk

NEW = {
    **DATA,
    "trees/lamp-is-dark.yaml": DATA["trees/lamp-is-dark.yaml"]
    .replace(b"revision: 2", b"revision: 3")
    .replace(b"check: Is the cell good?", b"check: Is the cell good under load?"),
}


def gone_on(journal: Journal, walk: Walk, folder: Path) -> Walk:
    """The walk on the new revision, recorded."""
    tree, library = load(written(folder, NEW), TREE)
    on = on_revision(walk, tree, library, revising(walk, tree, library))
    journal.append(on, NOON, NEW)
    return on


@pytest.fixture
def on_new(tmp_path: Path, loaded: Loaded) -> tuple[Journal, Walk]:
    journal, walk = begun(tmp_path / "walks", *loaded)
    walk = gone_on(journal, added(journal, walk, *MOVES), tmp_path / "new")
    return journal, added(journal, walk, Move(Kind.TAKE_OVER, role="mechanic", occupant="off"))


def test_it_is_asked_again_where_the_revision_differs(on_new: tuple[Journal, Walk]) -> None:
    journal, walk = on_new
    assert (walk.key.step, walk.tree.revision, walk.step.text) == ("volts", 3, "Is the cell good under load?")
    assert walk.key.open_items == {"cell-out"}
    assert journal.recorded.entries[-2].move == Move(Kind.REVISED, text="3", line=1, to="volts")


@pytest.mark.parametrize("seed", range(20))
def test_it_is_replayed_with_both_revisions(tmp_path: Path, loaded: Loaded, seed: int) -> None:
    chance = random.Random(seed)
    journal, walk = begun(tmp_path / "walks", *loaded)
    while len(walk.log) < 5 or walk.over:
        journal.close()
        journal, walk = begun(tmp_path / "walks", *loaded, seed=chance.randrange(10**6))
        for _ in range(chance.randrange(4, 14)):
            walk = added(journal, walk, random_move(walk, chance))
    walk = gone_on(journal, walk, tmp_path / "new")
    walk = added(journal, walk, Move(Kind.TAKE_OVER, role="mechanic", occupant="off"))
    for _ in range(10):
        walk = added(journal, walk, random_move(walk, chance))
    with journal:
        assert replay(journal.recorded, load) == walk
    again = replay(read_journal(journal.path), load)
    assert again == walk
    new = ["under load" in line.site.variant.steps["volts"].text for line in again.log]
    assert new == sorted(new), "each line keeps the revision that it was made by"
    assert set(new) == {False, True}


def test_a_list_reads_it(on_new: tuple[Journal, Walk]) -> None:
    journal, _ = on_new
    journal.close()
    [each] = summaries(journal.path.parent)
    assert (each.problem, each.last and each.last.step) == ("", "volts")


def test_a_copy_of_it_holds_both_revisions(tmp_path: Path, on_new: tuple[Journal, Walk]) -> None:
    journal, walk = on_new
    (tmp_path / "elsewhere").mkdir()
    with journal:
        saved = journal.save_copy(tmp_path / "elsewhere")
    assert replay(read_journal(saved), load) == walk
    with open_journal(journal.path) as again:
        other = again.save_copy(tmp_path / "third" / "walk.jsonl")
    assert replay(read_journal(other), load) == walk


def test_a_revision_that_was_changed_after_it_was_kept_is_noticed(on_new: tuple[Journal, Walk]) -> None:
    journal, _ = on_new
    with journal:
        (journal.recorded.copy_folder / "trees" / "lamp-is-dark.yaml").write_bytes(b"faulttree: 1\n")
        with pytest.raises(JournalError, match=r"lamp-is-dark.yaml.* was changed after it was kept"):
            replay(journal.recorded, load)


def test_a_list_goes_by_the_last_revision_whether_a_hazard_is_open(tmp_path: Path, loaded: Loaded) -> None:
    journal, other = begun(tmp_path / "walks", *loaded, seed=2)
    with journal:
        added(journal, other, Move(Kind.HAND_OVER, to="mechanic"))
    journal, walk = begun(tmp_path / "walks", *loaded)
    with journal:
        walk = added(journal, walk, *MOVES, Move(Kind.HAND_OVER, to="mechanic"))
        library = NEW["library.yaml"].replace(b"cell-out: {kind: disturbance", b"cell-out: {kind: hazard")
        files = {**NEW, "library.yaml": library}
        tree, library_of_now = load(written(tmp_path / "new", files), TREE)
        on = on_revision(walk, tree, library_of_now, revising(walk, tree, library_of_now))
        journal.append(on, NOON, files)
    first, second = waiting(tmp_path / "walks", "mechanic").pressing
    assert (first.id, first.files) == (journal.id, copies.digests_of(files)), "its hazard presses more"
    assert [state_words(each) for each in (first, second)] == ["handed over", "handed over to: mechanic"]
    assert on.handed_to == "", "the step that it is asked again at is no role"
