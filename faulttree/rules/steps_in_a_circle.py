"""Steps lead round in a circle.

Meaning:
    A way comes back to a step that it has been at. The steps of the circle are named in order.

Why:
    A tree must bring everybody to an end. Going back is a move of the person, which the program always offers; it is
    no way of the tree. To ask the same check again at a later place, repeat it with `again`.

Wrong:
    fit-cell:
      fix: Fit a new cell
      failed: contacts           # from where this fix was reached

Right:
    fit-cell:
      fix: Fit a new cell
      failed: out-of-use
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit
from faulttree.rules.ways import answer_path, answer_to, shown_way


def check(context: Context) -> Iterator[Hit]:
    """One hit for the first circle."""
    cycle = context.graph.cycle
    if not cycle:
        return
    after = (*cycle[1:], cycle[0])
    way = [(name, answer_to(context.variant, name, to)) for name, to in zip(cycle, after, strict=True)]
    names = " -> ".join(f'"{name}"' for name in (*cycle, cycle[0]))
    yield Hit(
        answer_path(*way[-1]),
        f"steps lead in a circle: {names}",
        "lead one of them elsewhere; going back is a move of the person and needs no way",
        shown_way(context, way, cycle[0]),
    )
