"""A walk from its journal: begun and moved again on the very files that it went by."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from faulttree.journal.lines import Entry, entry_of
from faulttree.journal.recorded import Recorded
from faulttree.keys import Kind, Phase, Stage
from faulttree.model import Fix, Library, Tree
from faulttree.open_items import seen_to
from faulttree.problems import CodeError, JournalError, MoveError
from faulttree.readback import begin
from faulttree.revised import on_revision
from faulttree.value import replace
from faulttree.walk import Walk, apply

Load = Callable[[Path, str], tuple[Tree, Library]]
"""Loads the tree of that id from a library's folder, with the library."""

ADVICE = "use the version of faulttree that wrote it, or begin a new walk"


def replay(recorded: Recorded, load: Load) -> Walk:
    """The walk that the journal holds, on the kept copies of its tree and library.

    Raises JournalError where the copy was changed, or where a move leads elsewhere than it did when it was made.
    """
    recorded.files()
    walk: Walk | None = None
    for at, entry in enumerate(recorded.entries):
        place = f'line {at + 2} of "{recorded.path.name}"'
        try:
            walk = _as_of_before(_made(recorded, load, walk, entry), entry)
        except (MoveError, CodeError) as error:
            raise JournalError(f"{place}: {error.what}", ADVICE) from error
        if entry_of(walk, entry.move, entry.at, entry.files) != entry:
            raise JournalError(f"{place}: the move leads elsewhere than it did when it was made", ADVICE)
    if walk is None:
        raise JournalError(f'"{recorded.path.name}" holds no walk', ADVICE)
    return walk


def _made(recorded: Recorded, load: Load, walk: Walk | None, entry: Entry) -> Walk:
    """The walk after one entry; each revision is loaded where the walk begins or goes on with it."""
    name = recorded.header.tree
    if walk is None:
        return begin(*load(recorded.folder_of(recorded.header.files), name), entry.move, True)
    if entry.move.kind == Kind.REVISED:
        return on_revision(walk, *load(recorded.folder_of(entry.files), name), entry.move)
    return apply(walk, entry.move, True)


def _as_of_before(walk: Walk, entry: Entry) -> Walk:
    """The walk with the items that are open as the journal says, where it is of before.

    Then the hazards that a fix closes, and before that its duties as well, were closed as soon as its work was done,
    not once its operational check passed; and a code on which a step is given up, or work was done, left less open.
    """
    items = frozenset(entry.open_items)
    kind, step, key = entry.move.kind, walk.step, walk.key
    if entry.move.code:
        is_of_before = items < key.open_items
    elif kind in (Kind.DONE, Kind.PASSED) and isinstance(step, Fix):
        is_of_before = items ^ key.open_items <= set(seen_to(walk.library, step))
    else:
        return walk
    if not is_of_before:
        return walk
    # What the passed check did not close then was asked for.
    phase = Phase(Stage.LEFT_OPEN) if kind == Kind.PASSED else key.phase
    return replace(walk, key=walk.site.settle(key._replace(open_items=items, phase=phase)))
