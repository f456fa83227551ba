"""The notices of a step are not in the order warnings, cautions, notes.

Meaning:
    In a list `notices`, of a step, an access, an operational check or a line of the first actions or the fallback, a
    warning stands after a caution or a note, or a caution after a note.

Why:
    Readers are shown warnings first whatever the file says. Who reviews the file should see the same order, so that a
    list that lacks its warning is noticed.

Wrong:
    notices: [sharp-ring, hot-lens]       # a caution, then a warning

Right:
    notices: [hot-lens, sharp-ring]
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from faulttree.model import Library, Work
from faulttree.rules.context import Context, Hit, Path, Shared


def check(context: Context) -> Iterator[Hit]:
    """One hit for each list."""
    library = context.library
    for key, actions in (("first_actions", context.tree.first_actions), ("fallback", context.tree.fallback)):
        for at, action in enumerate(actions):
            yield from _hit(library, action.notices, (key, at, "notices"))
    for step in context.own_work:
        if len(step.notices) > 1:
            path = ("steps", step.id, "notices")
            own = _own(context, step) if step.accesses else step.notices
            yield from _hit(library, own, path)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each list."""
    library = shared.library
    for access in library.accesses.values():
        yield from _hit(library, access.notices, ("accesses", access.id, "notices"))
    for proof in library.operational_checks.values():
        yield from _hit(library, proof.notices, ("operational_checks", proof.id, "notices"))


def _own(context: Context, step: Work) -> Sequence[str]:
    """The notices that only the step itself lists; those of its accesses come before them, whatever they are."""
    if not _late(context.library, step.notices):
        return step.notices
    accesses = context.library.accesses
    theirs = {notice for name in step.accesses if name in accesses for notice in accesses[name].notices}
    return [name for name in step.notices if name not in theirs]


def _hit(library: Library, names: Sequence[str], path: Path) -> Iterator[Hit]:
    if late := _late(library, names):
        before, name = late
        signal = library.notices[name].signal
        message = f'the {signal} "{name}" stands after the {library.notices[before].signal} "{before}"'
        yield Hit((*path, name), message, "write warnings first, then cautions, then notes")


def _late(library: Library, names: Sequence[str]) -> tuple[str, str] | None:
    """The first notice that stands after one of a lower rank, with that one."""
    lowest = ""
    for name in names:
        if name in library.notices:
            if lowest and library.notices[name].rank < library.notices[lowest].rank:
                return lowest, name
            lowest = name
    return None
