"""Which walks are in a folder, from their journals alone."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from pathlib import Path

from faulttree.closing import GIVEN_UP
from faulttree.journal.disk import plainly
from faulttree.journal.glance import glance
from faulttree.journal.lines import Entry, Header, timestamp
from faulttree.journal.recorded import SUFFIX, check_file, read_journal
from faulttree.keys import Kind
from faulttree.problems import JournalError
from faulttree.value import EMPTY, Value
from faulttree.walk import STOPPED

_KINDS = frozenset(str(kind).encode() for kind in Kind if kind != Kind.REVISED)
"""The moves that a glance passes over; which files a walk goes by, another revision says within."""


class Summary(Value):
    """A walk in a list. Where the journal cannot be used, ``problem`` says why, and header and last are missing.

    ``at`` is the time of the last move, or of the file; ``files`` are the SHA-256 of those that the walk goes by now;
    ``torn`` says that opening it will set a torn line aside.
    """

    path: Path
    at: str
    header: Header | None = None
    last: Entry | None = None
    files: Mapping[str, str] = EMPTY
    moves: int = 0
    torn: bool = False
    problem: str = ""

    @property
    def id(self) -> str:
        """The id of the walk; of a file that is none, its name."""
        return self.header.walk if self.header else self.path.name

    @property
    def handed_to(self) -> str:
        """The role that it was handed over to by its last move; empty where none was said."""
        return self.last.move.to if self.last and self.last.move.kind == Kind.HAND_OVER else ""

    @property
    def ended(self) -> bool:
        """Whether the walk has come to its end."""
        return self.last is not None and self.last.ended

    @property
    def given_up(self) -> bool:
        """Whether the walk was given up; afterwards things may have been recorded as closed."""
        move = self.last.move if self.last is not None and self.last.state == STOPPED else None
        return move is not None and (move.label == GIVEN_UP or move.kind == Kind.CLOSED)

    @property
    def over(self) -> bool:
        """Whether the walk asks for nothing more: it has ended or was given up."""
        return self.ended or self.given_up


def summaries(folder: Path, include_ended: bool = False) -> list[Summary]:
    """The walks of a folder that can be gone on with, and on wish those that are over, newest first.

    Damaged files and files that are no journals come back with a problem. A folder that is not there holds no walk.
    Raises JournalError where the folder cannot be read.
    """
    with plainly(f'cannot read "{folder}"'):
        if not folder.exists():
            return []
        paths = sorted(path for path in folder.iterdir() if path.suffix == SUFFIX and not path.name.startswith("."))
    found = [summary(path) for path in paths]
    wanted = [each for each in found if include_ended or not each.over]
    return sorted(wanted, key=lambda each: each.at, reverse=True)


def summary(path: Path) -> Summary:
    """The summary of one file."""
    try:
        with plainly(f'cannot read "{path.name}"'):
            check_file(path, path.stat())
            seen = glance(path.read_bytes(), _KINDS)
        if seen is not None:
            return Summary(path, seen.last.at, seen.header, seen.last, seen.header.files, seen.moves)
        recorded = read_journal(path)
    except JournalError as error:
        return Summary(path, _time_of(path), problem=error.what)
    last = recorded.entries[-1]
    files = recorded.every_copy[-1]
    return Summary(path, last.at, recorded.header, last, files, len(recorded.entries), bool(recorded.torn))


def _time_of(path: Path) -> str:
    try:
        seconds = path.lstat().st_mtime
        return timestamp(datetime.datetime.fromtimestamp(seconds, datetime.UTC))
    except (OSError, ValueError, OverflowError):
        return ""


def find_journal(folder: Path, said: str) -> Path:
    """The journal of the id that was said: small letters, blanks and hyphens do not matter. Raises JournalError."""
    wanted = _plain(said)
    if not folder.exists():
        raise JournalError(f'there is no walk "{said}"', "no walk is recorded yet")
    with plainly(f'cannot read "{folder}"'):
        for path in sorted(folder.iterdir()):
            if path.suffix == SUFFIX and wanted and _plain(path.stem) == wanted:
                return path
    raise JournalError(f'there is no walk "{said}" in "{folder}"', "choose one from the list of walks")


def _plain(said: str) -> str:
    return "".join(sign for sign in said.upper() if sign.isalnum())
