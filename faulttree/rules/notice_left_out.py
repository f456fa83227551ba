"""One step of many with the same access lacks a warning that all the others have.

Meaning:
    At least three other steps of the tree are done with the same access, each of them has the warning, and this one,
    alone of them, has not.

Why:
    Where the cover is off, what is behind it can hurt at every step. A warning that one step lacks was mostly lost when
    the step was written or moved. Where it is meant, say so beside the line.

Wrong:
    # three other steps with lamp-open have hot-lens
    bridge:
      check: Does the lamp light with the switch bridged?
      access: [lamp-open]

Right:
    bridge:
      check: Does the lamp light with the switch bridged?
      access: [lamp-open]
      notices: [hot-lens]
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Work
from faulttree.rules.context import Context, Hit

OTHERS = 3


def check(context: Context) -> Iterator[Hit]:
    """One hit for each step and warning."""
    together: dict[str, list[Work]] = {}
    for step in context.own_work:
        for access in step.accesses:
            together.setdefault(access, []).append(step)
    told: set[tuple[str, str]] = set()
    for access, steps in together.items():
        if len(steps) > OTHERS:
            for id, name in _left_out(context, steps):
                if (id, name) not in told:
                    told.add((id, name))
                    message = f'all {len(steps) - 1} other steps with "{access}" warn by "{name}", and "{id}" does not'
                    yield Hit(("steps", id, "~"), message, "add it to `notices`")


def _left_out(context: Context, steps: list[Work]) -> Iterator[tuple[str, str]]:
    """The steps that alone lack a warning, with the warning."""
    notices = context.library.notices
    for name in dict.fromkeys(name for step in steps for name in step.notices):
        if name in notices and notices[name].signal == "warning":
            lacking = [step.id for step in steps if name not in step.notices]
            if len(lacking) == 1:
                yield lacking[0], name
