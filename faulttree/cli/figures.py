"""Which drawings ``faulttree draw`` makes: of which trees, models and roles, and against what."""

from __future__ import annotations

import os
from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from faulttree.cli.in_use import here, library_in_use, say_if_shipped
from faulttree.cli.parser import choice_of
from faulttree.problems import LibraryError, UnreadableError, UsageError

if TYPE_CHECKING:
    from faulttree.draw.figure import Figure
    from faulttree.library import LoadedLibrary
    from faulttree.model import Library, Tree, Variant


class Job(NamedTuple):
    """One drawing: the figure, and the name of its files without part and ending."""

    figure: Figure
    name: str


def loaded_for(args: Namespace) -> LoadedLibrary:
    """The one tree that is named with its library, or the library in use.

    Raises:
        LibraryError: Something in it keeps it from being drawn.
    """
    from faulttree.cli.ways import load_sound_tree
    from faulttree.library import LoadedLibrary, load_library

    if not args.all:
        library, tree = load_sound_tree(args)
        return LoadedLibrary(Path(), library, {tree.id: tree}, (), {}, {})
    loaded = load_library(library_in_use(args))
    say_if_shipped(args, loaded.folder)
    _need_sound(loaded, str(loaded.folder))
    return loaded


def _need_sound(loaded: LoadedLibrary, name: str) -> None:
    from faulttree.problems import ERROR

    errors = [problem for problem in loaded.problems if problem.severity == ERROR]
    if loaded.library is None or errors:
        raise LibraryError(f'"{name}" has problems that keep it from being drawn', 'run "faulttree check"', errors)


def jobs_of(args: Namespace, loaded: LoadedLibrary) -> Iterator[Job]:
    """The drawings, by tree, model that differs and role.

    Raises:
        UsageError: A model, a role or what to compare with is not known.
        LibraryError: A tree cannot be drawn.
    """
    assert loaded.library is not None
    for tree in loaded.trees.values():
        for variant in _variants(args, tree):
            for role in _roles(args, loaded.library, variant):
                figure = _figure(args, loaded.library, tree, variant, role)
                model = "" if len(tree.distinct_variants()) == 1 else f"-{variant.model}"
                yield Job(figure, f"{tree.id}{model}-{role}")


def _variants(args: Namespace, tree: Tree) -> tuple[Variant, ...]:
    if args.model is None:
        return tree.distinct_variants()
    if args.model in tree.variants:
        return (tree.variants[args.model],)
    if args.all:
        return ()
    raise UsageError(f'"{args.model}" is no model of "{tree.id}"', choice_of(args.model, tree.models))


def _roles(args: Namespace, library: Library, variant: Variant) -> list[str]:
    """The role that is asked for; with --all each that may begin, unless it reaches no more than one before it."""
    if args.role:
        if args.role not in library.roles:
            raise UsageError(f'"{args.role}" is no role of this library', choice_of(args.role, tuple(library.roles)))
        return [args.role]
    if not args.all:
        return [library.first_role]
    from faulttree.draw.make import reached_by
    from faulttree.reach import for_other

    found: dict[object, str] = {}
    for role in library.roles:
        if not for_other(library, variant.steps[variant.start], role):
            reached = reached_by(library, variant, role)
            met = frozenset(name for name in reached if for_other(library, variant.steps[name], role))
            found.setdefault((reached, met), role)
    return list(found.values()) or [library.first_role]


def _figure(args: Namespace, library: Library, tree: Tree, variant: Variant, role: str) -> Figure:
    from faulttree.draw.make import Wish, figure_of

    wish = Wish(role, not args.no_figures, facts=args.against is not None)
    figure = figure_of(library, _acyclic(tree, variant), variant, wish)
    if args.against is None:
        return figure
    from faulttree.draw.against import against

    old_library, old = _old(args, tree.id)
    if variant.model not in old.variants:
        raise UsageError(f'"{args.against}" has no model "{variant.model}"', f"choose one of: {', '.join(old.models)}")
    if role not in old_library.roles:
        raise UsageError(f'"{args.against}" has no role "{role}"', f"choose one of: {', '.join(old_library.roles)}")
    before = old.variants[variant.model]
    return against(
        figure_of(old_library, _acyclic(old, before), before, wish), figure, f"revision {old.revision} ({args.against})"
    )


def _acyclic(tree: Tree, variant: Variant) -> Tree:
    from faulttree.graph import graph_of

    if not graph_of(variant).order:
        raise LibraryError(f'the steps of "{tree.id}" run in a circle', 'run "faulttree check" and mend it')
    return tree


def _old(args: Namespace, tree: str) -> tuple[Library, Tree]:
    """The tree to compare with: the file that is named, or the tree of the same id in the library that is named."""
    from faulttree.cli.ways import load_sound_tree
    from faulttree.library_files import is_file
    from faulttree.revisions import split_revision

    if not args.against.strip():
        raise UsageError("--against names nothing", "name the file of a tree, the folder of a library, or REV:path")
    # Not by the path's own question: it raises for a name that is too long.
    if not os.path.exists(here() / args.against):
        if split_revision(args.against):
            return _old_of_revision(args, tree)
        advice = "name the file of a tree, the folder of a library, or REV:path"
        raise UnreadableError(f'there is no file or folder "{args.against}"', advice)
    is_tree = is_file(here() / args.against)
    place = {} if is_tree else {"library": args.against}
    asked = Namespace(**{**vars(args), "tree": args.against if is_tree else tree, "library": None, **place})
    return load_sound_tree(asked)


def _old_of_revision(args: Namespace, tree: str) -> tuple[Library, Tree]:
    from faulttree.cli.sides import side_of_revision

    with side_of_revision(args.against) as named:
        old = named.side.trees.get(named.tree or tree)
    if old is None:
        raise UsageError(f'there is no tree "{tree}" in "{args.against}"', "name the file of a tree, as REV:path")
    return named.side.library, old
