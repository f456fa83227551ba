"""What a rule is given, and what it yields."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

from faulttree.graph import Graph, graph_of
from faulttree.left_open import LeftOpen, left_open
from faulttree.model import Check, End, Fix, Library, Tree, Variant, Work
from faulttree.proof import Failure, prove
from faulttree.rules.gathered import do_path, prose_of_library, prose_of_tree
from faulttree.rules.prose import Path, Prose
from faulttree.value import EMPTY, Value

__all__ = ["Context", "Hit", "Path", "Shared"]


class Hit(NamedTuple):
    """What a rule found: where, what is wrong, what to do.

    The path has keys and indexes from the top of the file, as the file has them; an item of a list may be named by its
    text instead of its index, a last ``"~"`` stands for the key itself. Where the path leaves the file, the nearest
    above is meant. A rule knows neither severity nor output. In a rule about shared entries the first key tells
    the file.
    """

    path: Path
    message: str
    help: str
    way: tuple[str, ...] = ()
    cause: str = ""
    """The cause that it is about, where the rule finds the same of several causes: `together` makes one of them."""
    of_several: tuple[str, str] = ("", "")
    """What the message says of several causes, before and after their names."""


def _as_if_written(path: Path) -> bool:
    return True


class Shared(Value):
    """The shared entries, as the rules about them see them, and the names of all trees where they are known."""

    library: Library
    tree_names: Collection[str] | None = None

    @cached_property
    def prose(self) -> Prose:
        """The texts of the shared entries."""
        return prose_of_library(self.library)


class Context(Value):
    """One tree on one model, as rules see it. What several rules need is computed once."""

    library: Library
    tree: Tree
    variant: Variant
    keys: tuple[str, ...] = ()
    """The keys of the file's top level, in its order."""
    file_name: str = ""
    """The file's name without folder and suffix."""
    trees: Mapping[str, Tree] = EMPTY
    """The trees of the library that could be built, this one included; rules on several trees look here."""
    known_trees: Collection[str] | None = None
    """The names by which a tree may be named; None where they are not known."""
    by_short: Mapping[str, Sequence[str]] = EMPTY
    """Short name to the trees that have it."""
    written: Callable[[Path], bool] = _as_if_written
    """Whether the file has something at a path, where a variant has what `again` or `otherwise` brought in."""

    @property
    def models(self) -> tuple[str, ...]:
        """The models that the variant stands for: all of them where nothing in the tree depends on the model."""
        return self.tree.models if self.tree.alike else (self.variant.model,)

    @cached_property
    def graph(self) -> Graph:
        """The steps as a graph."""
        return graph_of(self.variant)

    @cached_property
    def failures(self) -> list[Failure]:
        """What the proof found."""
        return prove(self.variant, self.graph)

    @cached_property
    def left_open(self) -> list[LeftOpen]:
        """Where something is open that must not be."""
        return left_open(self.library, self.variant, self.graph)

    @cached_property
    def prose(self) -> Prose:
        """The texts of the tree on this model."""
        return prose_of_tree(self.tree, self.variant, self.written)

    def do_path(self, step: str) -> Path:
        """Where the lines of a step stand, which may be one list for each model."""
        return do_path(step, "" if self.tree.alike else self.variant.model, self.written)

    @cached_property
    def checks(self) -> tuple[Check, ...]:
        """The checks, in the order of the file."""
        return tuple(step for step in self.variant.steps.values() if isinstance(step, Check))

    @cached_property
    def fixes(self) -> tuple[Fix, ...]:
        """The fixes, in the order of the file."""
        return tuple(step for step in self.variant.steps.values() if isinstance(step, Fix))

    @cached_property
    def ends(self) -> tuple[End, ...]:
        """The ends, in the order of the file."""
        return tuple(step for step in self.variant.steps.values() if isinstance(step, End))

    @cached_property
    def own_work(self) -> tuple[Work, ...]:
        """The checks and fixes that do not repeat another: what a repeating step says stands at these."""
        works: tuple[Work, ...] = (*self.checks, *self.fixes)
        return tuple(step for step in works if step.base == step.id)
