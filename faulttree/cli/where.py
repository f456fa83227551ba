"""``faulttree where``: which library is in use and why, and where records, log and cache are kept."""

from __future__ import annotations

import os
from argparse import ArgumentParser, Namespace
from pathlib import Path

from faulttree.cells import broken
from faulttree.cli import report
from faulttree.cli.exits import ExitCode
from faulttree.cli.failures import LOG_NAME
from faulttree.cli.in_use import here, library_in_use
from faulttree.cli.output import Bold, out, width
from faulttree.cli.parser import examples
from faulttree.library import VARIABLE
from faulttree.library_files import LIBRARY_FILE, is_file
from faulttree.problems import UnreadableError
from faulttree.visible import one_line


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Say which library is in use and why, and in which folders walks, practice walks, the log of unexpected errors "
        "and drawings are kept. Nothing is made or changed."
    )
    parser.add_argument("--format", choices=("text", "json"), default="text", help="default: text")
    parser.epilog = examples("faulttree where", "faulttree where --format json")


def run(args: Namespace) -> ExitCode:
    """Print the folders."""
    library, why = _library(args)
    found = folders()
    if args.format == "json":
        values = {"library": str(library) if library else None, "library_because": why}
        out(report.document({**values, **{name: str(path) for name, path in found.items()}}))
        return ExitCode.DONE
    _print("library", f"{library if library else 'none'}", why)
    for name, path in found.items():
        _print(name, str(path), KEPT[name] if path.exists() else f"{KEPT[name]}; not there yet")
    return ExitCode.DONE


KEPT = {
    "records": "walks, one journal each",
    "practice": "practice walks, never counted",
    "log": "unexpected errors of the program",
    "cache": "drawings; may be deleted",
}


def folders() -> dict[str, Path]:
    """The places by name: walks, practice walks, log file, cache."""
    from platformdirs import user_cache_path, user_state_path

    from faulttree.journal.names import default_folder

    return {
        "records": default_folder(),
        "practice": default_folder(practice=True),
        "log": user_state_path("faulttree", appauthor=False) / LOG_NAME,
        "cache": user_cache_path("faulttree", appauthor=False),
    }


def _library(args: Namespace) -> tuple[Path | None, str]:
    """The library in use and why it is; where there is none, why not."""
    try:
        folder = library_in_use(args)
    except UnreadableError as error:
        return None, error.what
    if args.library is not None:
        return folder, "named by --library"
    if os.environ.get(VARIABLE):
        return folder, f"named by ${VARIABLE}"
    cwd = here()
    if is_file(folder / LIBRARY_FILE) and folder in (cwd, *cwd.parents):
        return folder, f"the nearest {LIBRARY_FILE} from the current folder upward"
    return folder, "the one that ships with the program"


def _print(name: str, path: str, note: str) -> None:
    """A place on a line of its own, so that it can be copied; what it is for below."""
    out(Bold(name))
    out(f"  {one_line(path)}")
    for line in broken(one_line(note), width(), "  ", "  "):
        out(line)
