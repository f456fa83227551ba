"""Trees as checking gives them to the rules, and what a rule says with its gate and without."""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module

from faulttree.library import LoadedLibrary
from faulttree.load.nodes import has
from faulttree.rules import LIBRARY_RULES, RULES
from faulttree.rules.context import Context, Shared
from faulttree.rules.gates import GATES, LIBRARY_GATES, PROSE_GATES


def contexts(loaded: LoadedLibrary) -> Iterator[Context]:
    """Every tree on every model, as checking gives them to the rules."""
    assert loaded.library is not None
    for tree in loaded.trees.values():
        root = loaded.files[loaded.tree_files[tree.id]].root
        for variant in tree.distinct_variants():
            yield Context(
                library=loaded.library,
                tree=tree,
                variant=variant,
                trees=loaded.trees,
                written=lambda path, root=root: has(root, path),  # type: ignore[misc]
            )


def without_gate(name: str, context: Context) -> set[object]:
    """What a rule says when its module is asked directly."""
    return set(import_module(f"faulttree.rules.{name.replace('-', '_')}").check(context))


def assert_gates_hide_nothing(context: Context) -> None:
    """A rule says the same with its gate and without."""
    for rule in RULES:
        if rule.name in GATES or rule.name in PROSE_GATES:
            assert set(rule.check(context)) == without_gate(rule.name, context), rule.name


def assert_library_gates_hide_nothing(shared: Shared) -> None:
    """The same for the shared entries."""
    for rule in LIBRARY_RULES:
        if rule.name in LIBRARY_GATES or rule.name in PROSE_GATES:
            direct = set(import_module(f"faulttree.rules.{rule.name.replace('-', '_')}").check_library(shared))
            assert set(rule.check(shared)) == direct, rule.name
