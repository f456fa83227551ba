"""What becomes of the open items: what a step, its accesses and its findings open, and what closes them again."""

from __future__ import annotations

from faulttree.model import Access, Check, Finding, Fix, Library, Step, Work


def opened(library: Library, step: Step, items: frozenset[str]) -> frozenset[str]:
    """The open items once the gates are passed: accesses shut others of their place, then the step opens its own."""
    for name in step.accesses if isinstance(step, Work) else ():
        if access := library.accesses.get(name):
            items = (items - shut_by(library, access) - set(access.closes)) | set(access.opens)
    return items | set(step.opens)


def shut_by(library: Library, access: Access) -> frozenset[str]:
    """The items that other accesses of the same place opened: opening ``access`` closes them."""
    if not access.place:
        return frozenset()
    others = (each for each in library.accesses.values() if each.place == access.place and each.id != access.id)
    return frozenset(item for other in others for item in other.opens)


def put_right(library: Library, fix: Fix) -> tuple[str, ...]:
    """What a fix closes as soon as its work is done: what was taken apart."""
    items = library.open_items
    return tuple(name for name in fix.closes if name in items and items[name].kind == "disturbance")


def seen_to(library: Library, fix: Fix) -> tuple[str, ...]:
    """What a fix closes once its operational check has passed: hazards and duties, for work alone proves nothing.

    Not the rest of what it closes: a line of the fallback may have taken that apart anew since the work was done.
    """
    items = library.open_items
    return tuple(name for name in fix.closes if name in items and items[name].kind != "disturbance")


def closed_by_finding(step: Check, finding: Finding, items: frozenset[str]) -> frozenset[str]:
    """The open items after a finding: what the check and the finding close, then what the finding opens."""
    return (items - set(step.closes) - set(finding.closes)) | set(finding.opens)


def must_close(library: Library, items: frozenset[str]) -> tuple[str, ...]:
    """The hazards and disturbances among ``items``, in the library's order."""
    return tuple(name for name, item in library.open_items.items() if name in items and item.must_close)
