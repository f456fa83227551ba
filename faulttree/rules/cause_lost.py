"""A cause comes to an end that does not name it.

Meaning:
    On some way through the tree this cause, showing what the file says it shows, arrives at an end instead of a fix
    that clears it. The way is printed below the problem. At a check that a cause does not name it shows what `usual`
    says there, and any finding where there is no `usual`.

Why:
    Somebody with exactly this fault would be sent away without an answer. Every listed cause must be found: by a fix
    that clears it, or by an end that names it (`accepts` of a deferral, `for` of a hand-over, a document or another
    tree). Only after `unable` or `cannot` may a way also end out of service or in a hand-over.

Wrong:
    contacts:
      check: Are the contacts clean?
      findings:
        Clean: fit-cell
        Film: out-of-use        # contacts-dirty shows Film

Right:
    contacts:
      check: Are the contacts clean?
      findings:
        Clean: fit-cell
        Film: wipe-contacts     # clears contacts-dirty
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree import proof
from faulttree.model import Check
from faulttree.rules.context import Context, Hit
from faulttree.rules.ways import WAYS, failing_path, shown_way


def check(context: Context) -> Iterator[Hit]:
    """One hit for each cause and end; of several causes at one end one problem is told."""
    for failure in context.failures:
        if failure.rule == proof.LOST:
            yield Hit(
                failing_path(failure.way, failure.step),
                f'cause "{failure.cause}" is lost: its way ends at "{failure.step}"',
                f"lead this way to a fix that clears it, name it at the end, or {_shows(context, failure)}",
                shown_way(context, failure.way, failure.step),
                failure.cause,
                ("", f' are lost: their ways end at "{failure.step}"'),
            )


def _shows(context: Context, failure: proof.Failure) -> str:
    """What to say of what the cause shows: at the last check where nobody says it, any finding counts."""
    cause = context.variant.causes[failure.cause]
    for name, answer in reversed(failure.way):
        step = context.variant.steps[name]
        if isinstance(step, Check) and answer not in WAYS and not step.usual and not cause.shows.get(step.base):
            return f'say what it shows at "{step.base}", in "shows" or by "usual" there: unsaid, it may show anything'
    return "correct what it shows"
