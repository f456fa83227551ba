"""A way leads to a step that is not there.

Meaning:
    A finding, `unable`, `failed`, `cannot`, `start` or `otherwise` names a step that the tree does not have, that is
    not for this model, or that stands in the fault table only, so that no way leads on from it.

Why:
    A walk that takes this way would come to nothing.

Wrong:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings:
        Clean: fit-cel           # the step is called fit-cell
        Film: wipe-contacts

Right:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings:
        Clean: fit-cell
        Film: wipe-contacts
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.graph import targets
from faulttree.model import Check, Step, Work
from faulttree.moves import routes
from faulttree.rules.advice import instead
from faulttree.rules.context import Context, Hit, Path
from faulttree.rules.ways import WAYS


def check(context: Context) -> Iterator[Hit]:
    """One hit for each way that leads nowhere; a way that `again` or `otherwise` brings in is shown where it stands."""
    steps = context.variant.steps
    led_to = steps.keys() - {step.id for step in context.checks if step.table_only}
    if context.variant.start not in led_to:
        yield _hit(context, ("start",), context.variant.start)
    for step in steps.values():
        if not led_to.issuperset(targets(step)):
            for answer, to in routes(step):
                if to not in led_to and not _from_base(context, step, answer, to):
                    yield _hit(context, _place(context, step.id, answer), to)


def _from_base(context: Context, step: Step, answer: str, to: str) -> bool:
    """Whether the step repeats another that goes the same way; it is reported there."""
    base = context.variant.steps.get(step.base) if isinstance(step, Work) and step.base != step.id else None
    return base is not None and (answer, to) in routes(base)


def _place(context: Context, step: str, answer: str) -> Path:
    if answer not in WAYS:
        return ("steps", step, "findings", answer, "goto")
    own = ("steps", step, answer, "to")
    return own if context.written(own[:-1]) else ("otherwise", answer, "to")


def _hit(context: Context, path: Path, to: str) -> Hit:
    steps = context.variant.steps
    if to in steps:
        message = f'"{to}" stands in the fault table only, no way leads on from it'
        return Hit(path, message, f'give the findings of "{to}" ways, or lead elsewhere')
    if any(to in variant.steps for variant in context.tree.variants.values()):
        return Hit(path, f'the step "{to}" is not for this model', f'lead elsewhere, or let "{to}" be for it')
    known = [step.id for step in steps.values() if not (isinstance(step, Check) and step.table_only)]
    return Hit(path, f'there is no step "{to}"', instead(to, known, "write the name of a step"))
