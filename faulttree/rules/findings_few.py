"""A check has fewer than two findings.

Meaning:
    The check has one finding only, or on every model only one is left.

Why:
    A question with one answer is no question: it costs time and decides nothing. What must be done anyway belongs to
    the `do` of another step. That a check has one finding left on some of the models is allowed: there it is passed
    over.

Wrong:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Film: wipe-contacts}

Right:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Clean: fit-cell, Film: wipe-contacts}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each check with one finding in the file, and for each that every model passes over."""
    for step in context.checks:
        few = len(step.findings) < 2 and not step.table_only and step.base == step.id
        if few and step.id not in context.graph.cycle:
            yield _hit(step.id, f'the check "{step.id}" has one finding only')
    variants = context.tree.variants.values()
    for name in context.variant.passed_over:
        if not any(name in variant.steps for variant in variants):
            yield _hit(name, f'the check "{name}" is never asked: every model has one finding left')


def _hit(name: str, message: str) -> Hit:
    return Hit(("steps", name, "findings", "~"), message, "add a finding, or take the check out")
