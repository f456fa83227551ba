"""What a role can reach: where it goes on, and where somebody else has to take over."""

from __future__ import annotations

from faulttree.model import Check, Fix, Library, Step, Variant
from faulttree.moves import routes


def for_other(library: Library, step: Step, role: str) -> str:
    """The role that ``step`` is for, where ``role`` may not do it; else empty."""
    return "" if library.may(role, step.who) else step.who


def prover(library: Library, step: Step, role: str) -> str:
    """The role that the operational check of a fix is for, where ``role`` may not do it; else empty."""
    check = library.operational_checks.get(step.operational_check) if isinstance(step, Fix) else None
    return check.who if check and not library.may(role, check.who) else ""


def onward(library: Library, variant: Variant, step: Step, role: str) -> list[tuple[str, str]]:
    """Where ``role`` goes on from ``step``, which it may do: answers, each with the step that it leads to.

    What follows the operational check of a fix is left out where the check is for somebody else.
    """
    proved_by_other = prover(library, step, role)
    return [
        (answer, to)
        for answer, to in routes(step)
        if to in variant.steps and not (proved_by_other and answer == "failed" and not isinstance(step, Check))
    ]
