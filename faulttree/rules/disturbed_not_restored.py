"""A check takes something apart and does not say that it is put back.

Meaning:
    A line of a check unhooks, removes or undoes something. No line after it puts it back, and neither the check, nor a
    finding, nor its access opens an item that would keep it in sight.

Why:
    A fix follows on one way only. On the others the pin stays out, and nothing on the screen says so.

Wrong:
    drag:
      check: Does the cable run free?
      do:
        - Unhook the cable eye.
        - Pull the cable by hand.

Right:
    drag:
      check: Does the cable run free?
      do:
        - Unhook the cable eye.
        - Pull the cable by hand.
        - Hook the cable eye again.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Check
from faulttree.rules.context import Context, Hit
from faulttree.rules.prose import sentences
from faulttree.rules.words import DISTURB_WORDS, DISTURBS, LOOKS_ELSEWHERE, RESTORES, compiled


def check(context: Context) -> Iterator[Hit]:
    """At most one hit for each check."""
    if context.prose.words.isdisjoint(DISTURB_WORDS):
        return
    for step in context.checks:
        if step.do and step.base == step.id and not step.opens:
            apart = next(_left_apart(context, step), None)
            if apart and not _opens(context, step):
                yield apart


def _opens(context: Context, step: Check) -> bool:
    accesses = context.library.accesses
    return any(finding.opens for finding in step.findings) or any(
        accesses[name].opens for name in step.accesses if name in accesses
    )


def _left_apart(context: Context, step: Check) -> Iterator[Hit]:
    disturbs, restores = compiled(DISTURBS), compiled(RESTORES)
    in_use = compiled(LOOKS_ELSEWHERE)
    every = [(at, sentence) for at, line in enumerate(step.do) for sentence in sentences(line)]
    for number, (at, sentence) in enumerate(every):
        found = disturbs.search(sentence)
        if found and not in_use.search(found[0]):
            after = [sentence[found.end() :], *(later for _, later in every[number + 1 :])]
            if not any(restores.search(later) for later in after):
                message = f'the check "{step.id}" disturbs something, "{found[0]}", and does not restore it'
                advice = "add a line that puts it back, or keep it in sight by `opens`"
                yield Hit((*context.do_path(step.id), at), message, advice)
            return
