"""A case of the tree does not arrive where it says.

Meaning:
    An example walk in `cases` was walked with its role, on its model, with its answers or with what its cause shows.
    It came to another step, its role may not do a step on the way or the operational check of one, or an answer did
    not fit; then those that would are listed. The way is printed below the problem. Nobody takes over in a case, and
    nobody is on the equipment.

Why:
    A case says what its author has promised: this fault, found by this person, comes to this step. A change that
    breaks the promise should be seen by the person who makes it.

Wrong:
    cases:
      - {name: a flat cell, role: user, cause: cell-flat, arrives: fit-cell}     # the user may not fit cells

Right:
    cases:
      - {name: a flat cell, role: repairer, cause: cell-flat, arrives: fit-cell}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.cases import Outcome, run_case
from faulttree.model import Case, Fix, Step
from faulttree.rules.context import Context, Hit, Path
from faulttree.rules.ways import shown_way


def check(context: Context) -> Iterator[Hit]:
    """One hit for each case that does not arrive."""
    for at, case in enumerate(context.tree.cases):
        if _is_about(context, case) and (outcome := _outcome(context, case)) and not outcome.arrived:
            message = f'the case "{case.name}" does not arrive at "{case.arrives}": {outcome.why}'
            yield Hit(_place(at, outcome), message, _help(outcome), _way(context, outcome))


def _place(at: int, outcome: Outcome) -> Path:
    """The answer that does not fit; else where the case says that it arrives."""
    return ("cases", at, "arrives") if outcome.answer < 0 else ("cases", at, "answers", outcome.answer)


def _help(outcome: Outcome) -> str:
    if not outcome.fitting:
        return "correct the tree, or the case if it promises too much"
    return f"write one of: {', '.join(outcome.fitting)}"


def _way(context: Context, outcome: Outcome) -> tuple[str, ...]:
    """The way as lines; a result that ended it at its last step says so in the last."""
    lines = shown_way(context, outcome.way, outcome.step)
    return lines[:-1] if outcome.way and outcome.way[-1][0] == outcome.step else lines


def _is_about(context: Context, case: Case) -> bool:
    return not case.model or case.model in context.models


def _outcome(context: Context, case: Case) -> Outcome | None:
    """How the case went; None where a name leads nowhere, of which other rules tell."""
    variant = context.variant
    if case.arrives not in variant.steps or (case.cause and case.cause not in variant.causes):
        return _not_on_this_model(context, case)
    try:
        outcome = run_case(context.library, variant, case)
    except KeyError:
        return None
    return None if _is_for_nobody(context, variant.steps[outcome.step]) else outcome


def _is_for_nobody(context: Context, step: Step) -> bool:
    """Whether the step, or its operational check, is for a role that there is not."""
    check = context.library.operational_checks.get(step.operational_check) if isinstance(step, Fix) else None
    roles = (step.who, check.who if check else "")
    return any(role and role not in context.library.roles for role in roles)


def _not_on_this_model(context: Context, case: Case) -> Outcome | None:
    """A step or a cause that another model has; one that no model has is an unknown name, and told of as such."""
    others = context.tree.variants.values()
    for what, name, here, there in (
        ("step", case.arrives, context.variant.steps, (each.steps for each in others)),
        ("cause", case.cause, context.variant.causes, (each.causes for each in others)),
    ):
        if name and name not in here and any(name in each for each in there):
            return Outcome((), context.variant.start, f'this model has no {what} "{name}"')
    return None
