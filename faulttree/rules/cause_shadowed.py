"""A fix would pass its operational check although the cause remains.

Meaning:
    On the way that is shown, the cause comes to a fix in whose `misses` it stands: the operational check of that fix
    would pass, the walk would end as corrected, and the cause would still be there.

Why:
    This is how equipment comes back with the same fault. Such a cause must be told apart, or fixed, before; also on
    ways by `unable` or `cannot`.

Wrong:
    fit-cell:
      fix: Fit a new cell
      clears: [cell-flat]
      misses: [contacts-dirty]   # lights with a fresh cell, for a while
      failed: contacts

Right:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Clean: fit-cell, Film: wipe-contacts}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree import proof
from faulttree.rules.context import Context, Hit
from faulttree.rules.ways import failing_path, shown_way


def check(context: Context) -> Iterator[Hit]:
    """One hit for each cause and fix."""
    for failure in context.failures:
        if failure.rule == proof.SHADOWED:
            yield Hit(
                failing_path(failure.way, failure.step),
                f'cause "{failure.cause}" is shadowed: the operational check of "{failure.step}" would pass with it',
                "find the cause by a check before, or clear it first",
                shown_way(context, failure.way, failure.step),
                failure.cause,
                ("", f' are shadowed: the operational check of "{failure.step}" would pass with them'),
            )
