"""An operational check can come before a consumable is in service.

Meaning:
    A consumable of a check needs time before what it was used on may be operated, and on a way that is shown a fix is
    proved sooner. The minutes of the checks and fixes in between count, and so do those of the fix and its own wait;
    a step that could not be done takes no time, and one without `minutes` none. A fix waits only for the consumables
    that it names itself.

Why:
    A thread that is not set yet turns, a joint that is not dry yet gives way: the operational check passes, or fails,
    for the wrong reason, and spoils the work.

Wrong:
    contacts:
      check: Are the contacts clean?
      consumables: [contact-wipe]          # service: 10
      findings: {Clean: fit-cell, Film: fit-switch}
    fit-cell:
      fix: Fit a new cell
      minutes: 4

Right:
    contacts:
      check: Are the contacts clean?
      findings: {Clean: fit-cell, Film: wipe-contacts}
    wipe-contacts:
      fix: Wipe the contacts
      consumables: [contact-wipe]          # service: 10
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from faulttree.model import Check, Fix, Step
from faulttree.rules.context import Context, Hit

HELP = "name it in `consumables` of the fix as well, or use it in a fix alone"


class Use(NamedTuple):
    """A consumable that a check used, and the minutes that are still to be waited for; the longest is the greatest."""

    left: float
    needs: float
    consumable: str
    where: str

    def after(self, minutes: float) -> Use:
        """The same some minutes later."""
        return self._replace(left=self.left - minutes)


NOTHING = Use(0.0, 0.0, "", "")


def check(context: Context) -> Iterator[Hit]:
    """One hit for each fix that is proved too soon, with the consumable that lacks most."""
    uses = {step.id: use for step in context.checks if (use := _use(context, step)).left > 0}
    if uses:
        yield from _fixes(context, uses)


def _use(context: Context, step: Check) -> Use:
    """What a check used that needs most time, from the end of the check on."""
    consumables = context.library.consumables
    used = [consumables[name] for name in step.consumables if name in consumables]
    return max((Use(each.service, each.service, each.id, step.id) for each in used), default=NOTHING)


def _fixes(context: Context, uses: dict[str, Use]) -> Iterator[Hit]:
    steps = context.variant.steps
    pending: dict[str, Use] = {}
    for name in context.graph.order:
        step = steps[name]
        here = pending.get(name, NOTHING)
        if isinstance(step, Fix) and here.left > _takes(step):
            passed = here.needs - here.left + _takes(step)
            message = f'"{name}" is proved {passed:g} minutes after "{here.where}", and "{here.consumable}" needs'
            yield Hit(("steps", name, "~"), f"{message} {here.needs:g}", HELP)
        for to, use in _ways(step, here, uses.get(name, NOTHING)):
            pending[to] = max(pending.get(to, NOTHING), use)


def _takes(step: Check | Fix) -> float:
    """The minutes of doing a step; a fix waits before it is proved."""
    return (step.minutes or 0.0) + (step.wait if isinstance(step, Fix) else 0.0)


def _ways(step: Step, here: Use, used: Use) -> Iterator[tuple[str, Use]]:
    """Where the ways of a step lead, and what is to be waited for there. What could not be done took no time."""
    if isinstance(step, Check):
        done = max(here.after(_takes(step)), used)
        yield from ((finding.goto, done) for finding in step.findings if finding.goto)
        if step.unable:
            yield step.unable.to, max(here, used)
        return
    if isinstance(step, Fix) and step.failed:
        yield step.failed.to, here.after(_takes(step))
    if step.cannot:
        yield step.cannot.to, here
