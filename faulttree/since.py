"""What became of a walk and its tree since: of the tree since the walk began, of the walk since it was over.

A walk goes on by the copy that it began with. Where the library in use has withdrawn the tree, it is not walked on:
what is open is recorded as closed, and the walk is handed over or given up.
"""

from __future__ import annotations

from pathlib import Path

from faulttree.compare import Side, compare
from faulttree.compare.telling import told_plainly
from faulttree.compare.titles import titles
from faulttree.digest import tree_digest
from faulttree.journal import Recorded
from faulttree.journal.copies import digests_of
from faulttree.library import LoadedLibrary, headers_of, load_tree
from faulttree.library_files import tree_paths
from faulttree.present.over import how_over
from faulttree.problems import FaulttreeError
from faulttree.sessions import files_of
from faulttree.value import Value
from faulttree.walk import STOPPED, Walk

NOT_THERE = "The library in use does not have this tree. The walk goes on with the one that it began with."
CHANGED = "The tree or its shared entries have changed since this walk began. It goes on as they were then."
WITHDRAWN = "THIS TREE HAS BEEN WITHDRAWN since the walk began. It is not walked on."
WHAT_NOW = "Close what is open, then hand the walk over or give it up. Begin anew with a tree that is in use."
SINCE = "What changed in meaning since this walk began. It goes on as it was then:"
UNREADABLE = "What changed cannot be told, as the library in use has errors: see faulttree check."


class Since(Value):
    """What became of it: a sentence, or empty; whether it was withdrawn; what changed in meaning, the worst first."""

    said: str = ""
    withdrawn: bool = False
    differences: tuple[str, ...] = ()


def since_begun(library: Path, recorded: Recorded, walk: Walk) -> Since:
    """What became of the tree since the walk began; nothing where ``library``, the one in use, has it as it was."""
    header = recorded.header
    if _is_withdrawn(library, header.tree):
        return Since(WITHDRAWN, withdrawn=True)
    try:
        loaded = load_tree(library, header.tree)
        tree = loaded.trees.get(header.tree)
        same = tree is not None and digests_of(files_of(loaded, tree)) == header.files
    except FaulttreeError:
        return Since(NOT_THERE)
    return Since() if same else Since(CHANGED, differences=_differences(loaded, walk))


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
