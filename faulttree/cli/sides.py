"""What OLD and NEW of ``faulttree compare`` and of ``faulttree draw --against`` name: file, folder, REV:path of git."""

from __future__ import annotations

import os
from argparse import Namespace
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from faulttree.cli.in_use import here, library_above
from faulttree.compare import Side
from faulttree.library import LoadedLibrary, load_library
from faulttree.library_files import LIBRARY_FILE, SHARED, is_file, shown
from faulttree.problems import ERROR, Problem, UnreadableError
from faulttree.revisions import fetch, split_revision
from faulttree.value import Value


class Named(Value):
    """A side as it was named: the library around it, and the one file of it that is meant; none for a folder."""

    word: str
    loaded: LoadedLibrary
    side: Side
    file: Path | None = None

    @property
    def tree(self) -> str:
        """The id of the tree that is meant; empty for a folder or a shared file."""
        files = self.loaded.files
        return next((id for id, name in self.loaded.tree_files.items() if files[name].path == self.file), "")

    @property
    def is_shared(self) -> bool:
        """Whether a shared file is meant."""
        return self.file is not None and self.file.parent == self.loaded.folder and self.file.stem in SHARED


@contextmanager
def sides(args: Namespace) -> Iterator[tuple[Named, Named]]:
    """Both sides, loaded; raises `UnreadableError` where one cannot be."""
    with TemporaryDirectory(prefix="faulttree-") as temporary:
        yield (
            _named(args.old, Path(temporary) / "old"),
            _named(args.new, Path(temporary) / "new"),
        )


@contextmanager
def side_of_revision(word: str) -> Iterator[Named]:
    """What ``REV:path`` names, loaded; raises `UnreadableError` where it cannot be."""
    with TemporaryDirectory(prefix="faulttree-") as temporary:
        yield _named(word, Path(temporary) / "side")


def _named(word: str, into: Path) -> Named:
    """The side; a file is always read with the library around it, for no other says what its names mean."""
    path = here() / word
    if not os.path.lexists(path) and split_revision(word):
        into.mkdir()
        fetched = fetch(word, here(), into, os.environ)
        return _side(word, fetched.folder, into / fetched.part if fetched.part else into, into)
    if is_file(path):
        folder = library_above(path.parent)
    elif path.is_dir():
        folder = library_above(path)
    else:
        advice = "name a file, a folder, or REV:path of git"
        raise UnreadableError(f'there is no file or folder "{word}"', advice)
    if folder is None:
        raise UnreadableError(f'there is no {LIBRARY_FILE} at or above "{word}"', "name a library, or a file of one")
    return _side(word, folder, Path(os.path.normpath(path)), None)


def _side(word: str, folder: Path, path: Path, temporary: Path | None) -> Named:
    """The library in ``folder``; names of files below ``temporary`` are told as those of the revision."""
    loaded = load_library(folder)
    file = path if is_file(path) else None
    wrong = [problem for problem in loaded.problems if problem.severity == ERROR]
    if file is not None and loaded.library is not None and file.stem not in SHARED:
        wrong = [problem for problem in wrong if problem.file == shown(file)]
        if not wrong and shown(file) not in loaded.tree_files.values():
            raise UnreadableError(f'"{word}" is no tree of its library', "name the file of a tree, or a folder")
    if wrong or loaded.library is None:
        raise _unreadable(word, wrong, temporary)
    return Named(word, loaded, Side(loaded.library, loaded.trees), file)


def _unreadable(word: str, wrong: list[Problem], temporary: Path | None) -> UnreadableError:
    what = f'"{word}" cannot be compared, because it has errors'
    if not wrong:
        return UnreadableError(what, 'run "faulttree check" on it')
    first = wrong[0]
    file = first.file
    if temporary is not None:
        file = f"{word.partition(':')[0]}:{os.path.relpath(first.file, shown(temporary))}"
    more = f" and {len(wrong) - 1} more" if len(wrong) > 1 else ""
    place = f"{file}:{first.span.line}:{first.span.column}"
    return UnreadableError(f"{what}: {place}: {first.message}{more}", f"{first.help}; faulttree check shows all")
