"""A fix has no operational check.

Meaning:
    The fix does not say which operational check shows whether it cleared the fault.

Why:
    Work that is not proved may have cured nothing. Only an operational check that passed ends a walk as corrected, and
    only one that failed leads on.

Wrong:
    fit-cell:
      fix: Fit a new cell
      clears: [cell-flat]
      failed: contacts

Right:
    fit-cell:
      fix: Fit a new cell
      clears: [cell-flat]
      operational_check: lights-ten-times
      failed: contacts
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each fix without an operational check."""
    for fix in context.fixes:
        if not fix.operational_check and fix.base == fix.id:
            message = f'the fix "{fix.id}" has no operational check'
            yield Hit(("steps", fix.id, "~"), message, "name one by `operational_check`")
