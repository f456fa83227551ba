"""What the paths of ``faulttree check`` name: libraries, folders of trees, single files, trees by their ids."""

from __future__ import annotations

import os
from argparse import Namespace
from collections.abc import Iterable, Sequence
from contextlib import suppress
from pathlib import Path

from faulttree.cli.in_use import here, library_above, library_in_use, need_own_library, say_if_shipped
from faulttree.library import LoadedLibrary, load_library, load_tree, tree_path
from faulttree.library_files import LIBRARY_FILE, SHARED, SUFFIX, is_file, tree_paths
from faulttree.load.patterns import NAME
from faulttree.model import End, Fix, Tree
from faulttree.problems import FaulttreeError, UnreadableError
from faulttree.value import Value


class Target(Value):
    """A library, and the part of it that is asked about: files and folders; all of it where ``parts`` is empty."""

    folder: Path
    parts: tuple[Path, ...] = ()

    def includes(self, path: Path) -> bool:
        """Whether a file is asked about."""
        return not self.parts or any(path == part or part in path.parents for part in self.parts)


def targets(paths: Sequence[str], args: Namespace) -> list[Target]:
    """What ``paths`` ask about, a target a library; without paths, the library in use."""
    if not paths:
        return [Target(library_in_use(args))]
    parts: dict[Path, list[Path]] = {}
    whole: dict[Path, None] = {}
    for name in paths:
        for folder, part in _named(here() / name, name, args):
            parts.setdefault(folder, [])
            if part is None:
                whole[folder] = None
            else:
                parts[folder].append(part)
    return [Target(folder, () if folder in whole else tuple(dict.fromkeys(found))) for folder, found in parts.items()]


def _named(path: Path, name: str, args: Namespace) -> Iterable[tuple[Path, Path | None]]:
    """The libraries that a path means, each with the part of it; None for all of it."""
    if is_file(path):
        folder = library_above(path.parent) or (library_in_use(args) if args.library else None)
        if folder is None and getattr(args, "pass_over", False):
            return []
        if folder is None:
            raise UnreadableError(f'there is no {LIBRARY_FILE} above "{name}"', "name the library by --library DIR")
        return [(folder, None if path.parent == folder and path.stem in SHARED else path)]
    if not _is_folder(path):
        if found := _by_id(name, args):
            return [found]
        what = "file, folder or tree" if _may_be_id(name) else "file or folder"
        raise UnreadableError(f'there is no {what} "{name}"', _like(path, args))
    if is_file(path / LIBRARY_FILE):
        return [(path, None)]
    if folder := library_above(path):
        return [(folder, path)]
    below = [(folder, None) for folder in libraries_below(path)]
    if not below:
        raise UnreadableError(f'there is no {LIBRARY_FILE} in, above or below "{name}"', "name the folder of a library")
    return below


def _may_be_id(name: str) -> bool:
    return bool(NAME(name)) and not name.endswith(SUFFIX)


def _by_id(name: str, args: Namespace) -> tuple[Path, Path] | None:
    """The library in use and its tree of that id, as every other command takes it; None where there is none."""
    if not _may_be_id(name):
        return None
    try:
        folder = library_in_use(args)
        path = tree_path(folder, name)
    except FaulttreeError:
        return None
    if getattr(args, "fix", False):
        need_own_library(args)
    say_if_shipped(args, folder)
    return folder, path


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except (OSError, ValueError):
        return False


def libraries_below(folder: Path) -> list[Path]:
    """The folders below that are libraries, in order; hidden folders and links are passed by."""
    found = []
    for name, folders, files in os.walk(folder):
        folders[:] = sorted(each for each in folders if not each.startswith("."))
        if LIBRARY_FILE in files:
            found.append(Path(name))
            folders.clear()
    return found


def _like(path: Path, args: Namespace) -> str:
    from faulttree.cli.parser import did_you_mean

    names = []
    with suppress(OSError, ValueError):
        names = [each.name for each in path.parent.iterdir() if each.suffix == SUFFIX or each.is_dir()]
    if _may_be_id(path.name):
        with suppress(FaulttreeError):
            names += [each.stem for each in tree_paths(library_in_use(args))[0]]
    return did_you_mean(path.name, names) or "check the name"


def load_target(target: Target) -> LoadedLibrary:
    """The library of a target; only the one tree that is asked about, where it stands alone."""
    if len(target.parts) == 1 and is_file(target.parts[0]):
        loaded = load_tree(target.folder, str(target.parts[0]), here())
        # Without the trees that it leads to, a tree cannot be judged.
        if not any(named_trees(tree) for tree in loaded.trees.values()):
            return loaded
    return load_library(target.folder)


def named_trees(tree: Tree) -> set[str]:
    """The trees that the steps of a tree name."""
    steps = [step for variant in tree.distinct_variants() for step in variant.steps.values()]
    ends = {step.tree for step in steps if isinstance(step, End) and step.tree}
    return ends | {step.then for step in steps if isinstance(step, Fix) and step.then}


def asked_trees(target: Target, loaded: LoadedLibrary) -> list[str]:
    """The ids of the trees that are asked about, in the order of their files."""
    return [id for id, file in loaded.tree_files.items() if target.includes(loaded.files[file].path)]


def asked_files(target: Target, loaded: LoadedLibrary) -> set[str]:
    """The names of the files that are asked about, the shared ones among them."""
    return {
        name for name, file in loaded.files.items() if is_shared(file.path, loaded.folder) or target.includes(file.path)
    }


def is_shared(path: Path, folder: Path) -> bool:
    """Whether it is one of the shared files of the library in ``folder``."""
    return path.parent == folder and path.stem in SHARED
