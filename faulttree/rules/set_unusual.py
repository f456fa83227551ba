"""A limit is set to what a check of it does not call usual.

Meaning:
    A check measures a limit and says by `usual` in which band sound equipment reads. The number in `set` of the limit,
    or one of those in "4 to 5", lies in another band. A `set` without a number, or with other words, is not looked
    at, and where none of the bands is called usual nothing says which is right.

Why:
    Whoever sets the value as the page tells, leaves it where the next check calls it a fault. Or the edges of the bands
    are wrong, and equipment out of limits passes.

Wrong:
    # limits.yaml
    cable-free-play: {bands: {Small: {below: 3}, In limits: {up_to: 6}, Large: {}}, set: 8}
    # the tree
    free-play: {check: How much free play is there?, measure: cable-free-play, usual: In limits}

Right:
    # limits.yaml
    cable-free-play: {bands: {Small: {below: 3}, In limits: {up_to: 6}, Large: {}}, set: 4 to 5}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Check, Limit
from faulttree.rules.context import Context, Hit
from faulttree.set_values import set_to


def check(context: Context) -> Iterator[Hit]:
    """One hit for each check and each thing that its limit is set to on a model."""
    for step in context.checks:
        limit = context.library.limits.get(step.measure) if step.usual and step.base == step.id else None
        for model in context.models if limit else ():
            assert limit is not None
            if said := _unusual(limit, model, step):
                message = f'"{limit.id}" is set to {said}, and the check "{step.id}" calls that unusual'
                advice = "correct `set` or the bands in limits.yaml, or what the check calls usual"
                yield Hit(("steps", step.id, "usual", "~"), message, advice)


def _unusual(limit: Limit, model: str, step: Check) -> str:
    """What the limit is set to and the band of it, where the check has other bands as usual; else empty."""
    scale, settings = limit.scales.get(model), limit.settings.get(model, "")
    if scale is None or not settings:
        return ""
    usual = {band.label for band in scale.bands}.intersection(step.usual)
    numbers, words = set_to(settings)
    bands = [scale.band_of(number) for number in numbers] if usual and words in ("", limit.unit) else []
    other = next((band for band in bands if band not in usual), "")
    return f'{settings}, "{other}"' if other else ""
