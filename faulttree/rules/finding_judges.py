"""A finding is no observation.

Meaning:
    The label of a finding judges ("Faulty", "OK"), guesses ("Probably worn") or tells what to do ("Replace"), instead
    of saying what is seen, felt, heard or measured.

Why:
    The reader is asked what they see; what follows from it is the tree's part. Who is asked for a verdict gives one,
    and two people give two.

Wrong:
    findings: {OK: fit-cell, Faulty: fit-switch}

Right:
    findings: {Clicks: fit-cell, No click: fit-switch}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit
from faulttree.rules.words import NO_OBSERVATION, compiled


def check(context: Context) -> Iterator[Hit]:
    """One hit for each finding."""
    search = compiled(NO_OBSERVATION).search
    for step in context.checks:
        if step.base != step.id:
            continue
        for finding in step.findings:
            if found := search(finding.label):
                message = f'the finding "{finding.label}" of "{step.id}" is no observation: "{found[0]}"'
                path = ("steps", step.id, "findings", finding.label, "~")
                yield Hit(path, message, "write what is seen, felt, heard or measured")
