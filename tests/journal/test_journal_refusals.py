"""What the system refuses is said plainly and leaves the journal whole."""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from journal_walks import (
    CHILD,
    ENVIRON,
    FILES,
    MOVES,
    NOON,
    POSIX,
    Loaded,
    added,
    begun,
    child,
    load,
)

from faulttree.journal import (
    open_journal,
    read_journal,
    replay,
)
from faulttree.keys import Kind, Move
from faulttree.problems import JournalError
from faulttree.walk import Walk, apply


class Faults:
    """Calls of the system by which a journal is written, of which those from ``first`` on fail, ``many`` of them."""

    WRITING = ("write", "fsync", "open", "mkdir", "rename", "replace")

    def __init__(self, code: int = errno.ENOSPC, first: int = -1, many: int = 1, half: bool = False) -> None:
        self.code, self.first, self.many, self.half = code, first, many, half
        self.calls = 0

    @contextlib.contextmanager
    def __call__(self, *more: str) -> Iterator[None]:
        with pytest.MonkeyPatch.context() as patch:
            for name in (*self.WRITING, *more):
                patch.setattr(os, name, self._faulty(name, getattr(os, name)))
            yield

    def _faulty(self, name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*given: Any, **options: Any) -> Any:
            self.calls += 1
            if 0 <= self.calls - 1 - self.first < self.many and self.first >= 0:
                if name == "write" and self.half:
                    real(given[0], bytes(given[1])[: len(given[1]) // 2])
                raise OSError(self.code, os.strerror(self.code))
            return real(*given, **options)

        return call


def calls_of(action: Callable[[], object], *more: str) -> int:
    faults = Faults()
    with faults(*more):
        action()
    return faults.calls


@pytest.mark.parametrize("half", [False, True])
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EIO, errno.EROFS])
def test_after_any_failed_call_an_append_has_left_the_file_whole(
    tmp_path: Path, loaded: Loaded, code: int, half: bool
) -> None:
    journal, walk = begun(tmp_path, *loaded)
    count = calls_of(lambda: added(journal, walk, MOVES[0]))
    assert count == 2
    walk = apply(walk, MOVES[0])
    for first in range(count):
        for many in (1, 99):
            data, after = journal.path.read_bytes(), apply(walk, Move(Kind.NOTE, text=f"{first} {many}"))
            with Faults(code, first, many, half)(), pytest.raises(JournalError, match="not recorded: ") as caught:
                journal.append(after, NOON)
            assert caught.value.advice
            assert journal.path.read_bytes() == data
            journal.append(after, NOON)
            walk = after
            assert replay(read_journal(journal.path), load) == walk


@pytest.mark.parametrize("reopened", [False, True])
@pytest.mark.parametrize("half", [False, True])
def test_where_cutting_back_fails_too_the_next_append_or_opening_does_it(
    tmp_path: Path, loaded: Loaded, half: bool, reopened: bool
) -> None:
    journal, walk = begun(tmp_path, *loaded)
    for first in range(2):
        data, after = journal.path.read_bytes(), apply(walk, Move(Kind.NOTE, text=f"{first}"))
        with Faults(errno.EIO, first, 99, half)("ftruncate"), pytest.raises(JournalError, match="not recorded: "):
            journal.append(after, NOON)
        left = journal.path.read_bytes()
        assert left[: len(data)] == data
        if reopened:
            journal.close()
            journal = open_journal(journal.path)
            assert bool(journal.torn) == (left != data and not left.endswith(b"\n"))
        if len(journal.recorded.entries) == len(walk.log):
            journal.append(after, NOON)
        else:
            # The line was whole when its sync failed: more than was acknowledged, never less.
            assert reopened
            assert first == 1
        walk = after
        assert replay(read_journal(journal.path), load) == walk


@pytest.mark.long
def test_after_any_failed_call_no_walk_is_begun_and_the_next_try_begins_it(tmp_path: Path, loaded: Loaded) -> None:
    count = calls_of(lambda: begun(tmp_path / "first" / "walks", *loaded))
    assert count > 30
    for first in range(count):
        for many in (1, 999):
            folder = tmp_path / f"{first}-{many}" / "walks"
            with Faults(errno.ENOSPC, first, many, half=True)(), pytest.raises(JournalError, match="disk is full"):
                begun(folder, *loaded)
            assert not list(folder.glob("*.jsonl"))
            journal, walk = begun(folder, *loaded)
            assert replay(journal.recorded, lambda folder, name: loaded) == walk
            journal.close()
            shutil.rmtree(tmp_path / f"{first}-{many}")


def test_a_move_is_synced_before_append_returns_and_names_before_create_does(
    tmp_path: Path, loaded: Loaded, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced: list[str] = []
    real = os.fsync

    def fsync(file: int) -> None:
        real(file)
        synced.append(os.readlink(f"/proc/self/fd/{file}") if Path("/proc/self/fd").exists() else "")

    monkeypatch.setattr(os, "fsync", fsync)
    journal, walk = begun(tmp_path / "new" / "walks", *loaded)
    if synced[0]:
        copy = journal.recorded.copy_folder
        assert synced[-1] == str(tmp_path / "new" / "walks")
        assert {str(tmp_path), str(tmp_path / "new"), str(copy.parent)} <= set(synced)
        assert str(journal.path.with_name(f".{journal.path.name}.new")) in synced
        assert sum(".new-" in name and name.endswith(".yaml") for name in synced) == len(FILES)
    synced.clear()
    added(journal, walk, MOVES[0])
    assert len(synced) == 1


def test_ctrl_c_while_a_move_is_written_leaves_the_file_whole(tmp_path: Path, loaded: Loaded) -> None:
    journal, walk = begun(tmp_path, *loaded)
    data = journal.path.read_bytes()

    def interrupted(file: int) -> None:
        raise KeyboardInterrupt

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "fsync", interrupted)
        with pytest.raises(KeyboardInterrupt):
            added(journal, walk, MOVES[0])
    assert journal.path.read_bytes() == data
    added(journal, walk, MOVES[0])


@POSIX
def test_a_file_that_may_not_grow_leaves_the_walk_whole(tmp_path: Path) -> None:
    # RLIMIT_FSIZE with SIGXFSZ ignored: write() fails with EFBIG, after a short write of what still fits (POSIX).
    process = child("full", tmp_path, 6000)
    said, _ = process.communicate(timeout=30)
    assert said.splitlines() == [
        "not recorded: a file may not grow any further here; save the walk elsewhere",
        "went on",
    ]
    assert process.returncode == 0


def can_mount() -> bool:
    """Whether a disk can be mounted in a namespace of its own, which goes with the process."""
    try:
        return not subprocess.run(
            ["unshare", "-rm", "mount", "-t", "tmpfs", "tmpfs", "/mnt"], capture_output=True
        ).returncode
    except OSError:
        return False


@POSIX
@pytest.mark.skipif(not can_mount(), reason="no disk can be mounted here")
def test_a_full_disk_and_a_read_only_disk_are_said_plainly(tmp_path: Path) -> None:
    done = subprocess.run(
        ["unshare", "-rm", sys.executable, str(CHILD), "tmpfs", str(tmp_path)],
        capture_output=True,
        text=True,
        env=ENVIRON,
    )
    assert done.returncode == 0, done.stderr
    full, begun_there, opened_there = done.stdout.splitlines()
    assert full == "not recorded: the disk is full; make room on it and try again, or save the walk elsewhere"
    assert begun_there.startswith(f'not recorded: cannot write in "{tmp_path}/disk/walks": the disk is read-only; ')
    assert 'cannot open "LMP-1125-' in opened_there
    assert "the disk is read-only" in opened_there


@pytest.mark.parametrize(
    ("code", "reason"),
    [
        (errno.EACCES, "no permission"),
        (errno.EPERM, "no permission"),
        (errno.ENOENT, "its folder is gone"),
        pytest.param(
            getattr(errno, "EDQUOT", -1),
            "is used up",
            marks=pytest.mark.skipif(not hasattr(errno, "EDQUOT"), reason="no quotas here"),
        ),
        (errno.EINTR, os.strerror(errno.EINTR).lower()),
    ],
)
def test_what_the_system_says_is_said_in_plain_words(tmp_path: Path, loaded: Loaded, code: int, reason: str) -> None:
    journal, walk = begun(tmp_path, *loaded)
    with Faults(code, 0)(), pytest.raises(JournalError, match="not recorded: ") as caught:
        added(journal, walk, MOVES[0])
    assert reason in caught.value.what
    assert caught.value.advice


@pytest.mark.parametrize(
    ("below", "reason"),
    [("file/walks", "a part of the path is a file"), ("n" * 300, "the name is too long")],
)
def test_a_folder_that_cannot_be_is_said_plainly(tmp_path: Path, loaded: Loaded, below: str, reason: str) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(JournalError, match=reason):
        begun(tmp_path / below, *loaded)


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="permission bits do not stop root")
def test_a_folder_without_permission_is_said_plainly(tmp_path: Path, loaded: Loaded) -> None:
    folder = tmp_path / "walks"
    folder.mkdir(mode=0o500)
    with pytest.raises(JournalError, match="no permission"):
        begun(folder, *loaded)


@POSIX
def test_a_folder_that_vanished_is_noticed_and_the_walk_saved_elsewhere(tmp_path: Path, loaded: Loaded) -> None:
    journal, walk = begun(tmp_path / "walks", *loaded)
    walk = added(journal, walk, *MOVES)
    shutil.rmtree(tmp_path / "walks")
    after = apply(walk, Move(Kind.ACKNOWLEDGE))
    with pytest.raises(JournalError, match="not recorded: it is not there, or its folder is gone"):
        journal.append(after, NOON)
    with open_journal(journal.save_copy(tmp_path / "stick" / "saved.jsonl")) as saved:
        saved.append(after, NOON)
        assert replay(saved.recorded, load) == after


@POSIX
def test_a_journal_that_another_program_replaced_or_cut_is_not_written(tmp_path: Path, loaded: Loaded) -> None:
    journal, walk = begun(tmp_path, *loaded)
    data = journal.path.read_bytes()
    journal.path.unlink()
    journal.path.write_bytes(data)
    with pytest.raises(JournalError, match="another file took the place"):
        added(journal, walk, MOVES[0])
    assert journal.path.read_bytes() == data
    other, walk = begun(tmp_path, *loaded, seed=2)
    os.truncate(other.path, 10)
    with pytest.raises(JournalError, match="cut off"):
        added(other, walk, MOVES[0])


def test_a_saved_copy_never_replaces_a_file(small: tuple[Path, Walk], tmp_path: Path) -> None:
    path, walk = small
    (tmp_path / "stick").mkdir()
    with open_journal(path) as journal:
        saved = journal.save_copy(tmp_path / "stick")
        assert saved == tmp_path / "stick" / path.name
        assert saved.read_bytes() == path.read_bytes()
        with pytest.raises(JournalError, match="there is one already"):
            journal.save_copy(tmp_path / "stick")
    assert replay(read_journal(saved), load) == walk
    assert sorted(each.name for each in (tmp_path / "stick").iterdir()) == [path.name, "copies"]


def test_only_the_next_move_of_the_walk_is_taken(small: tuple[Path, Walk]) -> None:
    path, walk = small
    with open_journal(path) as journal:
        two = apply(apply(walk, Move(Kind.NOTE)), Move(Kind.NOTE))
        for wrong in (walk, two):
            with pytest.raises(JournalError, match="not recorded: move"):
                journal.append(wrong, NOON)
        added(journal, walk, Move(Kind.NOTE))
