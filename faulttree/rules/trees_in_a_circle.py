"""Trees send to each other in a circle.

Meaning:
    An end of this tree sends to another tree, and ends there lead, by way of other trees or not, back to this one.

Why:
    Somebody could be sent round for ever, each tree counting on the next. One of them must bring the cause to its fix.

Wrong:
    # in lamp-is-dim.yaml
    steps:
      see-dark: {end: see another tree, tree: lamp-is-dark, for: {cell-flat: [cell-flat]}}
    # and lamp-is-dark.yaml has an end that sends to lamp-is-dim

Right:
    # in lamp-is-dim.yaml
    steps:
      fit-cell:
        fix: Fit a new cell
        clears: [cell-flat]
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import End
from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each end from which a circle leads back to this tree."""
    for end in context.ends:
        circles = (_back_from(context, end.tree, model) for model in context.models if end.tree)
        if circle := next(filter(None, circles), ()):
            names = " -> ".join(f'"{name}"' for name in (context.tree.id, *circle))
            yield Hit(
                ("steps", end.id, "tree"),
                f"trees send to each other in a circle: {names}",
                "let one of them lead to a fix of its own",
            )


def _back_from(context: Context, start: str, model: str) -> tuple[str, ...]:
    """The trees from ``start`` back to the tree of ``context``, or none."""
    home = context.tree.id
    came: dict[str, tuple[str, ...]] = {start: (start,)}
    waiting = [start]
    while waiting:
        name = waiting.pop(0)
        if name == home:
            return came[name]
        for to in _sends_to(context, name, model):
            if to not in came:
                came[to] = (*came[name], to)
                waiting.append(to)
    return ()


def _sends_to(context: Context, name: str, model: str) -> Iterator[str]:
    """The trees that the ends of the tree ``name`` send to, on one model."""
    tree = context.trees.get(name)
    variant = tree.variants.get(model) if tree else None
    if variant:
        yield from (step.tree for step in variant.steps.values() if isinstance(step, End) and step.tree)
