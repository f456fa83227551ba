"""A step leads to a tree that is withdrawn.

Meaning:
    An end sends to another tree, or a fix offers one afterwards, and the status of that tree is withdrawn.

Why:
    A withdrawn tree is not to be used any more, so whoever is sent there has no tree at all.

Wrong:
    # lamp-is-dark.yaml has `status: withdrawn`
    see-dark:
      end: see another tree
      tree: lamp-is-dark
      for: {cell-flat: [cell-flat]}

Right:
    # its successor is in use
    see-dark:
      end: see another tree
      tree: lamp-does-not-light
      for: {cell-flat: [cell-flat]}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit, Path

WITHDRAWN = "withdrawn"


def check(context: Context) -> Iterator[Hit]:
    """One hit for each such end and fix; none in a tree that is withdrawn itself, for nobody comes through it."""
    if context.tree.status == WITHDRAWN:
        return
    for name, path in _led_to(context):
        tree = context.trees.get(name)
        if tree and tree.status == WITHDRAWN:
            yield Hit(path, f'the tree "{name}" is withdrawn', "lead to a tree that is in use, or to another end")


def _led_to(context: Context) -> Iterator[tuple[str, Path]]:
    """The trees that ends and fixes lead to, with where the file names them."""
    yield from ((end.tree, ("steps", end.id, "tree")) for end in context.ends if end.tree)
    for fix in context.fixes:
        if fix.then and fix.base == fix.id:
            yield fix.then, ("steps", fix.id, "then", "tree")
