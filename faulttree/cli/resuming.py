"""A walk that waits: taken up again on exactly the files that it went by, with everything asked anew."""

from __future__ import annotations

import argparse
from pathlib import Path

from faulttree.cli.beginning import files_of, library_of, now
from faulttree.cli.in_use import library_in_use
from faulttree.cli.lines import Lines, show, take_over_move, wrapped
from faulttree.cli.output import out
from faulttree.journal import Journal, Recorded, find_journal, open_journal, replay
from faulttree.journal.copies import digests_of
from faulttree.library import load_tree
from faulttree.model import Library, Tree
from faulttree.present import done_so_far, start_page
from faulttree.problems import FaulttreeError, UsageError
from faulttree.walk import Walk, apply


def resumed(args: argparse.Namespace, folder: Path, lines: Lines) -> tuple[Journal, Walk]:
    """The journal of the walk that ``args`` name, and the walk after taking it over."""
    journal = open_journal(find_journal(folder, args.resume))
    try:
        walk = _taken_over(args, journal, lines)
    except BaseException:
        journal.close()
        raise
    return journal, walk


def _taken_over(args: argparse.Namespace, journal: Journal, lines: Lines) -> Walk:
    walk = replay(journal.recorded, _load_copy)
    if walk.ended:
        raise UsageError(f'the walk "{journal.id}" has ended', "begin a new walk")
    out(wrapped(f"Walk {journal.id}: {walk.tree.symptom}. Revision {walk.tree.revision}."))
    for line in _changed_since(args, journal.recorded):
        out(wrapped(line))
    show([done_so_far(walk)])
    out("")
    after = apply(walk, take_over_move(walk, lines, args.role or ""))
    journal.append(after, now())
    show(start_page(after, journal.recorded.header.facts.practice))
    return after


def _load_copy(folder: Path, tree: str) -> tuple[Tree, Library]:
    loaded = load_tree(folder, tree)
    return loaded.trees[tree], library_of(loaded)


def _changed_since(args: argparse.Namespace, recorded: Recorded) -> list[str]:
    """What became of the tree since the walk began; nothing where the library in use has it as it was."""
    header = recorded.header
    try:
        loaded = load_tree(library_in_use(args), header.tree)
        tree = loaded.trees.get(header.tree)
        same = tree is not None and digests_of(files_of(loaded, tree)) == header.files
    except FaulttreeError:
        return ["The library in use does not have this tree. The walk goes on with the one that it began with."]
    if tree is not None and tree.status == "withdrawn":
        return ["THIS TREE HAS BEEN WITHDRAWN since the walk began. Begin anew with one that is in use."]
    if same:
        return []
    return ["The tree or its shared entries have changed since this walk began. It goes on as they were then."]
