"""Who may say that an open item is closed, and whether it must be said who closed it.

A duty is passed on by the first role: that it is done is said by somebody whom it is for. A hazard or a disturbance is
closed by whoever may do a step that opens it: what a mechanic took apart is not back in order because somebody who may
not touch it says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from faulttree.model import Action, Check, Library, Step, Variant, Work


def closers(library: Library, variant: Variant, fallback: Sequence[Action], item: str) -> tuple[str, ...]:
    """The roles that may say that ``item`` is closed, in the library's order; at least one."""
    if library.open_items[item].kind == "duty":
        return tuple(library.roles)[1:] or tuple(library.roles)
    needed = openers(library, variant, fallback, item)
    roles = tuple(role for role in library.roles if any(library.may(role, who) for who in needed))
    return roles or tuple(library.roles)


def openers(library: Library, variant: Variant, fallback: Sequence[Action], item: str) -> frozenset[str]:
    """The roles of the steps and fallback lines that open ``item``; an empty name for one of no role."""
    steps = {step.who for step in variant.steps.values() if item in _opened_by(library, step)}
    return frozenset(steps | {line.who for line in fallback if item in line.opens})


def _opened_by(library: Library, step: Step) -> Iterator[str]:
    """The items that a step opens, itself, by its accesses or by its findings. Its role covers that of its accesses."""
    yield from step.opens
    if isinstance(step, Work):
        for name in step.accesses:
            yield from library.accesses[name].opens if name in library.accesses else ()
    if isinstance(step, Check):
        for finding in step.findings:
            yield from finding.opens


def needs_name(library: Library, roles: Sequence[str], item: str) -> bool:
    """Whether it must be said who closed ``item``, which those ``roles`` may close.

    What the first role may put right by itself is answered by one key, since its time is short; a duty, and what is for
    another role, never goes by one key.
    """
    return library.open_items[item].kind == "duty" or library.first_role not in roles
