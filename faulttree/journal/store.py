"""Journals on the disk: begun, opened, added to and saved elsewhere."""

from __future__ import annotations

import contextlib
import datetime
import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import TracebackType

from faulttree import __version__
from faulttree.journal import copies, disk
from faulttree.journal.chain import Line, seal
from faulttree.journal.disk import plainly
from faulttree.journal.lines import Facts, Header, copy_digest, entry_of, timestamp
from faulttree.journal.names import Random, uuid7, walk_ids
from faulttree.journal.recorded import SUFFIX, TORN, Recorded, check_file, recorded_in
from faulttree.keys import Move
from faulttree.problems import JournalError
from faulttree.value import EMPTY, replace
from faulttree.walk import Walk

SAVE = "save the walk elsewhere"


class Journal:
    """A journal open for writing, by this process alone, until it is closed.

    ``recorded`` is what it holds. ``torn`` says in one sentence what was set aside when it was opened; mostly nothing.
    """

    def __init__(self, file: int, recorded: Recorded, files: Sequence[Mapping[str, bytes]], torn: str = "") -> None:
        self._file = file
        self._files = tuple(files)
        self.recorded = recorded
        self.torn = torn

    @property
    def id(self) -> str:
        """The id of the walk."""
        return self.recorded.header.walk

    @property
    def path(self) -> Path:
        """The file."""
        return self.recorded.path

    @property
    def head(self) -> str:
        """The number of lines and the beginning of the last digest."""
        return self.recorded.head

    @property
    def is_open(self) -> bool:
        """Whether this process has it, and may add to it."""
        return self._file >= 0

    def append(self, walk: Walk, now: datetime.datetime, files: Mapping[str, bytes] = EMPTY) -> None:
        """Record the last move of ``walk``; returns once it is on the disk.

        ``files`` are those that the walk goes by from here on, where it goes on with another revision.

        Raises JournalError, "not recorded: ...", and leaves the file as it was: the caller keeps the walk and may
        append it again, or `save_copy` elsewhere, open that and append it there.
        """
        last = self.recorded.entries[-1]
        if len(walk.log) != last.n + 1:
            raise JournalError(f"not recorded: move {len(walk.log)} cannot follow move {last.n}", "open the walk again")
        entry = entry_of(walk, walk.log[-1].move, timestamp(now), copies.digests_of(files))
        line = seal(entry.to_json(), self.recorded.lines[-1].digest)
        with plainly("not recorded"):
            if files:
                copies.keep(self.path.parent / copies.FOLDER, files)
            self._add(line)
        self._files += (files,) if files else ()
        self.recorded = replace(
            self.recorded, entries=(*self.recorded.entries, entry), lines=(*self.recorded.lines, line)
        )

    def _add(self, line: Line) -> None:
        size = self._size_in_place()
        try:
            disk.write_all(self._file, line.raw)
            disk.sync(self._file)
        except BaseException:
            # Where even this fails, the next append or the next opening cuts the torn line off.
            with contextlib.suppress(OSError):
                os.ftruncate(self._file, size)
                disk.sync(self._file)
            raise

    def _size_in_place(self) -> int:
        """The size of the whole lines, once nothing else stands behind them and the file is still where it belongs."""
        size = sum(len(line.raw) for line in self.recorded.lines)
        about = os.fstat(self._file)
        if not os.path.samestat(about, os.stat(self.path)):
            raise JournalError(f'not recorded: another file took the place of "{self.path.name}"', SAVE)
        if about.st_size < size:
            raise JournalError(f'not recorded: something else cut off lines of "{self.path.name}"', SAVE)
        if about.st_size > size:
            os.ftruncate(self._file, size)
        return size

    def save_copy(self, path: Path) -> Path:
        """Save the journal as a new file, or in a folder, with the files that it goes by; returns the file.

        Works too when the journal's own folder is gone. Raises JournalError, also where the file is there already.
        """
        with plainly(f'cannot save "{path}"'):
            target = path / self.path.name if path.is_dir() else path
            disk.make_folder(target.parent)
            disk.write_new(target, self.recorded.whole)
        with plainly(f'"{target}" is saved, but not the tree that it goes by'):
            for files in self._files or self.recorded.files():
                copies.keep(target.parent / copies.FOLDER, files)
        return target

    def close(self) -> None:
        """Let others open the journal. Closing twice does nothing."""
        if self._file >= 0:
            os.close(self._file)
            self._file = -1

    def __enter__(self) -> Journal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def create(
    folder: Path,
    files: Mapping[str, bytes],
    walk: Walk,
    move: Move,
    facts: Facts,
    now: datetime.datetime,
    random: Random = os.urandom,
) -> Journal:
    """Begin the journal of a walk that has just begun, and return once it is on the disk.

    ``files`` are the tree's file and all shared files, by name relative to the library; ``move`` is the move that
    the walk was begun with, as it was given. Raises JournalError.
    """
    at = timestamp(now)
    with plainly(f'not recorded: cannot write in "{folder}"'):
        disk.make_folder(folder)
        copies.keep(folder / copies.FOLDER, files)
        header = _header(files, walk, move, facts, at)
        header = replace(header, uuid=str(uuid7(now, random)))
        begin = entry_of(walk, move, at).to_json()
        for name in walk_ids(walk.tree.short, now, facts.practice, random):
            first = seal(replace(header, walk=name).to_json(), "")
            with contextlib.suppress(FileExistsError):
                return _placed(folder / (name + SUFFIX), first.raw + seal(begin, first.digest).raw)
    raise JournalError(f'not recorded: no name is left for a walk in "{folder}"', "choose another folder")


def _placed(path: Path, data: bytes) -> Journal:
    """Write a new journal and open it; one that cannot be opened is not left, for its walk is not begun."""
    disk.write_new(path, data)
    try:
        return open_journal(path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(path)
        raise


def stated_model(walk: Walk, move: Move) -> str:
    """The model that was stated; empty where it makes no difference in the tree and nobody was asked for it."""
    return "" if walk.tree.alike and len(walk.tree.models) > 1 and not move.model else walk.key.model


def _header(files: Mapping[str, bytes], walk: Walk, move: Move, facts: Facts, at: str) -> Header:
    tree = walk.tree
    digests = copies.digests_of(files)
    return Header(
        walk="",
        uuid="",
        at=at,
        tree=tree.id,
        short=tree.short,
        symptom=tree.symptom,
        revision=tree.revision,
        model=stated_model(walk, move),
        program=__version__,
        copy=copy_digest(digests),
        files=digests,
        facts=facts,
    )


def open_journal(path: Path) -> Journal:
    """Open a journal to go on with it: locked, verified, and with a torn last line set aside. Raises JournalError.

    The torn piece goes to a file of the same name that ends in ``.torn``. A move is acknowledged only once its line
    is whole on the disk, so no acknowledged move is lost by a writing that was cut off.
    """
    with plainly(f'cannot open "{path.name}"'):
        file = os.open(path, os.O_RDWR | os.O_APPEND | disk.BINARY)
        try:
            return _opened(path, file)
        except BaseException:
            os.close(file)
            raise


def _opened(path: Path, file: int) -> Journal:
    check_file(path, os.fstat(file))
    if not disk.lock(file):
        raise JournalError("this walk is open on another screen", "leave it there, then open it here")
    recorded = recorded_in(path, disk.read_to_end(file))
    torn = _set_aside(path, file, recorded) if recorded.torn else ""
    files: tuple[Mapping[str, bytes], ...] = ()
    # In memory the files can still be saved elsewhere when their disk is gone. Damage is said when they are needed.
    with contextlib.suppress(JournalError):
        files = recorded.files()
    return Journal(file, replace(recorded, torn=b""), files, torn)


def _set_aside(path: Path, file: int, recorded: Recorded) -> str:
    aside = path.with_suffix(TORN)
    other = os.open(aside, os.O_WRONLY | os.O_APPEND | os.O_CREAT | disk.BINARY, 0o600)
    try:
        disk.write_all(other, recorded.torn)
        disk.sync(other)
    finally:
        os.close(other)
    disk.sync_folder(path.parent)
    os.ftruncate(file, len(recorded.whole))
    disk.sync(file)
    return (
        f'the last line of "{path.name}" was not whole and is set aside in "{aside.name}": '
        "see in the log whether what was answered last is there"
    )
