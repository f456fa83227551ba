"""Something is opened that no way closes.

Meaning:
    A hazard or a disturbance (an item of the library's `open_items`) is opened by a step, a finding or an access, and
    no step after it closes it, on any way. Where every way ends at once, without work in between, nothing is said.

Why:
    It stays on every screen until nobody reads it any more, and at the end it is left as it is. Mostly the step that
    puts it back in order has lost its `closes`.

Wrong:
    spare-cell:
      check: Does the lamp light with a spare cell?
      opens: [cell-out]
    fit-switch:
      fix: Fit a new switch

Right:
    spare-cell:
      check: Does the lamp light with a spare cell?
      opens: [cell-out]
    fit-switch:
      fix: Fit a new switch
      closes: [cell-out]
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.left_open import Items, opens_anything
from faulttree.model import Check, End, Step, Work
from faulttree.rules.context import Context, Hit, Path


def check(context: Context) -> Iterator[Hit]:
    """One hit for each item and opener."""
    if not context.graph.order or not opens_anything(context.library, context.variant):
        return
    items = Items(context.library)
    steps, graph = context.variant.steps, context.graph
    closed: dict[str, int] = {}
    works: dict[str, bool] = {}
    for name in reversed(graph.order):
        following = graph.successors[name]
        here = _closes(items, steps[name])
        for to in following:
            here |= closed[to]
        closed[name] = here
        works[name] = any(isinstance(steps[to], Work) for to in following)
    for name in graph.order:
        step = steps[name]
        if isinstance(step, Work) and step.base == name:
            after = items.mask((*step.closes, *_by_findings(step)))
            for to in graph.successors[name]:
                after |= closed[to]
            for path, item in _opened(context, items, step, after, works[name], closed):
                message = f'"{item}" is opened at "{name}", and nothing after it closes it'
                yield Hit(path, message, "close it by `closes` of a step after it")


def _closes(items: Items, step: Step) -> int:
    """What a step may close: itself, by its findings, by its accesses."""
    if isinstance(step, End):
        return 0
    return items.opening(step).away | items.mask((*step.closes, *_by_findings(step)))


def _by_findings(step: Work) -> Iterator[str]:
    if isinstance(step, Check):
        for finding in step.findings:
            yield from finding.closes


def _opened(
    context: Context, items: Items, step: Work, after: int, works: bool, closed: dict[str, int]
) -> Iterator[tuple[Path, str]]:
    """What the step or one of its findings opens for good, with the place."""
    path: Path = ("steps", step.id)
    if works or not isinstance(step, Check):
        left = items.opening(step).add & items.hold & ~after
        for item in items.names(left):
            place = "opens" if item in step.opens else "access"
            yield (*path, place, *((item,) if place == "opens" else ("~",))), item
    steps = context.variant.steps
    for finding in step.findings if isinstance(step, Check) else ():
        left = items.mask(finding.opens) & items.hold & ~closed.get(finding.goto, 0)
        if left and isinstance(steps.get(finding.goto), Work):
            for item in items.names(left):
                yield (*path, "findings", finding.label, "opens", item), item
