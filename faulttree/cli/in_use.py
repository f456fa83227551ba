"""The library in use, by option, environment and current folder."""

from __future__ import annotations

import os
from argparse import Namespace
from pathlib import Path

from faulttree.cells import broken
from faulttree.cli.output import talk, width
from faulttree.library import VARIABLE, find_library
from faulttree.library_files import LIBRARY_FILE, is_file
from faulttree.problems import UsageError
from faulttree.visible import one_line


def here() -> Path:
    """The current folder; where it was deleted, its name is all that is left."""
    try:
        return Path.cwd()
    except OSError:
        return Path(os.environ.get("PWD") or ".")


def library_in_use(args: Namespace) -> Path:
    """The folder of the library in use; raises `UnreadableError` where what was named is none."""
    return find_library(args.library, os.environ, here())


def need_own_library(args: Namespace, other_way: str = "") -> None:
    """Refuse to write where the library in use is the shipped one, because no other was named: it is nobody's.

    Raises:
        UsageError: Neither an option nor the environment nor a folder upward names a library.
    """
    if _is_none_named(args):
        advice = f"go into the folder of a library, or name it by --library DIR{other_way}"
        raise UsageError(f"there is no {LIBRARY_FILE} here or above", advice)


def _is_none_named(args: Namespace) -> bool:
    """Whether the library in use is the shipped one only because no other was named."""
    return not args.library and not os.environ.get(VARIABLE) and library_above(here()) is None


def say_if_shipped(args: Namespace, folder: Path) -> None:
    """Tell whose library ``folder`` is where none was named: else an all-clear would seem to be about one's own."""
    if _is_none_named(args):
        text = f'There is no {LIBRARY_FILE} here or above; this is the library that ships with the program: "{folder}".'
        for line in broken(one_line(text), width()):
            talk(line)


def library_of_tree(args: Namespace, tree: str | None) -> Path:
    """The library that a tree belongs to: of a file, the nearest above it; of an id, the library in use."""
    path = here() / (tree or "")
    if tree and not args.library and is_file(path) and (folder := library_above(path.parent)):
        return folder
    return library_in_use(args)


def library_above(folder: Path) -> Path | None:
    """The nearest folder upward with a library, ``folder`` included."""
    folder = Path(os.path.normpath(folder))
    return next((each for each in (folder, *folder.parents) if is_file(each / LIBRARY_FILE)), None)
