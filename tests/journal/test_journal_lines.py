"""What the lines of a journal say, and how they come back."""

from __future__ import annotations

import hashlib
import json
import os
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from journal_walks import (
    DATA,
    MOVES,
    TREE,
    Loaded,
    added,
    begun,
)

from faulttree.journal import (
    Facts,
    move_from_json,
    move_to_json,
    read_journal,
)
from faulttree.journal.chain import canonical
from faulttree.keys import Kind, Move
from faulttree.problems import JournalError
from faulttree.value import field_names
from faulttree.walk import Walk


def test_each_line_has_the_sha_256_of_the_digest_before_and_of_its_canonical_json(small: tuple[Path, Walk]) -> None:
    prev = ""
    for raw in small[0].read_bytes().splitlines():
        line = json.loads(raw)
        digest = line.pop("digest")
        plain = json.dumps(line, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
        assert line["prev"] == prev
        assert digest == hashlib.sha256((prev + plain).encode()).hexdigest()
        prev = digest


def test_the_first_line_says_which_walk_it_is(tmp_path: Path, loaded: Loaded) -> None:
    facts = Facts(aircraft="G-SKRN", item="cot 7")
    journal, _ = begun(tmp_path, *loaded, facts=facts)
    header = json.loads(journal.path.read_bytes().splitlines()[0])
    assert (header["journal"], header["n"], header["walk"]) == (1, 0, journal.path.stem)
    assert (header["tree"], header["short"], header["revision"], header["model"]) == (TREE, "LMP", 2, "Wren")
    assert (header["practice"], header["aircraft"], header["item"]) == (False, "G-SKRN", "cot 7")
    assert "base" not in header
    assert header["at"] == "2026-11-25T10:00:00.000+00:00"
    assert header["files"] == {name: hashlib.sha256(data).hexdigest() for name, data in DATA.items()}
    assert journal.recorded.header.facts == facts


def test_each_further_line_says_how_the_walk_stood_after_its_move(small: tuple[Path, Walk]) -> None:
    path, walk = small
    last = json.loads(path.read_bytes().splitlines()[-1])
    assert last["move"] == {"kind": "reading", "label": "Flat", "value": "1.05 V"}
    assert (last["n"], last["step"], last["stage"], last["role"]) == (5, "fit-cell", "arrived", "crew")
    assert (last["open_items"], last["state"], last["ended"], last["passed"]) == (["cell-out"], "going", False, False)
    assert len(walk.log) == 5


def test_a_passed_operational_check_is_told_from_another_end(tmp_path: Path, loaded: Loaded) -> None:
    journal, walk = begun(tmp_path, *loaded)
    added(journal, walk, *MOVES, Move(Kind.ACKNOWLEDGE), Move(Kind.DONE), Move(Kind.DONE), Move(Kind.PASSED))
    assert [(entry.ended, entry.passed) for entry in journal.recorded.entries[-2:]] == [(False, False), (True, True)]
    other, walk = begun(tmp_path, *loaded)
    give_up = (Move(Kind.OCCUPANT_OFF), Move(Kind.UNABLE), Move(Kind.UNABLE), Move(Kind.CANNOT), Move(Kind.CANNOT))
    added(other, walk, *give_up)
    assert (other.recorded.entries[-1].ended, other.recorded.entries[-1].passed) == (True, False)


@pytest.mark.skipif(os.name != "posix", reason="permission bits")
def test_only_the_owner_can_read(small: tuple[Path, Walk]) -> None:
    folder = small[0].parent
    for path in [folder, *folder.rglob("*")]:
        assert path.stat().st_mode & 0o777 == (0o700 if path.is_dir() else 0o600), path


def test_the_head_tells_a_cut_tail(small: tuple[Path, Walk]) -> None:
    path, _ = small
    head = read_journal(path).head
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:-1]))
    assert read_journal(path).head != head


TEXTS = st.text(max_size=20)
SOME_MOVES = st.builds(
    Move,
    kind=st.sampled_from(Kind),
    label=TEXTS,
    value=TEXTS,
    text=TEXTS,
    line=st.integers(0, 99),
    item=TEXTS,
    to=TEXTS,
    role=TEXTS,
    model=TEXTS,
    occupant=TEXTS,
    closed=st.lists(TEXTS, max_size=3).map(tuple),
    closed_by=st.lists(TEXTS, max_size=3).map(tuple),
    code=TEXTS,
)


@given(SOME_MOVES)
def test_a_move_comes_back_from_json_as_it_was(move: Move) -> None:
    line = canonical(move_to_json(move))
    assert move_from_json(json.loads(line)) == move
    assert b"\n" not in line


def test_a_move_is_written_with_what_it_carries_only() -> None:
    assert move_to_json(Move(Kind.UNABLE)) == {"kind": "unable"}
    every: dict[str, Any] = dict.fromkeys(field_names(Move), "a")
    move = Move(**{**every, "kind": Kind.NOTE, "closed": ("a",), "closed_by": ("b",), "line": 1})
    assert set(move_to_json(move)) == set(every)


@pytest.mark.parametrize(
    "value",
    [
        None,
        [],
        {},
        {"kind": "Begin"},
        {"kind": ["note"]},
        {"kind": 1},
        {"kind": "note", "text": 1},
        {"kind": "note", "text": None},
        {"kind": "note", "line": "1"},
        {"kind": "note", "line": True},
        {"kind": "note", "line": 1.0},
        {"kind": "note", "closed": "a"},
        {"kind": "note", "closed": [1]},
        {"kind": "note", "why": "a"},
        {"kind": "note", "": "a"},
    ],
)
def test_what_is_no_move_is_refused_in_words(value: object) -> None:
    with pytest.raises(JournalError) as caught:
        move_from_json(value)
    assert caught.value.advice


def test_half_a_character_is_not_recorded_and_harms_nothing(tmp_path: Path, loaded: Loaded) -> None:
    journal, walk = begun(tmp_path, *loaded)
    data = journal.path.read_bytes()
    with pytest.raises(JournalError, match="no character"):
        added(journal, walk, Move(Kind.NOTE, text="a\udc80"))
    assert journal.path.read_bytes() == data
    added(journal, walk, Move(Kind.NOTE, text="a"))
