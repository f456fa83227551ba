"""A new walk: from a tree, from a symptom in the person's words, or from a read-back code."""

from __future__ import annotations

import argparse
import datetime
from pathlib import Path

from faulttree.checking import check_library
from faulttree.cli.choose import choose_model, choose_tree
from faulttree.cli.in_use import here, library_of_tree
from faulttree.cli.lines import Lines, ask_closed, ask_occupant, ask_yes_no, show, wrapped
from faulttree.cli.output import out
from faulttree.journal import Facts, Journal, create
from faulttree.keys import Kind, Move
from faulttree.library import LoadedLibrary, load_library, load_tree
from faulttree.model import Library, Tree
from faulttree.present import done_so_far, start_page
from faulttree.problems import ERROR, CodeError, LibraryError, UnreadableError, UsageError
from faulttree.readback import begin, find_tree, take_apart
from faulttree.spelling import readings
from faulttree.value import replace
from faulttree.walk import Walk


def now() -> datetime.datetime:
    """The time, in UTC."""
    return datetime.datetime.now(datetime.UTC)


def begun(args: argparse.Namespace, folder: Path, lines: Lines) -> tuple[Journal, Walk]:
    """A new walk and its journal in ``folder``."""
    loaded, tree, code = _tree_and_code(args, folder, lines)
    library = library_of(loaded)
    walk, move = _first(args, lines, library, tree, code)
    facts = Facts(args.practice, args.aircraft, args.item, args.base)
    journal = create(folder, files_of(loaded, tree), walk, move, facts, now())
    out("")
    out(wrapped(f"Walk {journal.id}. It is recorded as you go. Type stop to leave, help for the words."))
    show(start_page(walk, args.practice))
    return journal, walk


def _tree_and_code(args: argparse.Namespace, folder: Path, lines: Lines) -> tuple[LoadedLibrary, Tree, str]:
    place = library_of_tree(args, args.tree)
    if args.readback is not None:
        loaded = load_library(place)
        code = _code(args.readback)
        tree = find_tree(code, loaded.trees)
        refuse_unsound(loaded, tree.id)
        return loaded, tree, code
    name = args.tree or choose_tree(place, folder, lines)
    loaded = load_tree(place, name, here())
    refuse_unsound(loaded, name)
    return loaded, next(iter(loaded.trees.values())), ""


def _code(said: str) -> str:
    """The code that was meant: as it is written or in the words of the spelling alphabet."""
    found = readings(said)
    for code in found:
        try:
            take_apart(code)
        except CodeError:
            continue
        return code
    return found[0]


def refuse_unsound(loaded: LoadedLibrary, name: str) -> None:
    """A tree with an error is not walked, for somebody would rely on it; nor is one that was withdrawn."""
    only = {name} if name in loaded.trees else None
    errors = [problem for problem in check_library(loaded, only) if problem.severity == ERROR]
    if errors or loaded.library is None or not loaded.trees:
        where = (
            f": {errors[0].file}:{errors[0].span.line}:{errors[0].span.column}: {errors[0].message}" if errors else ""
        )
        what = f'"{name}" has problems and is not walked{where}'
        raise LibraryError(what, 'see all of them with "faulttree check"', errors)
    tree = loaded.trees.get(name) or next(iter(loaded.trees.values()))
    if tree.status == "withdrawn":
        raise LibraryError(f'"{tree.id}" was withdrawn and is not walked', 'find another with "faulttree symptoms"')


def library_of(loaded: LoadedLibrary) -> Library:
    """The library, where it could be read."""
    if loaded.library is None:
        raise LibraryError("the library cannot be read", 'see why with "faulttree check"')
    return loaded.library


def _first(args: argparse.Namespace, lines: Lines, library: Library, tree: Tree, code: str) -> tuple[Walk, Move]:
    """The walk's beginning: what a code says, the occupant, the model where ways differ, the role as it was said."""
    role = args.role or library.first_role
    if role not in library.roles:
        raise UsageError(f'"{role}" is no role here', f"choose one of: {', '.join(library.roles)}")
    if code:
        _confirm(begin(tree, library, Move(Kind.BEGIN, role=role, code=code)), lines)
    occupant = ask_occupant(library, lines)
    model = "" if code else choose_model(library, tree, args.model, lines)
    move = Move(Kind.BEGIN, role=role, model=model, occupant=occupant, code=code)
    walk = begin(tree, library, move)
    if code:
        move = replace(move, closed=ask_closed(walk, lines))
        walk = begin(tree, library, move)
    return walk, move


def _confirm(walk: Walk, lines: Lines) -> None:
    """What the code says, to be read back and confirmed."""
    model = "" if walk.tree.alike else f" {walk.key.model}."
    out(wrapped(f"The code says: {walk.tree.symptom}.{model}"))
    show([done_so_far(walk)])
    out("")
    if ask_yes_no(lines, "Read this back to whoever gave you the code. Is it right?") == "no":
        raise UsageError("the code was not confirmed", "have it said again, letter by letter")


def files_of(loaded: LoadedLibrary, tree: Tree) -> dict[str, bytes]:
    """The bytes of the tree's file and of the shared files, by their names in the library's folder."""
    wanted = [file for file in loaded.files.values() if file.file not in loaded.tree_files.values()]
    wanted.append(loaded.files[loaded.tree_files[tree.id]])
    try:
        return {file.path.relative_to(loaded.folder).as_posix(): file.path.read_bytes() for file in wanted}
    except OSError as error:
        raise UnreadableError(f"the library cannot be read: {error.strerror}", "see that it is still there") from None
