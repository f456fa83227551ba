"""Writing files whole or not at all: a reader never meets half of one, and nobody else's change is written over."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from faulttree.library_files import read_bytes, shown
from faulttree.problems import UnreadableError


def write_file(path: Path, data: bytes, mode: int | None = None) -> None:
    """Write ``data`` to ``path``, whose folder is made where it is missing, with the usual permissions or ``mode``.

    Raises OSError.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, half = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".new", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(half, 0o666 & ~_umask() if mode is None else mode)
        os.replace(half, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(half)
        raise


def replace_file(path: Path, before: bytes, after: bytes) -> None:
    """Put ``after`` in the place of ``before``, with the file's permissions; where it is a link, into what it leads to.

    Raises UnreadableError where the file has changed meanwhile or cannot be written.
    """
    if read_bytes(path) != before:
        raise UnreadableError(f'"{shown(path)}" has changed meanwhile', "run the command again")
    try:
        target = path.resolve()
        write_file(target, after, target.stat().st_mode & 0o7777)
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise UnreadableError(f'"{shown(path)}" cannot be written: {reason}', "check its permissions") from None


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
