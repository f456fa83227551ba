"""The files that a walk goes by, kept byte for byte in a folder called by their digest.

A copy is written once, beside its place, and put there whole. Since its name says what is in it, one that was
damaged is put aside and written anew when the same files are kept again: that mends the walks that need it.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path, PurePosixPath

from faulttree.journal.chain import KEEP, digest_of
from faulttree.journal.disk import BINARY, make_folder, sync, sync_folder, write_all
from faulttree.journal.lines import copy_digest
from faulttree.problems import JournalError

FOLDER = "copies"


def digests_of(files: Mapping[str, bytes]) -> dict[str, str]:
    """The SHA-256 of each file by its name. Raises JournalError for a name that leads out of its folder."""
    for name in files:
        parts = PurePosixPath(name).parts
        if not parts or ".." in parts or any(sign in name for sign in ("\\", ":", "\0")) or name.startswith("/"):
            raise JournalError(f'"{name}" cannot be the name of a file to keep', "name it relative to the library")
    return {name: digest_of(data) for name, data in files.items()}


def keep(copies: Path, files: Mapping[str, bytes]) -> Path:
    """Keep the files, and return their folder once they are on the disk. Raises OSError or JournalError."""
    digests = digests_of(files)
    place = copies / copy_digest(digests)
    make_folder(copies)
    if place.exists():
        with contextlib.suppress(JournalError, OSError):
            read_copy(place, digests)
            return place
        os.rename(place, Path(tempfile.mkdtemp(prefix="damaged-", dir=copies)) / place.name)
    half = Path(tempfile.mkdtemp(prefix=".new-", dir=copies))
    try:
        _write(half, files)
        os.rename(half, place)
    except OSError:
        shutil.rmtree(half, ignore_errors=True)
        # Another process may have kept the same files meanwhile.
        if not place.exists():
            raise
        read_copy(place, digests)
    sync_folder(copies)
    return place


def _write(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, data in files.items():
        path = folder / name
        make_folder(path.parent)
        file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | BINARY, 0o600)
        try:
            write_all(file, data)
            sync(file)
        finally:
            os.close(file)
    for each in {folder, *((folder / name).parent for name in files)}:
        sync_folder(each)


def read_copy(place: Path, digests: Mapping[str, str]) -> dict[str, bytes]:
    """The kept files, each verified. Raises JournalError where one was changed or added, OSError where one is gone."""
    there = {path.relative_to(place).as_posix() for path in place.rglob("*") if not path.is_dir()}
    for name in sorted(there - set(digests)):
        raise JournalError(f'"{place / name}" does not belong to the files that the walk goes by', "remove it")
    files = {}
    for name, digest in digests.items():
        files[name] = (place / name).read_bytes()
        if digest_of(files[name]) != digest:
            raise JournalError(f'"{place / name}" was changed after it was kept', KEEP)
    return files
