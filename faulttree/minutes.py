"""Minutes of a way: checks, accesses, call-outs of another role, and fixes with their waits and operational checks.

An access is counted when it is opened, once, and again only where another access of its place shut it.
A role is called out once. Figures are what the author wrote; what is left out counts as nothing, and so does a role
or an access that the library has not: that is for a rule to say.
"""

from __future__ import annotations

from collections.abc import Iterable

from faulttree.model import Check, Fix, Library, Step, Work


def minutes_of(library: Library, model: str, steps: Iterable[Step]) -> float:
    """The minutes of doing ``steps`` in their order on ``model``, starting as the first role with nothing open."""
    here = {library.first_role}
    open_at: dict[str, str] = {}
    return sum((added_minutes(library, model, step, here, open_at) for step in steps), 0.0)


def added_minutes(library: Library, model: str, step: Step, here: set[str], open_at: dict[str, str]) -> float:
    """The minutes that ``step`` adds; the roles that are ``here`` and what is ``open_at`` each place are updated."""
    if not isinstance(step, Check | Fix):
        return 0.0
    total = (step.minutes or 0.0) + _opening(library, step, open_at) + _calling(library, step.who, here)
    if isinstance(step, Fix):
        total += step.wait + _proving(library, model, step, here)
    return total


def _opening(library: Library, step: Work, open_at: dict[str, str]) -> float:
    total = 0.0
    for name in step.accesses:
        access = library.accesses.get(name)
        if access is None:
            continue
        place = access.place or access.id
        if open_at.get(place) != name:
            open_at[place] = name
            total += access.minutes
    return total


def _calling(library: Library, who: str, here: set[str]) -> float:
    if any(library.may(role, who) for role in here):
        return 0.0
    here.add(who)
    role = library.roles.get(who)
    return role.call_out if role else 0.0


def _proving(library: Library, model: str, fix: Fix, here: set[str]) -> float:
    proof = library.operational_checks.get(fix.operational_check)
    if proof is None:
        return 0.0
    return proof.minutes.get(model, 0.0) + _calling(library, proof.who, here)
