"""A limit is asked for that a model does not have.

Meaning:
    An inspection item is for a model for which one of its limits has no value. Or a text says "set value", and none of
    the limits that its step names has one for the model. A check that measures a limit without a value for its model
    is reported by model-left-out, a fix that names one by name-unknown.

Why:
    The number that decides is not on the page, so it is guessed.

Wrong:
    set-gap:
      fix: Set the gap
      do: Set the gap to its set value.

Right:
    set-gap:
      fix: Set the gap
      do: Set the gap to its set value.
      limits: [shoe-gap]                   # limits.yaml: shoe-gap has `set`
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Check, Fix, Work
from faulttree.rules.context import Context, Hit, Shared


def check(context: Context) -> Iterator[Hit]:
    """One hit for each line."""
    if "set" not in context.prose.words or "value" not in context.prose.words:
        return
    for step in context.own_work:
        for at, line in enumerate(step.do):
            if "set value" in line.lower() and not _has_set_value(context, step):
                message = f'"{step.id}" speaks of a set value, and none of its limits has one'
                advice = "name the limit by `limits`, or give it `set` in limits.yaml"
                yield Hit((*context.do_path(step.id), at), message, advice)


def _has_set_value(context: Context, step: Work) -> bool:
    names = step.limits if isinstance(step, Fix) else (step.measure,) if isinstance(step, Check) else ()
    limits = (context.library.limits[name] for name in names if name in context.library.limits)
    return any(context.variant.model in limit.settings for limit in limits)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each inspection item and model."""
    library = shared.library
    for item in library.inspection.values():
        for limit in (library.limits[name] for name in item.limits if name in library.limits):
            for model in item.models or library.models:
                if model not in limit.scales:
                    message = f'the limit "{limit.id}" of "{item.id}" has no value for model "{model}"'
                    advice = "give it one, or keep the item from the model by `models`"
                    yield Hit(("inspection", item.id, "limit", limit.id), message, advice)
