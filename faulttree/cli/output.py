"""Everything that is printed goes through here: answers to stdout, talk to stderr.

What comes from files, names and arguments may hold characters that act on a terminal or turn the direction of
reading. They are made visible here, at the border, whatever was done before. Signs that the encoding of the
stream cannot carry are written in ASCII, so that no output dies of them. Only the bare interpreter is needed
here, because this module is loaded by every command.
"""

from __future__ import annotations

import os
import sys

from faulttree.visible import carried, visible

TYPE_CHECKING = False
"""As in `typing`, without the time to load it."""

if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import Any, TextIO

    from faulttree.cli.exits import ExitCode as ExitCode

ALWAYS, NEVER, AUTO = "always", "never", "auto"
NARROWEST, WIDEST, USUAL_WIDTH = 24, 100, 80

_inked: dict[str, bool] = {"stdout": False, "stderr": False}


def __getattr__(name: str) -> object:
    """`ExitCode` is loaded when it is asked for: it needs `enum`, which takes as long as the rest of a start."""
    if name == "ExitCode":
        from faulttree.cli.exits import ExitCode

        return ExitCode
    raise AttributeError(name)


class Bold(str):
    """A part of a line that stands out where the stream may carry colour."""

    __slots__ = ()


Line = tuple[str, ...]
"""A line in parts, some of which may be bold; the parts follow each other without a blank."""


def out(*parts: str, end: str = "\n") -> None:
    """Write a line of the answer to stdout."""
    _write(sys.stdout, parts, end, _inked["stdout"])


def talk(*parts: str, end: str = "\n") -> None:
    """Write a line of talk to stderr: errors, progress, advice. Where nobody can be told, nothing is."""
    try:
        _write(sys.stderr, parts, end, _inked["stderr"])
    except (OSError, ValueError):
        return


def _write(stream: TextIO | None, parts: tuple[str, ...], end: str, ink: bool) -> None:
    if stream is None:
        return
    text = "".join(f"\x1b[1m{visible(part)}\x1b[0m" if ink and type(part) is Bold else visible(part) for part in parts)
    stream.write(carried(text + end, getattr(stream, "encoding", None)))


def prepare(colour: str, environ: Mapping[str, str] | None = None) -> None:
    """Make the streams ready: no character may end the program, and colour is decided once for each stream."""
    env = os.environ if environ is None else environ
    for name in _inked:
        stream: Any = getattr(sys, name)
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
        _inked[name] = wants_colour(colour, env, is_terminal(stream))


def wants_colour(colour: str, environ: Mapping[str, str], terminal: bool) -> bool:
    """Whether a stream gets colour: the option decides, then NO_COLOR, then FORCE_COLOR, then TERM and the stream.

    NO_COLOR and FORCE_COLOR count where they are not empty (no-color.org); where both do, NO_COLOR wins.
    """
    if colour in (ALWAYS, NEVER):
        return colour == ALWAYS
    if environ.get("NO_COLOR"):
        return False
    if environ.get("FORCE_COLOR"):
        return True
    return terminal and environ.get("TERM") != "dumb"


def is_terminal(stream: Any) -> bool:
    """Whether the stream is one and still open."""
    try:
        return bool(stream.isatty())
    except (AttributeError, ValueError):
        return False


def width() -> int:
    """The columns to write for: COLUMNS, else the terminal's, else 80; never under 24 and never over 100."""
    columns = os.environ.get("COLUMNS", "")
    try:
        found = int(columns) if columns.isdecimal() else os.get_terminal_size(1).columns
    except (OSError, ValueError):
        found = USUAL_WIDTH
    return max(NARROWEST, min(WIDEST, found or USUAL_WIDTH))


def hush() -> None:
    """Let nothing more be written to stdout: its reader went away, or its disk is full."""
    try:
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, sys.stdout.fileno())
        os.close(nothing)
    except (OSError, ValueError, AttributeError):
        pass
