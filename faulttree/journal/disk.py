"""Writing that survives a power cut, the lock of a journal, and plain words for what the system refuses.

The functions raise OSError as the system does; `plainly` turns one into a JournalError.
"""

from __future__ import annotations

import contextlib
import errno
import os
import sys
from collections.abc import Iterator
from pathlib import Path

from faulttree.problems import JournalError

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

BINARY = getattr(os, "O_BINARY", 0)
"""Without it Windows would write a line's end as two characters."""

FAR = 1 << 30
"""Where Windows locks: a locked byte cannot be read by others, so it lies far behind the last line."""

ROOM = "make room on it and try again, or save the walk elsewhere"
ELSEWHERE = "choose another folder, or ask whoever looks after this computer"
AWAY = "see that the disk is connected and try again, or save the walk elsewhere"
REASONS = {
    "ENOSPC": ("the disk is full", ROOM),
    "EDQUOT": ("your share of the disk is used up", ROOM),
    "EFBIG": ("a file may not grow any further here", "save the walk elsewhere"),
    "EROFS": ("the disk is read-only", ELSEWHERE),
    "EACCES": ("no permission", ELSEWHERE),
    "EPERM": ("no permission", ELSEWHERE),
    "ENOTDIR": ("a part of the path is a file, not a folder", "choose another folder"),
    "EISDIR": ("it is a folder, not a file", "name a file"),
    "EEXIST": ("there is one already", "choose another name"),
    "ENAMETOOLONG": ("the name is too long", "choose a shorter one"),
    "ENOENT": ("it is not there, or its folder is gone", AWAY),
    "EIO": ("the disk does not answer", AWAY),
    "ENODEV": ("the disk does not answer", AWAY),
    "ENXIO": ("the disk does not answer", AWAY),
    "ESTALE": ("the disk does not answer", AWAY),
    "EMFILE": ("too many files are open", "close other programs and try again"),
    "ENFILE": ("too many files are open", "close other programs and try again"),
}


def plain(error: OSError, what: str) -> JournalError:
    """The error in plain words: ``what`` failed, why, and what to do."""
    said = (error.strerror or str(error)).lower()
    reason, advice = REASONS.get(errno.errorcode.get(error.errno or 0, ""), (said, ELSEWHERE))
    return JournalError(f"{what}: {reason}", advice)


@contextlib.contextmanager
def plainly(what: str) -> Iterator[None]:
    """Turn an OSError inside into a JournalError: ``what`` failed, and why."""
    try:
        yield
    except OSError as error:
        raise plain(error, what) from error


def write_all(file: int, data: bytes) -> None:
    """Write every byte: the system may take fewer at a time."""
    left = memoryview(data)
    while left:
        left = left[os.write(file, left) :]


def sync(file: int) -> None:
    """Return once the file's content is on the disk."""
    if sys.platform == "darwin":
        # fsync leaves the data in the drive's own memory there. Where a disk cannot do more, fsync is what there is.
        with contextlib.suppress(OSError):
            fcntl.fcntl(file, fcntl.F_FULLFSYNC)
            return
    os.fsync(file)


def sync_folder(folder: Path) -> None:
    """Return once the folder's names are on the disk, where the system has a way to ask for it."""
    if sys.platform == "win32":
        return
    try:
        file = os.open(folder, os.O_RDONLY)
    except PermissionError:
        # A folder in which one may make files but not list them cannot be opened, so not be synced either.
        return
    try:
        os.fsync(file)
    except OSError as error:
        # Some network disks sync names by themselves and say that this is no call for a folder.
        if error.errno != errno.EINVAL:
            raise
    finally:
        os.close(file)


def make_folder(folder: Path) -> None:
    """Make the folder and those above it that are missing, for the owner alone, each name synced."""
    missing = []
    for each in (folder, *folder.parents):
        if each.is_dir():
            break
        missing.append(each)
    for each in reversed(missing):
        try:
            os.mkdir(each, 0o700)
        except FileExistsError:
            if not each.is_dir():
                raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(each)) from None
        sync_folder(each.parent)


def write_new(path: Path, data: bytes) -> None:
    """Write a file that is not there yet, for the owner alone: after a power cut it is there whole or not at all.

    Raises FileExistsError where it is there. The half-written file's name keeps others off the name meanwhile.
    """
    half = path.with_name(f".{path.name}.new")
    file = os.open(half, os.O_WRONLY | os.O_CREAT | os.O_EXCL | BINARY, 0o600)
    made = half
    try:
        try:
            if os.path.lexists(path):
                raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))
            write_all(file, data)
            sync(file)
        finally:
            os.close(file)
        os.replace(half, path)
        made = path
        sync_folder(path.parent)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(made)
        raise


def lock(file: int) -> bool:
    """Take the file for this process alone; False where another has it. The system frees it when the process ends."""
    try:
        if sys.platform == "win32":
            os.lseek(file, FAR, os.SEEK_SET)
            msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        if error.errno in (errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES, errno.EDEADLK):
            return False
        raise
    return True


def read_to_end(file: int) -> bytes:
    """All of the file from its beginning."""
    os.lseek(file, 0, os.SEEK_SET)
    parts = []
    while part := os.read(file, 1 << 20):
        parts.append(part)
    return b"".join(parts)
