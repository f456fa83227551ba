"""``faulttree walk``: from a symptom to a confirmed corrective action, in line mode."""

from __future__ import annotations

import argparse
import datetime
import os
from dataclasses import replace
from pathlib import Path

from faulttree.checking import check_library, is_sound
from faulttree.cli.choose import choose_model, choose_tree, show_waiting
from faulttree.cli.line_mode import (
    Answers,
    Keyboard,
    Lines,
    Session,
    ask_closed,
    ask_occupant,
    ask_yes_no,
    show,
    take_over_move,
    wrapped,
)
from faulttree.cli.output import ExitCode, out, talk
from faulttree.cli.parser import examples
from faulttree.journal import (
    Facts,
    Journal,
    create,
    default_folder,
    find_journal,
    open_journal,
    replay,
)
from faulttree.library import LoadedLibrary, find_library, load_library, load_tree
from faulttree.model import Library, Tree
from faulttree.moves import Kind, Move
from faulttree.present import done_so_far, start_page
from faulttree.problems import ERROR, LibraryError, UsageError
from faulttree.readback import begin, find_tree, take_apart
from faulttree.spelling import readings
from faulttree.walk import Walk, apply


def configure(parser: argparse.ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Walk a tree: one question at a time, each warning before the step it belongs to, to a corrective action "
        "whose operational check passed, or to a hand-over. Every move is recorded before the next question."
    )
    parser.add_argument("tree", nargs="?", metavar="TREE", help="the tree's id or file; without it, pick a symptom")
    parser.add_argument("--plain", action="store_true", help="line mode: one question, one line of input")
    parser.add_argument("--as", dest="role", metavar="ROLE", help="your role; without it, the library's first role")
    parser.add_argument("--model", metavar="MODEL", help="the model; without it, it is asked for where it matters")
    parser.add_argument("--answers", metavar="FILE", help="take the answers from FILE, one a line")
    parser.add_argument(
        "--resume", nargs="?", const="", metavar="ID", help="go on with a walk; without ID, list those that wait"
    )
    parser.add_argument("--readback", metavar="CODE", help="go on from a read-back code, or from its words")
    parser.add_argument("--practice", action="store_true", help="for training: kept apart and never counted")
    parser.add_argument("--aircraft", default="", metavar="TEXT", help="the aircraft, for the record")
    parser.add_argument("--item", default="", metavar="TEXT", help="the item's number, for the record")
    parser.add_argument("--base", default="", metavar="TEXT", help="the base, for the record")
    parser.epilog = examples(
        "faulttree walk --plain",
        "faulttree walk cot-will-not-release --as mechanic --model Bracken",
        "faulttree walk --resume",
    )


def run(args: argparse.Namespace) -> ExitCode:
    """Walk, resume, read back, or list what waits."""
    _only_one(args)
    folder = default_folder(args.practice)
    if args.resume == "":
        show_waiting(folder)
        return ExitCode.DONE
    lines: Lines = Answers(args.answers) if args.answers else Keyboard()
    journal, walk = _resumed(args, folder, lines) if args.resume else _begun(args, folder, lines)
    with journal:
        if journal.torn:
            talk(wrapped(f"{journal.torn}."))
        return _session(journal, walk, lines, args.practice).run()


def _only_one(args: argparse.Namespace) -> None:
    given = [name for name in ("tree", "resume", "readback") if getattr(args, name) is not None]
    if len(given) > 1:
        raise UsageError(f"{' and '.join(given)} do not go together", "give a tree, or --resume, or --readback")


def _now() -> datetime.datetime:
    return datetime.datetime.now(datetime.UTC)


def _session(journal: Journal, walk: Walk, lines: Lines, practice: bool) -> Session:
    return Session(
        walk,
        lambda after: journal.append(after, _now()),
        lambda path: str(journal.save_copy(Path(path))),
        lines,
        practice,
    )


# -- a new walk


def _begun(args: argparse.Namespace, folder: Path, lines: Lines) -> tuple[Journal, Walk]:
    loaded, tree, code = _tree_and_code(args, folder, lines)
    library = _library(loaded)
    move = _first_move(args, lines, library, tree, code)
    walk = begin(tree, library, move)
    if code:
        walk, move = _confirmed(walk, move, lines)
    facts = Facts(args.practice, args.aircraft, args.item, args.base)
    journal = create(folder, _files(loaded, tree), walk, move, facts, _now())
    out("")
    out(f"Walk {journal.id}. It is recorded as you go; type stop to leave and help for the words.")
    if not code:
        show(start_page(walk, args.practice))
    return journal, walk


def _tree_and_code(args: argparse.Namespace, folder: Path, lines: Lines) -> tuple[LoadedLibrary, Tree, str]:
    place = find_library(args.library, os.environ, _here())
    if args.readback is not None:
        loaded = load_library(place)
        code = _code(args.readback)
        _refuse_problems(loaded, None)
        tree = find_tree(code, loaded.trees)
        return loaded, tree, code
    name = args.tree or choose_tree(place, folder, lines)
    loaded = load_tree(place, name, _here())
    _refuse_problems(loaded, name)
    return loaded, next(iter(loaded.trees.values())), ""


def _code(said: str) -> str:
    """The code that was meant: as it is written or in the words of the spelling alphabet."""
    found = readings(said)
    for code in found[1:]:
        try:
            take_apart(code)
        except Exception:
            continue
        return code
    return found[0]


def _here() -> Path:
    try:
        return Path.cwd()
    except OSError:
        return Path("/")


def _refuse_problems(loaded: LoadedLibrary, name: str | None) -> None:
    """A tree with an error is not walked: somebody would rely on it."""
    problems = [problem for problem in check_library(loaded) if problem.severity == ERROR]
    if loaded.library is None or not is_sound(problems) or not loaded.trees:
        first = problems[0] if problems else None
        what = f'"{name}" has problems and is not walked' if name else "the library has problems and is not walked"
        where = f": {first.file}:{first.span.line}:{first.span.column}: {first.message}" if first else ""
        raise LibraryError(f"{what}{where}", 'see all of them with "faulttree check"', problems)


def _library(loaded: LoadedLibrary) -> Library:
    if loaded.library is None:
        raise LibraryError("the library cannot be read", 'see why with "faulttree check"')
    return loaded.library


def _first_move(args: argparse.Namespace, lines: Lines, library: Library, tree: Tree, code: str) -> Move:
    """What the walk begins with: the occupant first, the model where ways differ, the role as it was said."""
    role = args.role or library.first_role
    if role not in library.roles:
        raise UsageError(f'"{role}" is no role here', f"choose one of: {', '.join(library.roles)}")
    occupant = ask_occupant(library.occupant.ask if library.occupant else "", lines)
    model = "" if code else choose_model(library, tree, args.model, lines)
    return Move(Kind.BEGIN, role=role, model=model, occupant=occupant, code=code)


def _confirmed(walk: Walk, move: Move, lines: Lines) -> tuple[Walk, Move]:
    """What the code says, read back and confirmed; then each item that may be open."""
    out("")
    out(wrapped(f"The code says: {walk.tree.symptom}. {walk.key.model}."))
    show([done_so_far(walk)])
    out("")
    if ask_yes_no(lines, "Read this back to whoever gave you the code. Is it right?") == "no":
        raise UsageError("the code was not confirmed", "have it said again, letter by letter")
    move = replace(move, closed=ask_closed(walk, lines))
    return begin(walk.tree, walk.library, move), move


def _files(loaded: LoadedLibrary, tree: Tree) -> dict[str, bytes]:
    """The bytes of the tree's file and of the shared files, by their names in the library's folder."""
    wanted = {file for file in loaded.files.values() if file.file not in loaded.tree_files.values()}
    wanted.add(loaded.files[loaded.tree_files[tree.id]])
    return {file.path.relative_to(loaded.folder).as_posix(): file.path.read_bytes() for file in wanted}


# -- a walk that waits


def _resumed(args: argparse.Namespace, folder: Path, lines: Lines) -> tuple[Journal, Walk]:
    journal = open_journal(find_journal(folder, args.resume))
    try:
        walk = replay(journal.recorded, _load_copy)
        if walk.ended:
            raise UsageError(f'the walk "{journal.id}" has ended', "begin a new walk")
        out(wrapped(f"Walk {journal.id}: {walk.tree.symptom}. Revision {walk.tree.revision}."))
        show([done_so_far(walk)])
        out("")
        after = apply(walk, take_over_move(walk, lines, args.role or ""))
        journal.append(after, _now())
    except BaseException:
        journal.close()
        raise
    return journal, after


def _load_copy(folder: Path, tree: str) -> tuple[Tree, Library]:
    loaded = load_tree(folder, tree)
    return loaded.trees[tree], _library(loaded)
