"""A fix or an end names a cause that is not in the tree.

Meaning:
    `clears`, `misses`, `accepts` or `for` has a name that is no cause of this tree.

Why:
    The proof follows causes by their names. With a slip in a name, a fix clears nothing.

Wrong:
    causes:
      cell-flat: {is: Cell flat}
    steps:
      fit-cell:
        fix: Fit a new cell
        clears: [cel-flat]

Right:
    causes:
      cell-flat: {is: Cell flat}
    steps:
      fit-cell:
        fix: Fit a new cell
        clears: [cell-flat]
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from faulttree.rules.advice import instead
from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each name."""
    for fix in context.fixes:
        if fix.base == fix.id:
            yield from _unknown(context, fix.id, "clears", fix.clears)
            yield from _unknown(context, fix.id, "misses", fix.misses)
    for end in context.ends:
        yield from _unknown(context, end.id, "accepts" if end.kind == "deferred" else "for", end.named)


def _unknown(context: Context, step: str, key: str, names: Iterable[str]) -> Iterator[Hit]:
    causes = context.variant.causes
    for name in names:
        if name not in causes:
            advice = instead(name, causes, "write the name of a cause")
            yield Hit(("steps", step, key, name, "~"), f'there is no cause "{name}"', advice)
