"""The files of a library's folder: which of them are trees, which are refused and why, and their bytes.

Only regular files inside the folder are read. Hidden files and folders are passed by, and files whose names end
otherwise; one of ours that would be missed so is told of.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from faulttree.problems import ERROR, START_OF_FILE, WARNING, Problem, UnreadableError

LIBRARY_FILE = "library.yaml"
SHARED = ("library", "notices", "limits", "parts", "tools", "operational-checks", "inspection")
"""The kinds of shared files; each is called like its kind."""

SUFFIX = ".yaml"
LIKE_SUFFIX = (".yml", ".yaml")
"""Endings, in capitals or not, of files that may be meant as ours."""

MOST_BYTES = 1024 * 1024 + 1
"""One more than a file may have, so that a larger one is seen to be too large."""

_MARK = b"faulttree:"
_MARK_WITHIN = 512


def is_file(path: Path) -> bool:
    """Whether there is a regular file; false also for what cannot be a path."""
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def shown(path: Path) -> str:
    """How a path is named in problems: from the current folder where one is above the other, with `/`."""
    try:
        here = Path.cwd()
    except OSError:
        return path.as_posix()
    if path.is_absolute() and (path.is_relative_to(here) or here.is_relative_to(path.parent)):
        return Path(os.path.relpath(path, here)).as_posix()
    return path.as_posix()


def read_bytes(path: Path, most: int = MOST_BYTES) -> bytes:
    """The first bytes of a file, up to ``most``; raises `UnreadableError`."""
    try:
        with path.open("rb") as file:
            return file.read(most)
    except OSError as error:
        raise _unreadable("file", path, error) from None


def _unreadable(what: str, path: Path, error: OSError) -> UnreadableError:
    reason = (error.strerror or "unknown reason").lower()
    return UnreadableError(f'the {what} "{shown(path)}" cannot be read: {reason}', "check its name and permissions")


def shared_paths(folder: Path) -> tuple[dict[str, Path], list[Problem]]:
    """The shared files that are there, by kind, and those that are refused."""
    there = {kind: folder / (kind + SUFFIX) for kind in SHARED}
    there = {kind: path for kind, path in there.items() if os.path.lexists(path)}
    refused = {kind: problem for kind, path in there.items() if (problem := refusal(path, folder))}
    return {kind: path for kind, path in there.items() if kind not in refused}, list(refused.values())


def tree_paths(folder: Path) -> tuple[list[Path], list[Problem]]:
    """The trees' files below a library's folder, in the order of their paths, and what is refused there."""
    trees: list[Path] = []
    problems: list[Problem] = []
    waiting = [folder]
    while waiting:
        for entry in _entries(waiting.pop()):
            path = Path(entry.path)
            if entry.name.startswith("."):
                problems += _hidden(path)
            elif entry.is_dir(follow_symlinks=False):
                waiting += [] if is_file(path / LIBRARY_FILE) else [path]
            elif entry.name.endswith(SUFFIX) or entry.is_symlink():
                problem = _refusal_of(entry, path, folder) or _misplaced(path, folder)
                problems += [problem] if problem else []
                trees += [path] if not problem and _is_tree(path) else []
            elif problem := _other_suffix(path):
                problems.append(problem)
    return sorted(trees), problems


def _entries(folder: Path) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as entries:
            return list(entries)
    except OSError as error:
        raise _unreadable("folder", folder, error) from None


def _refusal_of(entry: os.DirEntry[str], path: Path, folder: Path) -> Problem | None:
    """The refusal of an entry; a link to a file of another kind is passed by as such a file is."""
    if entry.is_symlink() and not entry.name.endswith(SUFFIX) and not path.is_dir():
        return _other_suffix(path)
    return refusal(path, folder)


def _is_tree(path: Path) -> bool:
    """Whether a file that is not refused is a tree. A link to a folder inside is none: its files are met anyway."""
    return path.suffix == SUFFIX and path.stem not in SHARED and not path.is_dir()


def refusal(path: Path, folder: Path) -> Problem | None:
    """Why a file, or a link to a folder, is not read. Only links are followed, for that takes long."""
    if not path.is_symlink() and is_file(path):
        return None
    try:
        inside = path.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError):
        inside = False
    if not inside:
        message = f'"{path.name}" is a link that leads out of the library'
        return _problem("file-refused", path, message, "put a copy in its place")
    if not path.is_dir() and not is_file(path):
        return _problem("file-refused", path, f'"{path.name}" is no regular file', "delete it or rename it")
    return None


def _misplaced(path: Path, folder: Path) -> Problem | None:
    if path.stem not in SHARED or path.suffix != SUFFIX or path.parent == folder:
        return None
    message = f'"{path.name}" is a name for shared files, which stand beside {LIBRARY_FILE}'
    return _problem("file-misplaced", path, message, "move it there, or give the tree another name")


def _hidden(path: Path) -> Iterator[Problem]:
    """A warning for each file of a library that is hidden, or in a hidden folder."""
    for each in sorted(path.glob("*")) if path.is_dir() else [path]:
        if _is_ours(each):
            message = f'"{each.name}" is hidden and not read'
            yield _problem("file-hidden", each, message, "move it where it is not hidden", WARNING)


def _other_suffix(path: Path) -> Problem | None:
    """A warning for a file of a library that is not read because its name ends otherwise."""
    if not _is_ours(path):
        return None
    right = path.with_suffix(SUFFIX)
    advice = f'rename it to "{right.name}"'
    if path.suffix.lower() != SUFFIX and os.path.lexists(right):
        advice = f'give it another name that ends in {SUFFIX}, for there is a "{right.name}", or delete it'
    message = f'"{path.name}" ends in {path.suffix} and is not read'
    return _problem("file-suffix", path, message, advice, WARNING)


def _is_ours(path: Path) -> bool:
    """Whether a file looks like one of a library, by its ending and its first bytes."""
    return path.suffix.lower() in LIKE_SUFFIX and is_file(path) and _has_mark(path)


def _has_mark(path: Path) -> bool:
    try:
        head = read_bytes(path, _MARK_WITHIN)
    except UnreadableError:
        return False
    return any(line.startswith(_MARK) for line in head.splitlines())


def _problem(rule: str, path: Path, message: str, advice: str, severity: str = ERROR) -> Problem:
    return Problem(rule, severity, message, advice, shown(path), START_OF_FILE)
