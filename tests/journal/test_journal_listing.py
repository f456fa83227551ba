"""Which walks are in a folder."""

from __future__ import annotations

import datetime
import os
from pathlib import Path

import pytest
from journal_walks import (
    MOVES,
    NOON,
    Loaded,
    added,
    begun,
)

from faulttree.journal import (
    find_journal,
    open_journal,
    summaries,
)
from faulttree.keys import Kind, Move
from faulttree.problems import JournalError
from faulttree.walk import Walk


def test_the_list_has_what_can_be_gone_on_with_newest_first(tmp_path: Path, loaded: Loaded) -> None:
    last = {
        "going": MOVES,
        "stopped": (*MOVES, Move(Kind.STOP)),
        "handed over": (*MOVES, Move(Kind.HAND_OVER, to="mechanic")),
        "ended": (*MOVES, Move(Kind.ACKNOWLEDGE), Move(Kind.DONE), Move(Kind.DONE), Move(Kind.PASSED)),
    }
    ids = {}
    for at, (name, moves) in enumerate(last.items()):
        journal, walk = begun(tmp_path, *loaded, seed=at)
        added(journal, walk, *moves, now=NOON + datetime.timedelta(minutes=at))
        ids[name] = journal.id
    found = summaries(tmp_path)
    assert [each.id for each in found] == [ids["handed over"], ids["stopped"], ids["going"]]
    assert [each.last.state for each in found if each.last] == ["handed over", "stopped", "going"]
    assert [each.id for each in summaries(tmp_path, include_ended=True)] == [ids["ended"], *(each.id for each in found)]
    first = found[-1]
    assert first.header
    assert first.last
    assert (first.header.symptom, first.last.step, first.last.open_items) == (
        "The lamp stays dark", "fit-cell", ("cell-out",),
    )  # fmt: skip
    assert (first.moves, first.problem, first.torn, first.ended) == (5, "", False, False)


def test_the_list_bears_with_foreign_and_damaged_files(small: tuple[Path, Walk]) -> None:
    path, _ = small
    folder, data = path.parent, path.read_bytes()
    lines = data.splitlines(keepends=True)
    put = {
        "empty": b"",
        "binary": bytes(range(256)),
        "deep": b"[" * 100_000 + b"\n" + b"\n",
        "big-number": b'{"journal":' + b"9" * 9999 + b"}\n",
        "other": b'{"name":"a"}\n{"name":"b"}\n',
        "later": b'{"journal":2}\n',
        "cut": lines[0],
        "damaged": data.replace(b"Lights", b"LIGHTS"),
    }
    for name, content in put.items():
        (folder / f"{name}.jsonl").write_bytes(content)
    (folder / "folder.jsonl").mkdir()
    (folder / "notes.txt").touch()
    (folder / "torn.jsonl").write_bytes(data + b"{")
    if os.name == "posix":
        os.mkfifo(folder / "pipe.jsonl")
        (folder / "dangling.jsonl").symlink_to("nowhere")
    found = {each.path.stem: each for each in summaries(folder)}
    assert set(found) >= {*put, "folder", "torn", path.stem}
    assert "notes" not in found
    for name, each in found.items():
        assert bool(each.problem) == (name not in (path.stem, "torn")), name
        assert each.at
    assert found["torn"].torn
    assert "not the beginning of a walk" in found["other"].problem
    assert "another format" in found["later"].problem
    for name in {*found} - {path.stem, "torn"}:
        with pytest.raises(JournalError):
            open_journal(folder / f"{name}.jsonl")
    assert all((folder / f"{name}.jsonl").read_bytes() == content for name, content in put.items())


def test_a_list_of_nothing(tmp_path: Path) -> None:
    assert summaries(tmp_path / "none") == []
    (tmp_path / "file").touch()
    with pytest.raises(JournalError, match="cannot read"):
        summaries(tmp_path / "file")


def test_a_walk_is_found_by_its_id_as_it_is_said(small: tuple[Path, Walk]) -> None:
    path, _ = small
    for said in (path.stem, path.stem.lower(), path.stem.replace("-", " "), path.stem.replace("-", "")):
        assert find_journal(path.parent, said) == path
    for said in ("", "LMP-1125", "../" + path.stem + "x"):
        with pytest.raises(JournalError, match="there is no walk"):
            find_journal(path.parent, said)
    with pytest.raises(JournalError, match=r"no walk|not there"):
        find_journal(path.parent / "none", path.stem)
