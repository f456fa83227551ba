"""A released tree does not say against which revision of a document it was written.

Meaning:
    The tree is released, a step of it refers to a document by `data` or `under`, and `written_against` does not say in
    which revision it was read. Of a draft written-against-old says the same as a warning.

Why:
    When the document changes, nothing tells that the tree is older than it. People go on by what the manual no longer
    says, and rely on it, for somebody answered for the tree.

Wrong:
    status: released
    steps:
      fit-cell: {fix: Fit a new cell, data: {LAMP-01: "4"}}

Right:
    status: released
    written_against: {LAMP-01: B}
    steps:
      fit-cell: {fix: Fit a new cell, data: {LAMP-01: "4"}}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit
from faulttree.rules.written_against_old import unstated


def check(context: Context) -> Iterator[Hit]:
    """At most one hit a tree."""
    if context.tree.status == "released":
        yield from unstated(context)
