"""A released tree is not what was released.

Meaning:
    The status says released, but nobody is named who released it, or the digest of the release does not fit: the tree,
    or a shared entry that it uses, has changed in meaning since, or `written_against` says another revision of a
    document. Releases made before `written_against` counted say nothing about it, and are made anew.

Why:
    People rely on a released tree because somebody answered for it. What changed afterwards nobody has answered for,
    so the tree counts as a draft again until it is released anew.

Wrong:
    status: released
    released: {by: A. Releaser, date: 2026-11-20, digest: 0000}

Right:
    status: draft
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.digest import OF_OLD, standing
from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """At most one hit a tree."""
    tree = context.tree
    stands = standing(tree, context.library)
    if tree.status == "released" and stands != "RELEASED":
        if stands == OF_OLD:
            what = "was released before releases counted written_against"
        else:
            what = "has changed since it was released" if tree.released else "is released by nobody"
        advice = "release it anew, or write status: draft"
        yield Hit(("status",), f'"{tree.id}" {what}, so it counts as a draft', advice)
