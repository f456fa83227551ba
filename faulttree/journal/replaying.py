"""A walk from its journal: begun and moved again on the very files that it went by."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from faulttree.journal.lines import entry_of
from faulttree.journal.recorded import Recorded
from faulttree.model import Library, Tree
from faulttree.problems import CodeError, JournalError, MoveError
from faulttree.readback import begin
from faulttree.walk import Walk, apply

Load = Callable[[Path, str], tuple[Tree, Library]]
"""Loads the tree of that id from a library's folder, with the library."""

ADVICE = "use the version of faulttree that wrote it, or begin a new walk"


def replay(recorded: Recorded, load: Load) -> Walk:
    """The walk that the journal holds, on the kept copy of its tree and library.

    Raises JournalError where the copy was changed, or where a move leads elsewhere than it did when it was made.
    """
    recorded.files()
    tree, library = load(recorded.copy_folder, recorded.header.tree)
    walk: Walk | None = None
    for at, entry in enumerate(recorded.entries):
        place = f'line {at + 2} of "{recorded.path.name}"'
        try:
            walk = begin(tree, library, entry.move, True) if walk is None else apply(walk, entry.move, True)
        except (MoveError, CodeError) as error:
            raise JournalError(f"{place}: {error.what}", ADVICE) from error
        if entry_of(walk, entry.move, entry.at) != entry:
            raise JournalError(f"{place}: the move leads elsewhere than it did when it was made", ADVICE)
    if walk is None:
        raise JournalError(f'"{recorded.path.name}" holds no walk', ADVICE)
    return walk
