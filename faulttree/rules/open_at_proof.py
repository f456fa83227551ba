"""Something is open where an operational check can pass, or where no fault is found.

Meaning:
    On the way that is shown, a hazard or a disturbance (an item of the library's `open_items`) has been opened and not
    closed when the operational check of a fix may pass, or at a no fault found end. Duties may stay open.

Why:
    A walk that ends as corrected must leave nothing loose behind: no pin out, no cover off. The fix that ends it puts
    everything back before its operational check.

Wrong:
    spare-cell:
      check: Does the lamp light with a spare cell?
      opens: [cell-out]
    fit-switch:
      fix: Fit a new switch      # passes with the cell still out

Right:
    spare-cell:
      check: Does the lamp light with a spare cell?
      opens: [cell-out]
    fit-switch:
      fix: Fit a new switch
      closes: [cell-out]
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import End
from faulttree.rules.advice import listed
from faulttree.rules.context import Context, Hit
from faulttree.rules.ways import shown_way


def check(context: Context) -> Iterator[Hit]:
    """One hit for each step."""
    for found in context.left_open:
        step = context.variant.steps[found.step]
        if isinstance(step, End):
            where, advice = "no fault found is reached", "close it on the way"
        else:
            where, advice = "the operational check can pass", "close it by `closes` of this fix, or on the way"
        message = f'{listed(found.items)} can be open at "{found.step}", where {where}'
        yield Hit(("steps", found.step, "~"), message, advice, shown_way(context, found.way, found.step))
