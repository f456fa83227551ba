"""A no fault found end is within the reach of the first role.

Meaning:
    The end has no `who`, or one that the first role of the library may do.

Why:
    "No fault found" sends equipment back that somebody had a reason to report. That is a judgement for somebody with
    more training than the one who noticed the fault, and who looks at it without hurry.

Wrong:
    nothing-found:
      end: no fault found

Right:
    nothing-found:
      end: no fault found
      who: mechanic
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each such end."""
    first = context.library.first_role
    for end in context.ends:
        if end.kind == "no fault found" and context.library.may(first, end.who):
            yield Hit(
                ("steps", end.id, "who"),
                f'"{first}" may end at "{end.id}" with no fault found',
                "name a role by `who` that is above the first",
            )
