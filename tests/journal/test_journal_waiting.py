"""What waits, in which order, and how a list reads journals without reading all of them."""

from __future__ import annotations

import json
import random
from collections.abc import Mapping
from pathlib import Path

import pytest
from journal_walks import DATA, MOVES, NOON, TREE, Loaded, added, begun, load, random_move, written

from faulttree.closing import GIVEN_UP
from faulttree.journal import Facts, create, read_journal, replay, summaries
from faulttree.journal.chain import seal
from faulttree.journal.glance import glance
from faulttree.journal.listing import _KINDS
from faulttree.keys import Kind, Move
from faulttree.readback import begin
from faulttree.sessions import opened
from faulttree.since import over_since
from faulttree.waiting import over_words, waiting, waiting_words

HOT = dict(DATA)
HOT["library.yaml"] = DATA["library.yaml"].replace(b"  tag: {", b"  hot: {kind: hazard, is: Lens is hot}\n  tag: {")
HOT[f"trees/{TREE}.yaml"] = DATA[f"trees/{TREE}.yaml"].replace(b"opens: [tag]}", b"opens: [tag, hot]}")

FOUND = (Move(Kind.OCCUPANT_OFF), Move(Kind.ACKNOWLEDGE), Move(Kind.FINDING, label="Lights"))
TO_THE_END = (Move(Kind.UNABLE, text="x"), Move(Kind.CANNOT, text="x"), Move(Kind.CANNOT, text="x"))
WORKED = Move(Kind.FALLBACK, line=2)
"""Closes the disturbance of the first step, and opens a duty; in the other library a hazard as well."""
GIVE_UP = Move(Kind.STOP, label=GIVEN_UP, text="wrong lamp")


def add(folder: Path, seed: int, *moves: Move, files: Mapping[str, bytes] = DATA) -> str:
    """A walk of a mechanic with these moves recorded; its id."""
    tree, library = load(written(folder.parent / f"library-{seed}", files), TREE)
    first = Move(Kind.BEGIN, model="Wren", role="mechanic")
    walk = begin(tree, library, first)
    with create(folder, files, walk, first, Facts(), NOON, random.Random(seed).randbytes) as journal:
        added(journal, walk, *moves)
    return journal.id


def test_hazards_come_with_what_can_be_gone_on_with_and_the_others_are_counted(tmp_path: Path) -> None:
    folder = tmp_path / "walks"
    going = add(folder, 1, *FOUND, Move(Kind.STOP))
    hazard = add(folder, 2, *FOUND, *TO_THE_END, WORKED, files=HOT)
    disturbance = add(folder, 3, *FOUND, *TO_THE_END)
    duty = add(folder, 4, *FOUND, *TO_THE_END, WORKED)
    given_up = add(folder, 5, Move(Kind.OCCUPANT_OFF), WORKED, GIVE_UP)
    add(folder, 6, Move(Kind.OCCUPANT_OFF), GIVE_UP)
    found = waiting(folder)
    assert [each.id for each in found.pressing] == [hazard, going]
    assert {each.id for each in found.over} == {disturbance, duty, given_up}
    assert [each.id for each in found.every[:2]] == [hazard, going]
    assert (over_words(1), over_words(3)) == (
        "1 ended walk with something open",
        "3 ended walks with something open",
    )
    words = {each.id: waiting_words(each) for each in found.every}
    assert "given up" in words[given_up]
    assert "OPEN: hot, tag." in words[hazard]


TO_MECHANIC, TO_CREW, TO_ANYBODY = (Move(Kind.HAND_OVER, to=to) for to in ("mechanic", "crew", ""))


def test_what_presses_most_comes_first(tmp_path: Path) -> None:
    """A hazard, then what nobody can read, then what was handed over to you, then by urgency, then the newest."""
    folder = tmp_path / "walks"
    hazard = add(folder, 1, *FOUND, WORKED, files=HOT)
    for_me = add(folder, 2, *FOUND, TO_MECHANIC)
    for_all = add(folder, 3, *FOUND, TO_ANYBODY)
    for_others = add(folder, 4, *FOUND, TO_CREW)
    newest = add(folder, 5, *FOUND, Move(Kind.STOP), Move(Kind.TAKE_OVER, role="mechanic"), Move(Kind.STOP))
    (folder / "broken.jsonl").write_text("nothing\n")
    mine = [each.id for each in waiting(folder, "mechanic").pressing]
    assert mine[:2] == [hazard, "broken.jsonl"]
    assert set(mine[2:4]) == {for_me, for_all}
    assert set(mine[4:]) == {for_others, newest}
    unsaid = [each.id for each in waiting(folder).pressing]
    assert unsaid[:2] == [hazard, "broken.jsonl"]
    assert (set(unsaid[2:5]), unsaid[5:]) == ({for_me, for_all, for_others}, [newest])
    crew = [each.id for each in waiting(folder, "crew").pressing]
    assert set(crew[2:4]) == {for_others, for_all}


def test_what_cannot_be_told_counts_as_a_hazard(tmp_path: Path) -> None:
    folder = tmp_path / "walks"
    add(folder, 4, *FOUND, *TO_THE_END, WORKED)
    assert not waiting(folder).pressing
    [kept] = folder.glob("copies/*/library.yaml")
    kept.write_bytes(kept.read_bytes() + b"# changed\n")
    assert waiting(folder).pressing
    kept.unlink()
    assert waiting(folder).pressing


def test_closed_after_the_end_a_walk_leaves_the_list_and_is_replayed(tmp_path: Path) -> None:
    folder = tmp_path / "walks"
    for seed, moves in ((1, (*FOUND, *TO_THE_END, WORKED)), (2, (Move(Kind.OCCUPANT_OFF), WORKED, GIVE_UP))):
        walk_id = add(folder, seed, *moves)
        assert [each.id for each in waiting(folder).every] == [walk_id]
        journal, walk = opened(folder, walk_id)
        before = journal.recorded.whole
        with journal:
            after = added(journal, walk, Move(Kind.CLOSED, item="tag", role="mechanic", text="Ä. B."))
        assert not waiting(folder).every
        recorded = read_journal(journal.path)
        assert recorded.whole.startswith(before), "lines are added, none is changed"
        assert replay(recorded, load) == after
        assert recorded.entries[-1].ended == recorded.entries[-2].ended
        assert recorded.entries[-1].move.text == "Ä. B."
        assert ("wrong lamp" in over_since(after, recorded)) == (seed == 2)


def test_journals_of_before_are_read_as_they_were(tmp_path: Path, loaded: Loaded) -> None:
    """A stop could carry a text, and nothing was closed after an end: the lines are those of the version before."""
    journal, walk = begun(tmp_path, *loaded)
    with journal:
        walk = added(journal, walk, *MOVES, Move(Kind.STOP, text="given up: lunch"))
    assert '"label"' not in journal.recorded.lines[-1].raw.decode()
    assert replay(read_journal(journal.path), load) == walk
    assert not walk.over
    [each] = waiting(tmp_path).pressing
    assert not each.over


@pytest.mark.parametrize("seed", range(30))
def test_a_glance_says_what_the_whole_journal_says(tmp_path: Path, loaded: Loaded, seed: int) -> None:
    chance = random.Random(seed)
    journal, walk = begun(tmp_path, *loaded, seed=seed)
    with journal:
        for _ in range(20):
            walk = added(journal, walk, random_move(walk, chance))
    recorded = read_journal(journal.path)
    seen = glance(recorded.whole, _KINDS)
    assert seen is not None, "it is the quick way for what the program writes"
    assert seen == (recorded.header, recorded.entries[-1], len(recorded.entries))


def test_a_glance_leaves_whatever_was_changed_to_the_full_reading(tmp_path: Path, loaded: Loaded) -> None:
    journal, walk = begun(tmp_path, *loaded)
    with journal:
        added(journal, walk, *MOVES, Move(Kind.NOTE, text='"digest":"x","kind":"begin","n":9,'))
    data = journal.path.read_bytes()
    assert glance(data, _KINDS) is not None
    for at in range(0, len(data), 7):
        for sign in (b"x", b"0", b"\n"):
            changed = data[:at] + sign + data[at + 1 :]
            if changed != data:
                assert glance(changed, _KINDS) is None, at
    lines = data.splitlines(keepends=True)
    for at in range(len(lines)):
        less = b"".join(lines[:at] + lines[at + 1 :])
        # A cut tail shows to nobody, as before.
        assert (glance(less, _KINDS) is None) == (at < len(lines) - 1)
    assert glance(data + b"{", _KINDS) is None
    assert glance(data[:-1], _KINDS) is None
    assert glance(data, _KINDS - {b"reading"}) is None, "a move of a later version is said by the full reading"


def test_a_chain_that_counts_wrongly_is_left_to_the_full_reading(tmp_path: Path, loaded: Loaded) -> None:
    """Sealed as it should be, so that only what it says is wrong."""
    journal, walk = begun(tmp_path, *loaded)
    with journal:
        added(journal, walk, *MOVES)
    lines = list(journal.recorded.lines)
    fields = {**lines[-1].fields, "n": 9}
    del fields["digest"], fields["prev"]
    data = b"".join(line.raw for line in lines[:-1]) + seal(fields, lines[-2].digest).raw
    assert json.loads(data.splitlines()[-1])["n"] == 9
    assert glance(data, _KINDS) is None
    journal.path.write_bytes(data)
    [each] = summaries(tmp_path)
    assert '"n" is 9' in each.problem


def test_what_is_over_with_nothing_open_cannot_be_taken_up(tmp_path: Path) -> None:
    from faulttree.problems import UsageError

    folder = tmp_path / "walks"
    walk_id = add(folder, 6, Move(Kind.OCCUPANT_OFF), GIVE_UP)
    with pytest.raises(UsageError, match=r"was given up \(wrong lamp\), and nothing of it is open"):
        opened(folder, walk_id)
    with pytest.raises(UsageError):
        opened(folder, walk_id)
