"""What a journal holds, read and verified without changing it."""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Iterator, Mapping
from pathlib import Path

from faulttree.journal import copies
from faulttree.journal.chain import KEEP, Line, read_chain
from faulttree.journal.disk import plainly
from faulttree.journal.lines import Entry, Header, copy_digest, entry_from_json, header_from_json
from faulttree.problems import JournalError
from faulttree.value import Value

SUFFIX = ".jsonl"
TORN = ".torn"
LARGEST = 64 << 20
"""Bytes of the largest file that is read as a journal; a walk has some ten thousand."""


class Recorded(Value):
    """What a journal holds. ``torn`` is what stands behind its last whole line."""

    path: Path
    header: Header
    entries: tuple[Entry, ...]
    lines: tuple[Line, ...]
    torn: bytes = b""

    @property
    def head(self) -> str:
        """The number of lines and the beginning of the last digest: printed on paper, it shows a cut tail later."""
        return f"{len(self.lines)}-{self.lines[-1].digest[:12]}"

    @property
    def whole(self) -> bytes:
        """The bytes of the whole lines."""
        return b"".join(line.raw for line in self.lines)

    @property
    def every_copy(self) -> tuple[Mapping[str, str], ...]:
        """The files that the walk went by, each revision's with their digests, in order; the last goes on."""
        return (self.header.files, *(entry.files for entry in self.entries if entry.files))

    def files(self) -> tuple[dict[str, bytes], ...]:
        """The files of every copy, verified. Raises JournalError."""
        with plainly(f'cannot read the tree that walk "{self.header.walk}" goes by'):
            return tuple(copies.read_copy(self.folder_of(files), files) for files in self.every_copy)

    @property
    def copy_folder(self) -> Path:
        """The folder of the files that the walk goes by now."""
        return self.folder_of(self.every_copy[-1])

    def folder_of(self, files: Mapping[str, str]) -> Path:
        """The folder of one copy, given the digests of its files."""
        return self.path.parent / copies.FOLDER / copy_digest(files)


def recorded_in(path: Path, data: bytes) -> Recorded:
    """What the bytes of the journal at ``path`` say. Raises JournalError that names the line where one is damaged."""
    chain = read_chain(data, path.name)
    if len(chain.lines) < 2:
        raise JournalError(f'"{path.name}" holds no walk: it has no whole beginning', "move the file to another folder")
    with _line(path, 1):
        header = header_from_json(chain.lines[0].fields)
    entries: list[Entry] = []
    for number, line in enumerate(chain.lines[1:], 2):
        with _line(path, number):
            entries.append(entry_from_json(line.fields))
            if number > 2 and entries[-1].n != entries[-2].n + 1:
                raise JournalError(f'"n" is {entries[-1].n} after {entries[-2].n}', KEEP)
    return Recorded(path, header, tuple(entries), chain.lines, chain.torn)


@contextlib.contextmanager
def _line(path: Path, number: int) -> Iterator[None]:
    """Name the line in an error inside."""
    try:
        yield
    except JournalError as error:
        raise JournalError(f'line {number} of "{path.name}": {error.what}', error.advice) from None


def check_file(path: Path, about: os.stat_result) -> None:
    """Raises JournalError where a file is none that can be read as a journal: a device or a pipe would never end."""
    if not stat.S_ISREG(about.st_mode) or about.st_size > LARGEST:
        raise JournalError(f'"{path.name}" cannot be a walk', "move it to another folder")


def read_journal(path: Path) -> Recorded:
    """Read and verify a journal without a lock and without changing it. Raises JournalError."""
    with plainly(f'cannot read "{path.name}"'):
        check_file(path, path.stat())
        return recorded_in(path, path.read_bytes())
