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
from functools import lru_cache

from faulttree.rules.context import Context, Hit
from faulttree.rules.sentences import words_of
from faulttree.rules.words import (
    FUNCTION_WORDS,
    NAMED_BY_AN_ORDER,
    NO_OBSERVATION,
    ORDERS,
    ORDERS_ALSO_NOUNS,
    PARTICIPLES,
    PLAIN_ADJECTIVES,
    STATE_VERBS,
)


def check(context: Context) -> Iterator[Hit]:
    """One hit for each finding."""
    for step in context.checks:
        if step.base != step.id:
            continue
        for finding in step.findings:
            if found := judged(finding.label):
                message = f'the finding "{finding.label}" of "{step.id}" is no observation: "{found}"'
                path = ("steps", step.id, "findings", finding.label, "~")
                yield Hit(path, message, "write what is seen, felt, heard or measured")


@lru_cache(maxsize=1024)
def judged(label: str) -> str:
    """The word of a label that is no observation; empty where there is none."""
    words = words_of(label)
    found = next((word for word in words if word in NO_OBSERVATION), "")
    return found or next((word for word in words[:1] if word in ORDERS and not _names_a_thing(words)), "")


def _names_a_thing(words: tuple[str, ...]) -> bool:
    """Whether a first word that may be an order is a noun: "Check valve shut" says how the check valve is."""
    if words[0] not in ORDERS_ALSO_NOUNS or len(words) < 2 or words[1] in FUNCTION_WORDS:
        return False
    last = words[-1]
    states = last in PLAIN_ADJECTIVES or last in PARTICIPLES or last in STATE_VERBS or last.endswith("ed")
    return words[1] in NAMED_BY_AN_ORDER or (len(words) > 2 and states)
