"""A step does not say where to go when it cannot be done or did not help.

Meaning:
    A check has no `unable`, a fix has no `failed` or no `cannot`, or a deferral with conditions has no `cannot`, and
    the tree's `otherwise` does not say it either. A check that stands in the fault table only needs none.

Why:
    A tool is missing, a screw is stuck, the operational check fails: the walk would stop there, with the equipment
    in pieces and nothing to do next.

Wrong:
    fit-cell:
      fix: Fit a new cell
      clears: [cell-flat]

Right:
    fit-cell:
      fix: Fit a new cell
      clears: [cell-flat]
      failed: contacts
      cannot: out-of-use
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit

WHEN = {
    "unable": "the check cannot be made",
    "failed": "the operational check fails",
    "cannot": "the work cannot be done",
}


def check(context: Context) -> Iterator[Hit]:
    """One hit for each step and way; a step that repeats another lacks what the other lacks."""
    for step in context.checks:
        if step.unable is None and not step.table_only and step.base == step.id:
            yield _hit(step.id, "unable", WHEN["unable"])
    for fix in context.fixes:
        for way, route in (("failed", fix.failed), ("cannot", fix.cannot)):
            if route is None and fix.base == fix.id:
                yield _hit(fix.id, way, WHEN[way])
    for end in context.ends:
        if end.kind == "deferred" and end.when and end.cannot is None:
            yield _hit(end.id, "cannot", "a condition is not met")


def _hit(step: str, way: str, when: str) -> Hit:
    return Hit(("steps", step, "~"), f'"{step}" does not say where to go when {when}', f"say it by `{way}`")
