"""From a library to a walk that is recorded: what may be walked, beginning, taking up again.

Line mode and the screen share it. Nothing here asks or prints: answers come as moves, what has to be said goes back.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from pathlib import Path

from faulttree.journal import (
    Facts,
    Journal,
    Recorded,
    create,
    find_journal,
    open_journal,
    read_journal,
    replay,
)
from faulttree.keys import Move
from faulttree.library import LoadedLibrary, list_headers, load_library, load_tree
from faulttree.model import Library, Tree
from faulttree.present.over import how_over
from faulttree.problems import (
    ERROR,
    CodeError,
    FaulttreeError,
    LibraryError,
    Problem,
    UnreadableError,
    UsageError,
)
from faulttree.readback import begin
from faulttree.revised import on_revision, revising
from faulttree.value import Value
from faulttree.walk import Walk


def now() -> datetime.datetime:
    """The time, in UTC."""
    return datetime.datetime.now(datetime.UTC)


def file_named(said: str) -> Path:
    """The file or folder that a person named; ~ is their home. Raises UnreadableError where none was."""
    if not said.strip():
        raise UnreadableError("no file was named", "type the name of a file or a folder")
    try:
        return Path(said.strip()).expanduser()
    except RuntimeError:
        raise UnreadableError(f'"{said}" names the folder of nobody known here', "write the folder out") from None


# -- what may be walked


class Ready(Value):
    """A tree that may be walked, with its library and what was loaded for it."""

    loaded: LoadedLibrary
    library: Library
    tree: Tree


def ready(folder: Path, name: str, cwd: Path | None = None) -> Ready:
    """The tree of that id or file in the library in ``folder``.

    Raises LibraryError where it has an error or was withdrawn, for somebody would rely on it; UsageError where it is
    not there; UnreadableError.
    """
    return looked_through(load_tree(folder, name, cwd), name)


def ready_by_code(folder: Path, said: str) -> tuple[Ready, str]:
    """The tree that a read-back code belongs to, and the code as it is written. Raises CodeError as well."""
    from faulttree.readback import find_tree

    loaded = load_library(folder)
    code = _code(said)
    return looked_through(loaded, find_tree(code, loaded.trees).id), code


def _code(said: str) -> str:
    """The code that was meant: as it is written or in the words of the spelling alphabet."""
    from faulttree.readback import take_apart
    from faulttree.spelling import readings

    found = readings(said)
    for code in found:
        try:
            take_apart(code)
        except CodeError:
            continue
        return code
    return found[0]


RELEASE_OVER = "released-changed"
"""The rule on releases that do not fit any more."""


def looked_through(loaded: LoadedLibrary, name: str) -> Ready:
    """The tree of that id or file out of a library that was loaded for it. Raises LibraryError as `ready` does."""
    # The rules and the proof are loaded when a tree is chosen, and not before the first page is shown.
    from faulttree.checking import check_library

    only = {name} if name in loaded.trees else None
    found = check_library(loaded, only)
    # A release that does not fit any more stops nobody: the tree is walked as the draft that every page calls it.
    errors = [problem for problem in found if problem.severity == ERROR and problem.rule != RELEASE_OVER]
    if errors or loaded.library is None or not loaded.trees:
        what = f'"{name}" has problems and is not walked{_place(errors)}'
        raise LibraryError(what, 'see all of them with "faulttree check"', errors)
    tree = loaded.trees.get(name) or next(iter(loaded.trees.values()))
    if tree.status == "withdrawn":
        raise LibraryError(f'"{tree.id}" was withdrawn and is not walked', 'find another with "faulttree symptoms"')
    return Ready(loaded, loaded.library, tree)


def _place(errors: list[Problem]) -> str:
    if not errors:
        return ""
    first = errors[0]
    return f": {first.file}:{first.span.line}:{first.span.column}: {first.message}"


def role_of(library: Library, said: str | None) -> str:
    """The role that was said; the library's first where none was. Raises UsageError where it is none."""
    role = said or library.first_role
    if role not in library.roles:
        raise UsageError(f'"{role}" is no role here', f"choose one of: {', '.join(library.roles)}")
    return role


def model_of(tree: Tree, said: str | None) -> str | None:
    """The model that was said; empty where it makes no difference, None where it has to be asked for.

    Raises UsageError where the tree has no such model.
    """
    if said:
        for model in tree.models:
            if model.casefold() == said.casefold():
                return model
        raise UsageError(f'"{said}" is no model of this tree', f"choose one of: {', '.join(tree.models)}")
    if len(tree.models) == 1:
        return tree.models[0]
    return "" if tree.alike else None


def symptom_of(folder: Path, tree: str) -> str:
    """The symptom of a tree of the library in ``folder``; empty where it has none of that id that may be walked."""
    try:
        headers = [header for _, header in list_headers(folder) if header]
    except FaulttreeError:
        return ""
    return next((each.symptom for each in headers if each.id == tree and each.status != "withdrawn"), "")


# -- beginning


def started(folder: Path, what: Ready, move: Move, facts: Facts) -> tuple[Journal, Walk]:
    """A new walk, begun by ``move``, and its journal in ``folder``, on the disk. Raises MoveError, JournalError."""
    walk = begin(what.tree, what.library, move)
    return create(folder, files_of(what.loaded, what.tree), walk, move, facts, now()), walk


def files_of(loaded: LoadedLibrary, tree: Tree) -> dict[str, bytes]:
    """The bytes of the tree's file and of the shared files, by their names in the library's folder."""
    wanted = [file for file in loaded.files.values() if file.file not in loaded.tree_files.values()]
    wanted.append(loaded.files[loaded.tree_files[tree.id]])
    try:
        return {file.path.relative_to(loaded.folder).as_posix(): file.path.read_bytes() for file in wanted}
    except OSError as error:
        raise UnreadableError(f"the library cannot be read: {error.strerror}", "see that it is still there") from None


# -- taking up again


class Onto(Value):
    """The revision that a walk goes on with, and the walk on it; nothing of that is recorded yet."""

    what: Ready
    walk: Walk

    def record(self, journal: Journal) -> None:
        """Record that the walk goes on with it, and keep its files. Raises JournalError."""
        journal.append(self.walk, now(), files_of(self.what.loaded, self.what.tree))


def onto_revision(walk: Walk, what: Ready) -> Onto:
    """The walk on the revision that was loaded. Raises MoveError where it does not fit."""
    return Onto(what, on_revision(walk, what.tree, what.library, revising(walk, what.tree, what.library)))


def opened(folder: Path, said: str) -> tuple[Journal, Walk]:
    """The journal of the id that was said, open for writing, and its walk as it stood, on exactly the files it had.

    Of a walk that is over what it left open can be recorded as closed, and nothing else. Raises JournalError, and
    UsageError where the walk is over and nothing of it is open.
    """
    journal = open_journal(find_journal(folder, said))
    try:
        walk = replay(journal.recorded, _load_copy)
        if walk.over and not walk.key.open_items:
            raise UsageError(f'the walk "{journal.id}" {how_over(walk)}, and nothing of it is open', "begin a new walk")
    except BaseException:
        journal.close()
        raise
    return journal, walk


def shown(folder: Path, said: str) -> tuple[Recorded, Walk]:
    """The record of the id that was said and its walk as it stood, to be looked at only. Raises JournalError."""
    recorded = read_journal(find_journal(folder, said))
    return recorded, replay(recorded, _load_copy)


def _load_copy(folder: Path, tree: str) -> tuple[Tree, Library]:
    loaded = load_tree(folder, tree)
    if loaded.library is None or tree not in loaded.trees:
        raise LibraryError("the library cannot be read", 'see why with "faulttree check"')
    return loaded.trees[tree], loaded.library


Times = Sequence[datetime.datetime]
"""When each line of a walk's log was recorded."""


def line_times(recorded: Recorded) -> Times:
    """When each line of a walk's log was recorded, as the journal says."""
    times: list[datetime.datetime] = []
    for entry in recorded.entries:
        # A walk that began from a code was begun with several lines of the log at once.
        times += [datetime.datetime.fromisoformat(entry.at)] * (entry.n - len(times))
    return tuple(times)
