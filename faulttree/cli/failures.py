"""How a command that cannot go on tells so: one sentence, and one line what to do.

An error that nobody expected is told in one sentence too; its traceback goes to a log file in the user's state folder.
"""

from __future__ import annotations

import traceback
from pathlib import Path

from faulttree.cells import broken
from faulttree.cli.exits import ExitCode
from faulttree.cli.output import Bold, talk, width
from faulttree.problems import FaulttreeError, LibraryError, Problem
from faulttree.visible import one_line

LOG_NAME = "faulttree.log"
MOST_PROBLEMS = 5


def tell(error: Exception, debug: bool) -> ExitCode:
    """Tell of ``error`` on stderr; with ``debug`` its traceback as well. Returns the exit code."""
    if debug:
        talk("".join(traceback.format_exception(error)), end="")
    if isinstance(error, FaulttreeError):
        _say(error.what, error.advice)
        if isinstance(error, LibraryError):
            _list(error.problems)
            return ExitCode.PROBLEMS
        return ExitCode.USAGE
    if isinstance(error, OSError):
        name = f'"{error.filename}": ' if error.filename else ""
        _say(
            f"{name}{(error.strerror or str(error)).lower()}",
            "check names, permissions and room on the disk",
        )
        return ExitCode.USAGE
    _say(f"something went wrong inside faulttree ({type(error).__name__})", _where_it_is_logged(error))
    return ExitCode.USAGE


def _say(what: str, advice: str) -> None:
    columns = width()
    head, *more = broken(one_line(what), columns, "error: ", "  ")
    talk(Bold("error"), head.removeprefix("error"))
    for line in [*more, *(broken(one_line(advice), columns, "  ", "  ") if advice else ())]:
        talk(line)


def _list(problems: tuple[Problem, ...]) -> None:
    """The first problems of a library that stop a command, one a line."""
    from faulttree.cli.report import concise

    for problem in problems[:MOST_PROBLEMS]:
        talk("  ", *concise(problem))
    if len(problems) > MOST_PROBLEMS:
        talk(f"  and {len(problems) - MOST_PROBLEMS} more")


def _where_it_is_logged(error: Exception) -> str:
    try:
        path = write_log(error)
    except Exception:
        return "the log file cannot be written; run the same command with --debug to see what happened"
    return f"what happened is in {path}; send this file with your report"


def write_log(error: Exception) -> Path:
    """Add the traceback of ``error`` to the log; returns where that is."""
    import sys
    from datetime import UTC, datetime

    from platformdirs import user_state_path

    from faulttree import __version__

    path = user_state_path("faulttree", appauthor=False) / LOG_NAME
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    head = f"== {datetime.now(UTC):%Y-%m-%dT%H:%M:%SZ} faulttree {__version__}, Python {sys.version.split()[0]}\n"
    with path.open("a", encoding="utf-8", errors="backslashreplace") as log:
        log.write(head + "".join(traceback.format_exception(error)) + "\n")
    return path
