"""A fix that is not for the first role has no approved data.

Meaning:
    A fix of a mechanic, or of anybody but the first role, does not say by `data` in which document and section its work
    is approved. On a tree of several models it must say so for each.

Why:
    The program orders and records work; it is not approved data. Who does the work needs the page that is.

Wrong:
    fit-switch:
      fix: Fit a new switch
      who: mechanic

Right:
    fit-switch:
      fix: Fit a new switch
      who: mechanic
      data: {LAMP-01: "4.1"}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each fix."""
    first, roles = context.library.first_role, context.library.roles
    for fix in context.fixes:
        if not fix.data and fix.who != first and fix.who in roles and fix.base == fix.id:
            message = f'the fix "{fix.id}" is for {fix.who} and names no approved data'
            yield Hit(("steps", fix.id, "~"), message, "name document and section by `data`")
