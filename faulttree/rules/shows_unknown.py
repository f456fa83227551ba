"""A cause shows what the tree does not have.

Meaning:
    `shows` of a cause names a check that is not there, a step that repeats a check (name the check itself), or a label
    that the check does not have. Or `usual` of a check has a label that the check does not have.

Why:
    The proof follows what causes show. With a slip in a name the cause would count as showing anything, and a way on
    which it is lost would not be seen.

Wrong:
    causes:
      contacts-dirty:
        is: Contacts dirty
        shows: {contacts: Flim}
    steps:
      contacts:
        check: Are the contacts clean?
        who: crew
        findings: {Clean: fit-cell, Film: wipe-contacts}

Right:
    causes:
      contacts-dirty:
        is: Contacts dirty
        shows: {contacts: Film}
    steps:
      contacts:
        check: Are the contacts clean?
        who: crew
        findings: {Clean: fit-cell, Film: wipe-contacts}
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from faulttree.model import Check
from faulttree.rules.advice import instead
from faulttree.rules.context import Context, Hit, Path


def check(context: Context) -> Iterator[Hit]:
    """One hit for each name and each label."""
    labels_of = {step.id: [each.label for each in step.findings] for step in context.checks if step.base == step.id}
    for cause in context.variant.causes.values():
        for name, shown in cause.shows.items():
            if name in labels_of:
                yield from _unknown(name, shown, labels_of[name], ("causes", cause.id, "shows", name))
            elif not _passed_over(context, name):
                yield _no_check(context, name, ("causes", cause.id, "shows", name, "~"))
    for step in context.checks:
        if step.usual and step.base == step.id:
            yield from _unknown(step.id, step.usual, labels_of[step.id], ("steps", step.id, "usual"))


def _unknown(check: str, shown: Sequence[str], labels: Sequence[str], path: Path) -> Iterator[Hit]:
    for label in shown:
        if label not in labels:
            message = f'the check "{check}" has no finding "{label}"'
            yield Hit((*path, label), message, instead(label, labels, "write one of its labels"))


def _passed_over(context: Context, name: str) -> bool:
    """Whether the check is not asked on this model; on those where it is, its labels are looked at."""
    return name in context.variant.passed_over


def _no_check(context: Context, name: str, path: Path) -> Hit:
    step = context.variant.steps.get(name)
    if isinstance(step, Check):
        return Hit(path, f'"{name}" only repeats the check "{step.base}"', f'write "{step.base}"')
    bases = [each.id for each in context.checks if each.base == each.id]
    return Hit(path, f'there is no check "{name}"', instead(name, bases, "write the name of a check"))
