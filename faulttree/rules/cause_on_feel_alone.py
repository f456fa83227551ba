"""A part is fitted although another cause was ruled out by feel alone.

Meaning:
    On the way that is shown, which has no `unable` and no `cannot`, a fix with parts is reached. Another cause, which
    this fix does not clear, was ruled out by checks with `sure` below 1 and by nothing else.

Why:
    A matter of feel is read wrong now and then. Before a part is ordered and fitted, a firm finding or a fix that
    failed must stand against the other cause.

Wrong:
    switch:
      check: Does the switch click?
      who: crew
      sure: 0.8
      findings: {Clicks: fit-head, No click: fit-switch}

Right:
    switch:
      check: Does the switch click?
      who: crew
      sure: 0.8
      findings: {Clicks: bridge, No click: bridge}
    bridge:
      check: Does the lamp light with the switch bridged?
      who: mechanic
      findings: {Lights: fit-switch, Stays dark: fit-head}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree import proof
from faulttree.rules.context import Context, Hit
from faulttree.rules.ways import failing_path, shortest_by_step, shown_way


def check(context: Context) -> Iterator[Hit]:
    """One hit for each fix and other cause, by the shortest way."""
    for failure in shortest_by_step(context.failures, proof.FEEL):
        yield Hit(
            failing_path(failure.way, failure.step),
            f'cause "{failure.other}" is ruled out on feel alone before "{failure.step}", which fits parts',
            "add a firm check for it on this way",
            shown_way(context, failure.way, failure.step),
            failure.other,
            ("", f' are ruled out on feel alone before "{failure.step}", which fits parts'),
        )
