"""Safe mending of how files look: each kind of change is made, loaded again, and kept only if it means the same.

What means the same: the library, or the tree, has the same values in the same order, lists of notices by their signal
words, as every page shows them; every release stands as it stood; every comment is still there. Otherwise the
change is not made, and that is told. A file with errors is left alone, since nobody can say what it means.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence

from faulttree.digest import standing
from faulttree.library import LibraryFile, LoadedLibrary
from faulttree.load import edit
from faulttree.load.build import build_library, build_tree
from faulttree.load.nodes import Node
from faulttree.load.parse import load
from faulttree.load.schema import TREE, kind_of
from faulttree.model import SIGNALS, Library, Tree
from faulttree.problems import ERROR
from faulttree.value import Value, stated

Change = Callable[[str, Node], str]


class Mended(Value):
    """A file with its text before and after, the kinds of changes made, and those not made, each with why."""

    file: LibraryFile
    after: str
    done: tuple[str, ...]
    refused: tuple[str, ...]

    @property
    def is_changed(self) -> bool:
        """Whether there is anything to write."""
        return self.after != self.file.text


def mend(loaded: LoadedLibrary, file: LibraryFile) -> Mended:
    """The file as it would be after every change that is safe."""
    wrong = {each.file for each in loaded.problems if each.severity == ERROR}
    if file.root is None or file.file in wrong:
        return Mended(file, file.text, (), ("it has errors",))
    if loaded.library is None:
        return Mended(file, file.text, (), (_without_library(loaded, wrong),))
    text, done, refused = file.text, [], []
    for name, change in _changes(loaded.library, kind_of(file.file)):
        root = load(text.encode(), file.file).root
        changed = change(text, root) if root is not None else text
        if changed == text:
            continue
        why = _difference(loaded, loaded.library, file, changed)
        if why:
            refused.append(f"{name}: {why}")
        else:
            text = changed
            done.append(name)
    return Mended(file, text, tuple(done), tuple(refused))


def _without_library(loaded: LoadedLibrary, wrong: Collection[str]) -> str:
    """Why nobody can say what a file means that has no error itself: the shared files that have some."""
    names = [each.file for each in _shared(loaded) if each.file in wrong]
    if len(names) == 1:
        return f"{names[0]} has errors, and without it nobody can say what this means"
    return f"{' and '.join(names) or 'shared files'} have errors, and without them nobody can say what this means"


def _changes(library: Library, kind: str) -> Iterator[tuple[str, Change]]:
    """The kinds of changes, in the order in which they are made."""
    signals = {name: str(notice.signal) for name, notice in library.notices.items()}
    yield "blanks at ends of lines", edit.without_trailing_blanks
    yield "quotes", lambda text, root: edit.with_quotes(text, root, kind)
    yield "order of keys", lambda text, root: edit.with_key_order(text, root, kind)
    yield "order of notices", lambda text, root: edit.with_notice_order(text, root, signals)


# -- whether it means the same


def _difference(loaded: LoadedLibrary, library: Library, file: LibraryFile, text: str) -> str:
    """Why the new text may not take the place of the old; empty where it may."""
    new = load(text.encode(), file.file)
    if new.root is None or len(new.problems) > len(file.problems):
        return "it could not be read any more"
    if _comments(text) != _comments(file.text):
        return "a comment would be lost"
    kind = kind_of(file.file)
    if kind == TREE:
        tree, _ = build_tree(new.root, library, file.file)
        return _tree_differs(loaded, library, file, tree)
    roots = {kind_of(each.file): each.root for each in _shared(loaded) if each.root is not None}
    names = {kind_of(each.file): each.file for each in _shared(loaded)}
    made, _ = build_library({**roots, kind: new.root}, names)
    if made is None or _meant(made, library) != _meant(library, library):
        return "it would not mean the same"
    return _releases_differ(loaded, library, made)


def _tree_differs(loaded: LoadedLibrary, library: Library, file: LibraryFile, tree: Tree | None) -> str:
    before = next((each for each in loaded.trees.values() if loaded.tree_files[each.id] == file.file), None)
    if tree is None or before is None or _meant(tree, library) != _meant(before, library):
        return "it would not mean the same"
    if standing(tree, library) != standing(before, library):
        return "its release would not stand any more"
    return ""


def _releases_differ(loaded: LoadedLibrary, library: Library, made: Library) -> str:
    """Whether a release stands otherwise with the new shared entries."""
    for tree in loaded.trees.values():
        root = loaded.files[loaded.tree_files[tree.id]].root
        if tree.status == "released" and root is not None:
            anew, _ = build_tree(root, made, tree.id)
            if anew is None or standing(anew, made) != standing(tree, library):
                return f'the release of "{tree.id}" would not stand any more'
    return ""


def _shared(loaded: LoadedLibrary) -> list[LibraryFile]:
    return [file for name, file in loaded.files.items() if kind_of(name) != TREE]


def _meant(value: object, library: Library, name: str = "") -> object:
    """A frozen value as plain data that can be compared, with all orders that mean something."""
    if isinstance(value, Value):
        return [(key, _meant(each, library, key)) for key, each in stated(value).items()]
    if isinstance(value, Mapping):
        return [(key, _meant(each, library)) for key, each in value.items()]
    if isinstance(value, frozenset):
        return sorted(value)
    if name == "notices" and isinstance(value, tuple):
        return sorted(value, key=lambda each: _rank(each, library))
    if isinstance(value, tuple | list):
        return [_meant(each, library) for each in value]
    return value


def _rank(notice: str, library: Library) -> int:
    known = library.notices.get(notice)
    return known.rank if known else len(SIGNALS)


_COMMENT = re.compile(r"(?:^|(?<=[ \t]))#[^\n]*", re.MULTILINE)


def _comments(text: str) -> Sequence[str]:
    """Everything that looks like a comment, sorted. What looks so inside a text is there before and after too."""
    return sorted(match[0].rstrip() for match in _COMMENT.finditer(text))
