"""What became of a walk and its tree since: of the tree since the walk began, of the walk since it was over.

A walk goes on with the revision in use where that fits it, else by the copy that it began with. Where the library in
use has withdrawn the tree, it is not walked on: what is open is recorded as closed, and the walk is handed over or
given up.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from faulttree.compare import Side, compare
from faulttree.compare.telling import told_plainly
from faulttree.compare.titles import titles
from faulttree.digest import tree_digest
from faulttree.journal import Recorded
from faulttree.journal.copies import digests_of
from faulttree.keys import Kind
from faulttree.library import LoadedLibrary, headers_of, load_tree
from faulttree.library_files import tree_paths
from faulttree.model import Fix
from faulttree.present.over import how_over
from faulttree.present.progress import step_words
from faulttree.present.refusal import refusal
from faulttree.problems import FaulttreeError, MoveError
from faulttree.sessions import Onto, files_of, looked_through, onto_revision
from faulttree.value import Value
from faulttree.walk import STOPPED, Walk

NOT_THERE = "The library in use does not have this tree. The walk goes on with the one that it began with."
CHANGED = "The tree or its shared entries have changed since this walk began. It goes on as they were then."
WITH_ERRORS = "The tree in use has errors. The walk goes on as it was then."
WITHDRAWN = "THIS TREE HAS BEEN WITHDRAWN since the walk began. It is not walked on."
WHAT_NOW = "Close what is open, then hand the walk over or give it up. Begin anew with a tree that is in use."
SINCE = "What changed in meaning since this walk was left:"
UNREADABLE = "What changed cannot be told, as the library in use has errors: see faulttree check."
WORK_STAYS = "Work that was done stays in the log, and what it left open stays open."


class Since(Value):
    """What became of it: a sentence, or empty; whether it was withdrawn; what changed in meaning, the worst first.

    ``onto`` is the revision that the walk goes on with, and the walk on it; without it the walk goes on as it was then.
    """

    said: str = ""
    withdrawn: bool = False
    differences: tuple[str, ...] = ()
    onto: Onto | None = None


def since_begun(library: Path, recorded: Recorded, walk: Walk) -> Since:
    """What became of the tree since the walk began; nothing where ``library``, the one in use, has it as it was."""
    name = recorded.header.tree
    if _is_withdrawn(library, name):
        return Since(WITHDRAWN, withdrawn=True)
    try:
        loaded = load_tree(library, name)
        tree = loaded.trees.get(name)
        same = tree is not None and digests_of(files_of(loaded, tree)) == recorded.every_copy[-1]
    except FaulttreeError:
        return Since(NOT_THERE)
    if same:
        return Since()
    differences = _differences(loaded, walk)
    return _onto(loaded, walk, differences) if differences else Since(CHANGED)


def _onto(loaded: LoadedLibrary, walk: Walk, differences: tuple[str, ...]) -> Since:
    """What the walk goes on with, where the tree in use may be walked and fits it."""
    try:
        onto = onto_revision(walk, looked_through(loaded, walk.tree.id))
    except MoveError as error:
        return Since(refusal(error), differences=differences)
    except FaulttreeError:
        return Since(WITH_ERRORS, differences=differences)
    return Since(" ".join(_goes_on(onto.walk)), differences=differences, onto=onto)


def _goes_on(walk: Walk) -> Iterator[str]:
    """What stands of a walk that goes on with another revision, and where it is asked again."""
    move = walk.log[-1].move
    yield f"The walk goes on with revision {walk.tree.revision} as it is in use now."
    if not move.to:
        yield "What was answered so far stands."
        return
    stand = "The first answer stands." if move.line == 1 else f"The first {move.line} answers stand."
    yield stand if move.line else "Nothing that was answered stands."
    yield f"It is asked again from: {step_words(walk.step)}"
    if any(line.move.kind == Kind.DONE and isinstance(line.at_step, Fix) for line in walk.log):
        yield WORK_STAYS


def _is_withdrawn(library: Path, tree: str) -> bool:
    """Whether the header of the tree says so: an error further down, or in another file, must not hide it."""
    try:
        paths, _ = tree_paths(library)
    except FaulttreeError:
        return False
    return any(_says_withdrawn(path, tree) for path in paths)


def _says_withdrawn(path: Path, tree: str) -> bool:
    try:
        [(_, header)] = headers_of([path])
    except FaulttreeError:
        return False
    return header is not None and (header.id, header.status) == (tree, "withdrawn")


def _differences(loaded: LoadedLibrary, walk: Walk) -> tuple[str, ...]:
    """What changed in meaning from the copy that the walk goes by; empty where it is only layout, dates or comments."""
    name = walk.tree.id
    if loaded.library is None or name not in loaded.trees:
        return (UNREADABLE,)
    if tree_digest(walk.tree, walk.library) == tree_digest(loaded.trees[name], loaded.library):
        return ()
    old, new = Side(walk.library, {name: walk.tree}), Side(loaded.library, {name: loaded.trees[name]})
    return tuple(told_plainly(compare(old, new, [(name, name)]), titles(old, new)))


def over_since(walk: Walk, recorded: Recorded) -> str:
    """How a walk that is over came to that, and when; as the rest of a sentence."""
    at = recorded.entries[-1].at
    for entry in reversed(recorded.entries):
        if not entry.ended and entry.state != STOPPED:
            break
        at = entry.at
    return f"{how_over(walk)}, {at[:16].replace('T', ' ')} UTC."
