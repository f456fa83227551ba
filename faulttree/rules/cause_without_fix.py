"""Nothing in the tree answers for a cause.

Meaning:
    No fix clears the cause, and no end names it: not `accepts` of a deferral, not `for` of a hand-over, of a document
    or of another tree.

Why:
    Whoever has this fault is sent away without an answer. A cause that this base cannot mend still needs an end that
    says where it is mended.

Wrong:
    causes:
      cell-flat: {is: Cell flat}
      switch-worn: {is: Switch worn}
    steps:
      fit-cell:
        fix: Fit a new cell
        clears: [cell-flat]      # nobody clears switch-worn

Right:
    causes:
      cell-flat: {is: Cell flat}
      switch-worn: {is: Switch worn}
    steps:
      fit-cell:
        fix: Fit a new cell
        clears: [cell-flat]
      send-in:
        end: hand over
        to: workshop
        for: [switch-worn]
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each cause that no fix clears and no end names."""
    answered = {cause for fix in context.fixes for cause in fix.clears}
    answered.update(cause for end in context.ends for cause in end.named)
    for cause in context.variant.causes:
        if cause not in answered:
            message = f'no fix clears the cause "{cause}", and no end names it'
            yield Hit(("causes", cause, "~"), message, "add a fix that clears it, or name it at an end")
