"""How a command ends: the exit codes, which are a promise to scripts."""

from __future__ import annotations

from enum import IntEnum


class ExitCode(IntEnum):
    """What the number says. It is about the command and the files, never about an aircraft."""

    DONE = 0
    PROBLEMS = 1
    USAGE = 2
    UNFINISHED = 3
    INTERRUPTED = 130
    """128 and the number of the signal, as shells count."""
    PIPE_CLOSED = 141


MEANINGS: tuple[tuple[ExitCode, str], ...] = (
    (ExitCode.DONE, "done; no statement about the aircraft"),
    (ExitCode.PROBLEMS, "problems found"),
    (ExitCode.USAGE, "the command's words do not fit, or something cannot be read or written"),
    (ExitCode.UNFINISHED, "stopped before the end"),
    (ExitCode.INTERRUPTED, "stopped by Ctrl-C"),
    (ExitCode.PIPE_CLOSED, "the reader of the output went away"),
)
