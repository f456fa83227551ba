"""A cause reaches its fix only after two or more failed fixes.

Meaning:
    On the way that is shown, the person does two or more fixes whose operational checks fail before the one that
    clears this cause. The minutes are those of the whole way, with its last fix.

Why:
    Such a way is allowed, and sometimes the cheapest. More often a finding leads to the wrong step. Look at it once.

Wrong:
    fit-cell: {fix: Fit a new cell, clears: [cell-flat], failed: fit-switch}
    fit-switch: {fix: Fit a new switch, clears: [switch-worn], failed: wipe-contacts}
    wipe-contacts: {fix: Wipe the contacts, clears: [contacts-dirty]}

Right:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Clean: fit-cell, Film: wipe-contacts}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree import proof
from faulttree.keys import Kind
from faulttree.minutes import minutes_of
from faulttree.model import Library, Step, Work
from faulttree.proof import Failure
from faulttree.rules.context import Context, Hit
from faulttree.rules.ways import failing_path, shown_way


def check(context: Context) -> Iterator[Hit]:
    """One hit for each cause and fix."""
    for failure in context.failures:
        if failure.rule == proof.DETOUR:
            fails = sum(answer == Kind.FAILED for _, answer in failure.way)
            after = f"after {fails} failed fixes{_minutes(context, failure)}"
            yield Hit(
                failing_path(failure.way, failure.step),
                f'cause "{failure.cause}" reaches its fix "{failure.step}" {after}',
                "look whether this way is meant",
                shown_way(context, failure.way, failure.step),
                failure.cause,
                ("", f' reach their fix "{failure.step}" {after}'),
            )


def _minutes(context: Context, failure: Failure) -> str:
    """The minutes of the way, where the file has any and every name that they depend on is known."""
    variant = context.variant
    steps = [variant.steps[name] for name in (*(name for name, _ in failure.way), failure.step)]
    if not all(_countable(context.library, step) for step in steps):
        return ""
    minutes = minutes_of(context.library, variant.model, steps)
    return f", {minutes:g} minutes in all" if minutes else ""


def _countable(library: Library, step: Step) -> bool:
    return not isinstance(step, Work) or (step.who in library.roles and library.accesses.keys() >= set(step.accesses))
