"""An operational check can come before a consumable is in service.

Meaning:
    A consumable of a check needs time before what it was used on may be operated, and on the way that is shown a fix
    follows that does not wait so long. A fix waits only for the consumables that it names itself.

Why:
    A thread that is not set yet turns, a joint that is not dry yet gives way: the operational check passes, or fails,
    for the wrong reason, and spoils the work.

Wrong:
    contacts:
      check: Are the contacts clean?
      consumables: [contact-wipe]          # service: 10
      findings: {Clean: fit-cell, Film: fit-switch}

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

from faulttree.model import Check, Fix, Step
from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each fix that waits too short a time, with the consumable of the longest time."""
    consumables = context.library.consumables
    used = {
        step.id: max(
            ((consumables[name].service, name) for name in step.consumables if name in consumables), default=None
        )
        for step in context.checks
        if step.consumables
    }
    needs = {id: longest for id, longest in used.items() if longest and longest[0] > 0}
    if needs:
        yield from _fixes(context, needs)


def _fixes(context: Context, needs: dict[str, tuple[float, str]]) -> Iterator[Hit]:
    steps, graph = context.variant.steps, context.graph
    pending: dict[str, tuple[float, str, str]] = {}
    for name in graph.order:
        step = steps[name]
        here = pending.get(name, (0.0, "", ""))
        if name in needs:
            here = max(here, (*needs[name], name))
        if isinstance(step, Fix) and here[0] > step.wait:
            time, consumable, where = here
            message = f'"{name}" is proved after {step.wait:g} minutes, and "{consumable}" of "{where}" needs {time:g}'
            yield Hit(
                ("steps", name, "~"), message, "name it in `consumables` of the fix as well, or use it in a fix alone"
            )
        for to in graph.successors[name]:
            pending[to] = max(pending.get(to, here), _left(step, here))


def _left(step: Step, here: tuple[float, str, str]) -> tuple[float, str, str]:
    """What is still to be waited for after ``step``; a fix has waited, or was not done."""
    return here if isinstance(step, Check | Fix) else (0.0, "", "")
