"""An operational check failed, and the equipment goes on in use at once.

Meaning:
    `failed` of a fix leads straight to an end `deferred` or `no fault found`, with no check between.

Why:
    Work was done and it did not help, so what is wrong is not known any more, and the work itself may have been done
    badly. The proof is silent where no cause of the tree comes this way. A look comes first, or somebody else.

Wrong:
    close-band:
      fix: Close the band
      failed: carry-on           # an end: deferred

Right:
    close-band:
      fix: Close the band
      failed: band-play          # a check
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import End
from faulttree.rules.context import Context, Hit

GOES_ON = frozenset(("deferred", "no fault found"))


def check(context: Context) -> Iterator[Hit]:
    """One hit for each such fix."""
    for fix in context.fixes:
        end = context.variant.steps.get(fix.failed.to) if fix.failed else None
        if isinstance(end, End) and end.kind in GOES_ON:
            yield Hit(
                ("steps", fix.id, "failed"),
                f'"failed" of "{fix.id}" leads straight to "{end.id}", {end.kind}',
                "lead it to a check, to somebody else or out of service",
            )
