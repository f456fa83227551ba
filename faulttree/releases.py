"""Releasing a tree: who may, what stops it, and the release written into its file, whole or not at all."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from faulttree.digest import CHANGED, standing, tree_digest
from faulttree.library import LoadedLibrary
from faulttree.library_files import read_bytes, shown
from faulttree.load.build import build_tree
from faulttree.load.parse import load
from faulttree.load.releasing import with_release
from faulttree.load.text import without_mark
from faulttree.model import Library, Released, Tree
from faulttree.problems import LibraryError, Problem, UnreadableError, UsageError
from faulttree.rules.release_unsigned import NO_AUTHOR, NOBODY, THE_AUTHOR, unsigned
from faulttree.value import Value, replace
from faulttree.writing import replace_file

ANSWERED_BY_RELEASING = frozenset({"released-changed", "release-unsigned"})
"""Rules whose finding a new release mends."""

LONGEST_NAME = 80


class Prepared(Value):
    """A release that may be written: the file, what it holds now, and what it will hold."""

    path: Path
    before: bytes
    after: bytes
    tree: Tree
    released: Released


def prepare(loaded: LoadedLibrary, id: str, problems: Sequence[Problem], by: str, day: date, today: date) -> Prepared:
    """The release of tree ``id`` by ``by`` on ``day``; nothing is written yet.

    Raises `LibraryError` where problems stop it, `UsageError` where this person, day or tree cannot be. A warning
    stops it as an error does: whoever stands by what it warns of lets it stand with the reason beside the line.
    """
    library, tree = loaded.library, loaded.trees.get(id)
    stops = [problem for problem in problems if problem.rule not in ANSWERED_BY_RELEASING]
    if stops or library is None or tree is None:
        advice = "mend them, or let a warning stand: # stet RULE: reason"
        raise LibraryError(f'"{id}" has problems that stop its release', advice, stops)
    _refuse_person(tree, by)
    _refuse_day(tree, day, today)
    if tree.status == "withdrawn":
        raise UsageError(f'"{id}" is withdrawn', "write status: draft first, if it is to be used again")
    unsigned = any(problem.rule == "release-unsigned" for problem in problems)
    if standing(tree, library) == "RELEASED" and tree.released and not unsigned:
        said = f"released by {tree.released.by} on {tree.released.date}, and nothing in its meaning has changed since"
        raise UsageError(f'"{id}" is {said}', "there is nothing to release")
    _refuse_same_revision(tree, library)
    path = loaded.files[loaded.tree_files[id]].path
    return _prepared(path, tree, library, Released(by, day.isoformat(), tree_digest(tree, library)))


def _refuse_person(tree: Tree, by: str) -> None:
    why = unsigned(tree.author, by)
    if why == NOBODY or not by.isprintable() or by != by.strip() or len(by) > LONGEST_NAME:
        advice = f"give the name in one line of at most {LONGEST_NAME} characters, by --by NAME"
        raise UsageError(f'"{by}" is no name for who releases', advice)
    if why == NO_AUTHOR:
        raise UsageError(f'"{tree.id}" names no author', "write author: NAME, so that somebody else can release it")
    if why == THE_AUTHOR:
        raise UsageError(f'"{by}" wrote "{tree.id}": {tree.author}', "let somebody else read and release it")


def _refuse_day(tree: Tree, day: date, today: date) -> None:
    if day > today:
        raise UsageError(f"{day} has not come yet", f"give a day up to today, {today}")
    if day.isoformat() < tree.date:
        raise UsageError(f'"{tree.id}" is of {tree.date}, later than {day}', "give the day of the release")


def _refuse_same_revision(tree: Tree, library: Library) -> None:
    """What changed since it was released is another revision: nobody can tell two of one number and date apart."""
    before = tree.released
    if before and standing(tree, library) == CHANGED and tree.date < before.date:
        what = f'"{tree.id}" has changed since it was released on {before.date}, but is still revision {tree.revision}'
        raise UsageError(f"{what} of {tree.date}", "raise `revision`, and give it the `date` of the change")


def _prepared(path: Path, tree: Tree, library: Library, released: Released) -> Prepared:
    """The file's new content, read back to see that it says this release and nothing else that is new."""
    before = read_bytes(path)
    mark, data = without_mark(before)
    root, _, _ = load(before, shown(path))
    text = with_release(data.decode("utf-8"), root, released) if root else None
    after = mark + (text or "").encode("utf-8")
    again, _, problems = load(after, shown(path))
    meant = replace(tree, status="released", released=released)
    if not text or again is None or problems or build_tree(again, library, shown(path))[0] != meant:
        advice = "write status: draft on a line of its own, without braces round the file, and try again"
        raise UnreadableError(f'the layout of "{shown(path)}" leaves no place for the release', advice)
    return Prepared(path, before, after, meant, released)


def write(prepared: Prepared) -> None:
    """Put the release into the file, whole or not at all. `UnreadableError` where it changed meanwhile."""
    replace_file(prepared.path, prepared.before, prepared.after)
