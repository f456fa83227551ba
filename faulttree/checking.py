"""All problems of a loaded library: those of reading it, the rules on every tree and model, the proof.

A rule runs once a model. What it finds on every model of a tree is one problem; what it finds on some names them.
What the proof finds of several causes at one step is one problem too, which names them and shows the way of one.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from pathlib import PurePath

from faulttree.library import LibraryFile, LoadedLibrary
from faulttree.load.models import as_written
from faulttree.load.nodes import Table, has, where
from faulttree.model import Tree
from faulttree.problems import ERROR, Concerned, Problem, Settled, in_order
from faulttree.rules import BEFORE_PROOF, LIBRARY_RULES, RULES, Rule, must_wait
from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.standing import SIGN
from faulttree.rules.together import Found, message_of, together
from faulttree.value import Value


def check_library(loaded: LoadedLibrary, only: Collection[str] | None = None) -> list[Problem]:
    """Every problem of ``loaded``, in order; with ``only``, of these trees (by id) and of the shared files.

    What an author lets stand by a comment is not among them.
    """
    return examine(loaded, only).problems


def examine(loaded: LoadedLibrary, only: Collection[str] | None = None, names: Names | None = None) -> Settled:
    """The problems as `check_library` gives them, and beside them what authors let stand.

    ``names`` are those of all trees, where not all of them are loaded.
    """
    problems = [*loaded.problems, *_shared_problems(loaded)]
    unproved: dict[str, tuple[str, ...]] = {}
    names = names or names_of(loaded)
    judged = set(loaded.files) - set(loaded.tree_files.values()) if loaded.library else set()
    for name, tree in loaded.trees.items():
        if only is None or name in only:
            found, because = _check_tree(loaded, tree, names)
            problems += found
            if because:
                unproved[loaded.tree_files[name]] = because
            else:
                judged.add(loaded.tree_files[name])
    judged -= {problem.file for problem in loaded.problems if problem.severity == ERROR}
    return _settled(loaded, problems, judged)._replace(unproved=unproved)


def _settled(loaded: LoadedLibrary, problems: list[Problem], judged: set[str]) -> Settled:
    """The problems without those that a comment lets stand; what reads comments is loaded only where one may be."""
    if not any(SIGN in file.text for file in loaded.files.values()):
        return Settled(in_order(problems), [])
    from faulttree.standing import Source, settle

    return settle(problems, {name: Source(file.text, file.root) for name, file in loaded.files.items()}, judged)


def is_sound(problems: Collection[Problem]) -> bool:
    """Whether there is no error among ``problems``; warnings do not count."""
    return all(problem.severity != ERROR for problem in problems)


class Names(Value):
    """By which names trees may be named, and which trees have a short name; gathered once for all trees."""

    known: frozenset[str] | None
    by_short: Mapping[str, Sequence[str]]


def names_of(loaded: LoadedLibrary) -> Names:
    """The names of the trees that are loaded, and of those that are known to be there."""
    by_short: dict[str, list[str]] = {}
    for name, tree in loaded.trees.items():
        by_short.setdefault(tree.short, []).append(name)
    known = None if loaded.tree_names is None else loaded.tree_names | loaded.trees.keys()
    return Names(known, by_short)


def _check_tree(loaded: LoadedLibrary, tree: Tree, names: Names) -> tuple[list[Problem], tuple[str, ...]]:
    """What the rules find in ``tree``, and the rules that must be content before the proof is asked."""
    file = loaded.files[loaded.tree_files[tree.id]]
    contexts = _contexts(loaded, tree, names, file)
    problems: list[Problem] = []
    broken: dict[str, None] = {}
    for rule in RULES:
        if broken and must_wait(rule.name, broken):
            continue
        found: dict[Hit, list[str]] = {}
        for context in contexts:
            for hit in dict.fromkeys(rule.check(context)):
                found.setdefault(hit, []).append(context.variant.model)
        if not found:
            continue
        for gathered in together(found, by_place=rule.severity != ERROR):
            problems.append(_gathered_problem(rule, gathered, file, len(contexts)))
        if rule.name in BEFORE_PROOF:
            broken[rule.name] = None
    return problems, tuple(broken)


def _contexts(loaded: LoadedLibrary, tree: Tree, names: Names, file: LibraryFile) -> list[Context]:
    """What rules look at, for each model that differs; nothing without a library."""
    return [
        Context(
            library=loaded.library,
            tree=tree,
            variant=variant,
            keys=_keys(file),
            file_name=PurePath(file.file).stem,
            trees=loaded.trees,
            known_trees=names.known,
            by_short=names.by_short,
            written=lambda path: has(file.root, path),
        )
        for variant in tree.distinct_variants()
        if loaded.library is not None
    ]


def _keys(file: LibraryFile) -> tuple[str, ...]:
    return tuple(file.root.entries) if isinstance(file.root, Table) else ()


def _shared_problems(loaded: LoadedLibrary) -> Iterator[Problem]:
    """What the rules find in the shared entries; the first key of a path tells the file."""
    if loaded.library is None:
        return
    home = _homes(loaded.files)
    for rule in LIBRARY_RULES:
        for hit in rule.check(Shared(loaded.library, loaded.tree_names)):
            yield _problem(rule.name, rule.severity, hit, home[str(hit.path[0])], "")


def _homes(files: Mapping[str, LibraryFile]) -> dict[str, LibraryFile]:
    """Top-level key to the file that has it; shared files come first, so a tree's keys never hide theirs."""
    homes: dict[str, LibraryFile] = {}
    for file in files.values():
        for key in _keys(file):
            homes.setdefault(key, file)
    return homes


def _gathered_problem(rule: Rule, hits: Sequence[Found], file: LibraryFile, models: int) -> Problem:
    """One problem of what a rule found together; the place and the way are those of the first."""
    first = hits[0].hit
    problem = _problem(rule.name, rule.severity, first._replace(message=message_of(hits, models)), file, "")
    if not first.cause:
        return problem
    causes = (
        Concerned(hit.cause, tuple(on), where(file.root, as_written(file.root, hit.path)), hit.way) for hit, on in hits
    )
    return problem._replace(causes=tuple(causes))


def _problem(rule: str, severity: str, hit: Hit, file: LibraryFile, on: str) -> Problem:
    span = where(file.root, as_written(file.root, hit.path))
    return Problem(rule, severity, f"{hit.message}{on}", hit.help, file.file, span, hit.way)
