"""The fix of a cause by elimination comes before every other cause is ruled out.

Meaning:
    On the way that is shown, a fix is reached that clears a cause with `by_elimination`, while another cause, which
    this fix does not clear, is not yet ruled out by a firm finding or by its own fix having failed. Ways by `unable`
    and `cannot` count too.

Why:
    A cause by elimination has no finding of its own. Its fix is mostly the dearest part, and is the right one only if
    nothing else is left.

Wrong:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Clean: fit-head, Film: wipe-contacts}
      unable: fit-head           # the contacts may still be dirty

Right:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Clean: fit-head, Film: wipe-contacts}
      unable: out-of-use
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree import proof
from faulttree.rules.context import Context, Hit
from faulttree.rules.ways import failing_path, shortest_by_step, shown_way


def check(context: Context) -> Iterator[Hit]:
    """One hit for each fix and cause that is not ruled out, by the shortest way."""
    for failure in shortest_by_step(context.failures, proof.EARLY):
        yield Hit(
            failing_path(failure.way, failure.step),
            f'"{failure.step}" comes too early: cause "{failure.other}" is not ruled out',
            "rule it out before by a firm finding or by its own fix, or lead this way elsewhere",
            shown_way(context, failure.way, failure.step),
            failure.other,
            (f'"{failure.step}" comes too early: ', " are not ruled out"),
        )
