"""From positioned data to the model, with every problem of shape and of building, each at its place in the text.

The shape is checked while the values are read. Only where it is wrong are the schemas asked to explain why.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from faulttree.load.fields import Keys, Record, ShapeError, read_record
from faulttree.load.keys import SHARED_KEYS
from faulttree.load.keys_tree import TREE_KEYS
from faulttree.load.models import Trouble, problem_of
from faulttree.load.nodes import Node, Path, scalars, where
from faulttree.load.shared import make_library, troubles_of_shared
from faulttree.load.tree import make_tree
from faulttree.model import Library, Tree
from faulttree.problems import ERROR, Problem, in_order

TREE = "tree"
KEYS: Mapping[str, Keys] = {**SHARED_KEYS, TREE: TREE_KEYS}
"""The keys of each kind of file."""


def read_shape(root: Node, kind: str, file: str) -> tuple[Record | None, list[Problem]]:
    """The values of a file of this kind, or what is wrong with its shape."""
    try:
        return read_record(root, KEYS[kind]), []
    except ShapeError as wrong:
        return None, explained(root, kind, file, wrong.path)


def explained(root: Node, kind: str, file: str, path: Path) -> list[Problem]:
    """What the schema says is wrong; should it find nothing, then at least the place where reading stopped.

    Empty values are no news: they were reported when the file was read.
    """
    from faulttree.load.explain import explain_shape

    problems = explain_shape(root, kind, file)
    if problems or any(not scalar.value for scalar in scalars(root)):
        return problems
    message = f'the value of "{path[-1]}" is of the wrong kind' if path else "the file is of the wrong kind"
    advice = "compare it with the description of the format"
    return [Problem("shape-wrong", ERROR, message, advice, file, where(root, path))]


def build_library(roots: Mapping[str, Node], files: Mapping[str, str]) -> tuple[Library | None, list[Problem]]:
    """The library of its shared files, by kind; ``files`` has their names for the problems.

    It is None where any file has a problem, or where there is none of kind `library`.
    """
    records: dict[str, Record] = {}
    problems: list[Problem] = []
    for kind, root in roots.items():
        record, found = read_shape(root, kind, files[kind])
        problems += found
        if record is not None:
            records[kind] = record
    if "library" in records:
        models = tuple(records["library"]["models"])
        for kind, record in records.items():
            troubles = troubles_of_shared(kind, record, models)
            problems += _problems(troubles, roots[kind], files[kind])
    if problems or "library" not in records:
        return None, in_order(problems)
    return make_library(records), []


def build_tree(root: Node, library: Library | None, file: str) -> tuple[Tree | None, list[Problem]]:
    """The tree in a file, or its problems. Without a library only its shape is checked."""
    record, problems = read_shape(root, TREE, file)
    if record is None or library is None:
        return None, in_order(problems)
    tree, troubles = make_tree(record, library)
    return tree, in_order(_problems(troubles, root, file))


def _problems(troubles: Iterable[Trouble], root: Node, file: str) -> list[Problem]:
    return [problem_of(trouble, root, file) for trouble in troubles]
