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
    not once its operational check passed; and a code that says so left less open than it does now. What the fallback
    had opened anew after the work was asked for once the check had passed.
    """
    items = frozenset(entry.open_items)
    if entry.move.code:
        is_of_before = items < walk.key.open_items
    else:
        worked = walk.step if entry.move.kind in (Kind.DONE, Kind.PASSED) else None
        later = seen_to(walk.library, worked) if isinstance(worked, Fix) else ()
        is_of_before = items ^ walk.key.open_items <= set(later)
    if not is_of_before:
        return walk
    asks = entry.stage == Stage.LEFT_OPEN and entry.move.kind == Kind.PASSED
    phase = Phase(Stage.LEFT_OPEN) if asks else walk.key.phase
    return replace(walk, key=walk.key._replace(open_items=items, phase=phase))
