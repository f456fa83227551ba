"""``faulttree check --fix`` and ``--diff``: how files look is mended, or what would be changed is shown."""

from __future__ import annotations

import os
from argparse import Namespace
from collections.abc import Iterator, Sequence
from pathlib import Path

from faulttree.cells import broken
from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import here
from faulttree.cli.output import out, talk, width
from faulttree.cli.targets import Target
from faulttree.library import LibraryFile, load_library
from faulttree.library_files import read_bytes
from faulttree.load.text import without_mark
from faulttree.mending import Mended, mend
from faulttree.writing import replace_file


def show(targets: Sequence[Target], args: Namespace) -> ExitCode:
    """Print the changes that would be made; 1 where there are any."""
    from difflib import unified_diff

    found = [each for each in _mended(targets, args) if each.is_changed]
    for each in found:
        name = each.file.file
        before, after = each.file.text.split("\n"), each.after.split("\n")
        for line in unified_diff(before, after, name, name, lineterm=""):
            out(line.replace("\r", ""))
    return ExitCode.PROBLEMS if found else ExitCode.DONE


def fix(targets: Sequence[Target], args: Namespace) -> None:
    """Write what is changed, and tell what was done and what was left alone."""
    for each in _mended(targets, args):
        if each.is_changed:
            _write(each)
            _tell(f"{each.file.file}: mended: {', '.join(each.done)}.")


def _mended(targets: Sequence[Target], args: Namespace) -> Iterator[Mended]:
    """The files that are named, mended; of what could not be mended is told."""
    for target in targets:
        loaded = load_library(target.folder)
        for file in loaded.files.values():
            if file.path in target.parts or _is_named(file, args.path):
                mended = mend(loaded, file)
                for why in mended.refused:
                    _tell(f"{file.file}: left alone: {why}.")
                yield mended


def _is_named(file: LibraryFile, paths: Sequence[str]) -> bool:
    """Whether a path is the file's or that of a folder above it; without paths every file is meant."""
    named = [Path(os.path.abspath(here() / path)) for path in paths]
    own = Path(os.path.abspath(here() / file.path))
    return not named or any(own == path or path in own.parents for path in named)


def _tell(text: str) -> None:
    for line in broken(text, width(), "", "  "):
        talk(line)


def _write(mended: Mended) -> None:
    """Put the new file in the place of the old one, never over what somebody else wrote."""
    mark, _ = without_mark(read_bytes(mended.file.path))
    replace_file(mended.file.path, mark + mended.file.text.encode(), mark + mended.after.encode())
