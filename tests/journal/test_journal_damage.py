"""Damage to a journal is noticed, and a last line that was cut off is set aside."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from journal_walks import (
    MOVES,
    NOON,
    Loaded,
    load,
    walked,
)

from faulttree.journal import (
    open_journal,
    read_journal,
    replay,
)
from faulttree.journal.chain import read_chain, seal
from faulttree.journal.recorded import recorded_in
from faulttree.problems import JournalError
from faulttree.walk import Walk


def outcome(data: bytes) -> tuple[str, bytes]:
    """What a damaged journal is refused with, or the whole lines that it is read as."""
    try:
        return "", b"".join(line.raw for line in read_chain(data, "x").lines)
    except JournalError as error:
        return error.what, b""


def test_every_flipped_bit_is_noticed_or_is_a_torn_tail(small: tuple[Path, Walk]) -> None:
    data = small[0].read_bytes()
    *before, last = data.splitlines(keepends=True)
    torn = 0
    for at in range(len(data)):
        for bit in range(8):
            what, whole = outcome(data[:at] + bytes([data[at] ^ (1 << bit)]) + data[at + 1 :])
            if what:
                number = data[:at].count(b"\n") + 1
                assert f'line {number} of "x"' in what
            else:
                assert at >= len(data) - len(last)
                assert whole == b"".join(before)
                torn += 1
    assert 0 < torn < 8 * len(last)


@pytest.mark.parametrize(
    "changed",
    [
        lambda lines: [lines[0], *lines[2:]],
        lambda lines: [lines[0], lines[1], lines[3], lines[2], *lines[4:]],
        lambda lines: [lines[0], lines[1], lines[1], *lines[2:]],
        lambda lines: lines[1:],
        lambda lines: [lines[0], b"\n", *lines[1:]],
        lambda lines: [*lines[:2], lines[2].replace(b'"n":', b'"n": '), *lines[3:]],
        lambda lines: [*lines[:2], lines[2][:-1] + b" \n", *lines[3:]],
        lambda lines: [*lines[:2], lines[2][:-9] + b"\n", *lines[3:]],
        lambda lines: [*lines[:-1], b"[1]\n"],
        lambda lines: [*lines[:-1], b"{}\n"],
        lambda lines: [*lines, b"{\n", b"{"],
        lambda lines: [*lines[:-1], lines[-1][:-1] + b"x"],
        lambda lines: [*lines[:-2], lines[-2][:-1], lines[-1]],
    ],
)
def test_lines_taken_out_moved_doubled_or_respelled_are_damage(
    small: tuple[Path, Walk], changed: Callable[[list[bytes]], list[bytes]]
) -> None:
    path, _ = small
    data = b"".join(changed(path.read_bytes().splitlines(keepends=True)))
    path.write_bytes(data)
    for attempt in (read_journal, open_journal):
        with pytest.raises(JournalError, match=r'line \d of "LMP'):
            attempt(path)
    assert path.read_bytes() == data
    assert not path.with_suffix(".torn").exists()


def resealed(path: Path, number: int, **changes: object) -> None:
    """Change a line and chain everything anew, as a program of another mind would have written it."""
    prev, data = "", b""
    for at, raw in enumerate(path.read_bytes().splitlines()):
        line = {**json.loads(raw), **(changes if at + 1 == number else {})}
        sealed = seal({key: value for key, value in line.items() if key not in ("prev", "digest")}, prev)
        prev, data = sealed.digest, data + sealed.raw
    path.write_bytes(data)


@pytest.mark.parametrize(
    ("number", "changes"),
    [
        (1, {"journal": 2}),
        (1, {"revision": "2"}),
        (1, {"practice": 1}),
        (1, {"walk": None}),
        (1, {"copy": "0" * 64}),
        (1, {"files": {"library.yaml": 1}}),
        (3, {"move": {"kind": "fly"}}),
        (3, {"move": {"kind": "note", "wings": "2"}}),
        (3, {"move": "note"}),
        (3, {"n": 4}),
        (3, {"open_items": [1]}),
        (3, {"ended": 0}),
    ],
)
def test_a_chained_line_that_says_something_else_is_named(
    small: tuple[Path, Walk], number: int, changes: dict[str, object]
) -> None:
    path, _ = small
    resealed(path, number, **changes)
    with pytest.raises(JournalError, match=f"line {number} of "):
        open_journal(path)


@pytest.mark.parametrize("changes", [{"step": "fit-cell"}, {"open_items": []}, {"move": {"kind": "passed"}}])
def test_a_move_that_leads_elsewhere_than_it_did_is_no_replay(
    small: tuple[Path, Walk], changes: dict[str, object]
) -> None:
    path, _ = small
    resealed(path, 5, **changes)
    with pytest.raises(JournalError, match="line 5 of "):
        replay(read_journal(path), load)


def test_a_journal_cut_anywhere_reads_as_the_lines_that_are_whole(small: tuple[Path, Walk]) -> None:
    path, _ = small
    data = path.read_bytes()
    lines = data.splitlines(keepends=True)
    for cut in range(len(data)):
        whole = data[:cut].count(b"\n")
        if whole < 2:
            with pytest.raises(JournalError, match="it has no whole beginning"):
                recorded_in(path, data[:cut])
            continue
        recorded = recorded_in(path, data[:cut])
        assert recorded.whole == b"".join(lines[:whole])
        assert recorded.whole + recorded.torn == data[:cut]


@pytest.mark.long
@pytest.mark.parametrize("tail", [b"", b"\n", b"\0" * 50, b"\0" * 50 + b"\n"])
def test_a_torn_line_is_set_aside_and_said_and_the_walk_goes_on(
    small: tuple[Path, Walk], loaded: Loaded, tail: bytes
) -> None:
    path, walk = small
    before, data = walked(loaded, MOVES[:-1]), path.read_bytes()
    last = data.splitlines(keepends=True)[-1]
    for cut in range(1, len(last) - 1, 7 if tail else 1):
        path.write_bytes(data[: -len(last)] + last[:cut] + tail)
        with open_journal(path) as journal:
            assert f'set aside in "{path.stem}.torn"' in journal.torn
            assert path.read_bytes() == data[: -len(last)]
            assert path.with_suffix(".torn").read_bytes() == last[:cut] + tail
            assert len(journal.recorded.entries) == len(before.log)
        path.with_suffix(".torn").unlink()
    with open_journal(path) as journal:
        assert journal.torn == ""
        assert replay(journal.recorded, load) == before
        journal.append(walk, NOON)
    assert path.read_bytes() == data


def test_a_second_torn_line_does_not_replace_the_first(small: tuple[Path, Walk]) -> None:
    path, _ = small
    data = path.read_bytes()
    for piece in (b"one", b"two"):
        path.write_bytes(data + piece)
        open_journal(path).close()
    assert path.with_suffix(".torn").read_bytes() == b"onetwo"
    assert path.read_bytes() == data


def test_reading_leaves_a_torn_line_where_it_is(small: tuple[Path, Walk]) -> None:
    path, _ = small
    path.write_bytes(path.read_bytes() + b"{")
    data = path.read_bytes()
    assert read_journal(path).torn == b"{"
    assert path.read_bytes() == data
