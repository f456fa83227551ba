"""Libraries on disk: which one is in use, and all of it, one tree of it, or its headers loaded.

A library is a folder with `library.yaml`. The other shared files stand beside it, every other `*.yaml` below is a
tree. Files below a folder that has a `library.yaml` of its own belong to that library.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from faulttree.library_files import (
    LIBRARY_FILE,
    SHARED,
    SUFFIX,
    is_file,
    read_bytes,
    shared_paths,
    shown,
    tree_paths,
)
from faulttree.load.header import Header, has_end, read_header
from faulttree.load.nodes import Node, where
from faulttree.problems import ERROR, Problem, UnreadableError, UsageError, in_order
from faulttree.value import Value, replace

if TYPE_CHECKING:
    from faulttree.model import Library, Tree

VARIABLE = "FAULTTREE_LIBRARY"
HEADER_BYTES = 4096


class LibraryFile(Value):
    """A file that was read. ``file`` is its name in problems, ``root`` what positions are looked up in."""

    path: Path
    file: str
    text: str
    root: Node | None
    problems: tuple[Problem, ...]
    """What is wrong with it as YAML."""

    @property
    def is_sound(self) -> bool:
        """Whether it could be read as YAML without an error."""
        return self.root is not None and all(problem.severity != ERROR for problem in self.problems)


class LoadedLibrary(Value):
    """What was loaded: the library, the trees by id, the problems in order, the files by the names they have there.

    ``library`` is None where a shared file has a problem; then there are no trees.
    """

    folder: Path
    library: Library | None
    trees: Mapping[str, Tree]
    problems: tuple[Problem, ...]
    files: Mapping[str, LibraryFile]
    tree_files: Mapping[str, str]
    """Tree id to the name of its file."""
    tree_names: frozenset[str] | None = None
    """The names of all tree files of the folder, those not read included; None where nobody has looked."""


# -- which library


def find_library(explicit: str | None, environ: Mapping[str, str], cwd: Path) -> Path:
    """The folder of the library in use.

    In this order: ``explicit`` (`--library`), the environment variable, the nearest folder upward from ``cwd`` that
    has a `library.yaml`, the library that ships with the program. Raises `UnreadableError` where what was named is
    no library.
    """
    if explicit is not None:
        return _named(explicit, cwd, "give the folder that has it after --library")
    if environ.get(VARIABLE):
        return _named(environ[VARIABLE], cwd, f"set {VARIABLE} to the folder that has it, or unset it")
    for folder in (cwd, *cwd.parents):
        if is_file(folder / LIBRARY_FILE):
            return folder
    return shipped_library()


def _named(name: str, cwd: Path, advice: str) -> Path:
    folder = cwd / name
    if folder.name == LIBRARY_FILE:
        folder = folder.parent
    if not is_file(folder / LIBRARY_FILE):
        raise UnreadableError(f'there is no {LIBRARY_FILE} in "{name}"', advice)
    return folder


def shipped_library() -> Path:
    """The library that ships with the program: inside the installed package, beside it in a checkout."""
    from importlib.resources import files

    package = files("faulttree")
    if isinstance(package, Path):
        for folder in (package / "_trees", package.parent / "trees"):
            if is_file(folder / LIBRARY_FILE):
                return folder
    raise UnreadableError("the library that ships with the program is not there", "name one by --library")


# -- all of it, or one tree


def load_library(folder: Path) -> LoadedLibrary:
    """The library in ``folder`` with all its trees; raises `UnreadableError`."""
    paths, problems = tree_paths(folder)
    return replace(_load(folder, paths, problems), tree_names=_stems(paths))


def load_tree(folder: Path, tree: str, cwd: Path | None = None) -> LoadedLibrary:
    """The library in ``folder`` with one tree, named by its id or by its file; no other tree is read.

    Raises `UsageError` where there is no such tree, `UnreadableError` where a file cannot be read.
    """
    loaded = _load(folder, [tree_path(folder, tree, cwd)], [])
    return replace(loaded, tree_names=_stems(tree_paths(folder)[0]))


def load_files(folder: Path, paths: Iterable[Path], tree_names: frozenset[str]) -> LoadedLibrary:
    """The library in ``folder`` with the trees in these files; ``tree_names`` are the names of all tree files."""
    return replace(_load(folder, paths, []), tree_names=tree_names)


def _stems(paths: Iterable[Path]) -> frozenset[str]:
    return frozenset(path.stem for path in paths)


def _load(folder: Path, paths: Iterable[Path], problems: list[Problem]) -> LoadedLibrary:
    from faulttree.load.build import build_tree

    library, shared, found = _load_shared(folder)
    problems += found
    files = {each.file: each for each in shared}
    trees: dict[str, Tree] = {}
    tree_files: dict[str, str] = {}
    for file in map(_read, paths):
        files[file.file] = file
        problems += file.problems
        tree = None
        if file.root is not None:
            tree, found = build_tree(file.root, library if file.is_sound else None, file.file)
            problems += found
        if tree and tree.id in trees:
            problems.append(_id_taken(tree.id, file, tree_files[tree.id]))
        elif tree:
            trees[tree.id] = tree
            tree_files[tree.id] = file.file
    return LoadedLibrary(folder, library, trees, tuple(in_order(problems)), files, tree_files)


def _load_shared(folder: Path) -> tuple[Library | None, list[LibraryFile], list[Problem]]:
    """The library of the shared files, or None where any of them has a problem."""
    from faulttree.load.build import build_library

    paths, problems = shared_paths(folder)
    if "library" not in paths and not problems:
        raise UnreadableError(f'there is no {LIBRARY_FILE} in "{shown(folder)}"', "name another folder by --library")
    files = {kind: _read(path) for kind, path in paths.items()}
    roots = {kind: file.root for kind, file in files.items() if file.root is not None}
    library, found = build_library(roots, {kind: file.file for kind, file in files.items()})
    is_sound = not problems and all(file.is_sound for file in files.values())
    problems += [problem for file in files.values() for problem in file.problems] + found
    return library if is_sound else None, list(files.values()), problems


def _read(path: Path) -> LibraryFile:
    from faulttree.load.parse import load

    file = shown(path)
    root, text, problems = load(read_bytes(path), file)
    return LibraryFile(path, file, text, root, problems)


def _id_taken(id: str, file: LibraryFile, other: str) -> Problem:
    message = f'the id "{id}" is that of the tree in "{other}" too'
    return Problem("id-taken", ERROR, message, "give each tree an id of its own", file.file, where(file.root, ("id",)))


def tree_path(folder: Path, tree: str, cwd: Path | None = None) -> Path:
    """The file of a tree, named by its id or by the file, from ``cwd`` or from the library's folder."""
    if tree.endswith(SUFFIX) or "/" in tree or "\\" in tree:
        return _path_of_file(folder, tree, cwd)
    paths, _ = tree_paths(folder)
    for path in paths:
        if path.stem == tree:
            return path
    ids = {header.id: path for path, header in headers_of(paths) if header}
    if tree in ids:
        return ids[tree]
    from difflib import get_close_matches

    like = get_close_matches(tree, {*ids, *(path.stem for path in paths)}, n=1)
    advice = f'did you mean "{like[0]}"?' if like else 'list the trees with "faulttree symptoms"'
    raise UsageError(f'there is no tree "{tree}" in "{shown(folder)}"', advice)


def _path_of_file(folder: Path, name: str, cwd: Path | None) -> Path:
    for path in ((cwd or Path()) / name, folder / name):
        if is_file(path):
            if path.stem in SHARED:
                raise UsageError(f'"{name}" is a shared file and no tree', "name the file of a tree, or its id")
            return path
    raise UnreadableError(f'there is no file "{name}"', "check the name, or give the id of a tree")


# -- headers


def list_headers(folder: Path) -> list[tuple[Path, Header | None]]:
    """The header of each tree below ``folder``, from its first bytes; None where it cannot be read."""
    return list(headers_of(tree_paths(folder)[0]))


def headers_of(paths: Iterable[Path]) -> Iterator[tuple[Path, Header | None]]:
    """The headers of these files."""
    for path in paths:
        data = read_bytes(path, HEADER_BYTES)
        if len(data) == HEADER_BYTES and not has_end(data):
            data = read_bytes(path)
        yield path, read_header(data)
