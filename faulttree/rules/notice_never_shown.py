"""A notice that is shown only while occupied belongs to work that nobody is shown then.

Meaning:
    A step, or an operational check, without `occupied: allowed` names a notice with `occupied: only`. The step is not
    shown while the occupant is on, and the notice is not shown while the occupant is off: nobody ever reads it.

Why:
    The author counts on a warning that no page has. Either the work may be done with the occupant on, or the warning
    speaks of something that is there without the occupant too.

Wrong:
    wipe-contacts:
      fix: Wipe the contacts
      notices: [patient-on-cot]          # which has `occupied: only`

Right:
    wipe-contacts:
      fix: Wipe the contacts
      occupied: allowed
      notices: [patient-on-cot]
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Library
from faulttree.rules.context import Context, Hit, Shared

ADVICE = "leave the notice out here, or its `occupied: only` where it is defined"


def check(context: Context) -> Iterator[Hit]:
    """One hit for each such step and notice."""
    only = occupied_only(context.library)
    for step in context.own_work:
        for name in () if step.occupied else step.notices:
            if name in only:
                message = f'"{name}" is shown only while occupied, and "{step.id}" is not shown then'
                yield Hit(("steps", step.id, "~"), message, ADVICE)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each such operational check and notice."""
    only = occupied_only(shared.library)
    for proof in shared.library.operational_checks.values():
        for name in () if proof.occupied else proof.notices:
            if name in only:
                message = f'"{name}" is shown only while occupied, and "{proof.id}" is not asked then'
                yield Hit(("operational_checks", proof.id, "~"), message, ADVICE)


def occupied_only(library: Library) -> frozenset[str]:
    """The notices that are shown only while occupied."""
    return frozenset(name for name, notice in library.notices.items() if notice.occupied_only)
