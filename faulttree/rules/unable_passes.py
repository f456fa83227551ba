"""Where a safety check cannot be made, the walk can still end as passed.

Meaning:
    A check is a safety check where it tells a cause that is reportable, or a cause that no fix of the tree clears: one
    for which the equipment is taken out of use. From its `unable` the cause may lead, by what it shows, to a fix that
    does not clear it, and only the operational check of that fix stands between it and the next patient.

Why:
    That operational check was made for another fault. What nobody could look at must not be passed over: without this
    look the equipment stays out of use, or somebody else looks first.

Wrong:
    hub:
      check: Is the hub whole?             # tells a cracked hub, which is reportable
      findings: {Whole: fit-bearings, Crack: out-of-use}
      unable: fit-bearings

Right:
    hub:
      check: Is the hub whole?
      findings: {Whole: fit-bearings, Crack: out-of-use}
      unable: out-of-use
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Cause, Check, Fix
from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each check and cause, with the first fix that may pass."""
    causes = context.variant.causes.values()
    # Few trees have such a cause; the others pay for one look at their causes.
    cleared = {name for fix in context.fixes for name in fix.clears}
    grave = [cause for cause in causes if cause.reportable or cause.id not in cleared]
    if not grave or not context.graph.order:
        return
    for cause in grave:
        for step in context.checks:
            fix = _passes(context, cause, step) if step.id in context.graph.reached and _tells(step, cause) else ""
            if fix:
                message = f'"{step.id}" tells "{cause.id}", and where it cannot be made, "{fix}" may still pass'
                advice = "lead `unable` to an end, or to another check that tells it"
                yield Hit(("steps", step.id, "unable", "~"), message, advice)


def _tells(step: Check, cause: Cause) -> bool:
    """Whether the cause shows something firm there that other causes do not usually show."""
    shown = cause.shows.get(step.base, ())
    usual = set(step.usual)
    return bool(shown) and bool(usual) and step.sure >= 1.0 and usual.isdisjoint(shown)


def _passes(context: Context, cause: Cause, step: Check) -> str:
    """The first fix that does not clear the cause and that the cause may come to by what it shows."""
    steps = context.variant.steps
    waiting, seen = [step.unable.to] if step.unable else [], set[str]()
    while waiting:
        name = waiting.pop()
        here = steps.get(name)
        if name in seen or here is None:
            continue
        seen.add(name)
        if isinstance(here, Fix):
            if cause.id not in here.clears:
                return name
        elif isinstance(here, Check):
            shown = context.variant.shown(here, cause)
            waiting += [finding.goto for finding in here.findings if finding.label in shown and finding.goto]
    return ""
