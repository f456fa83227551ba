"""A reading that is typed at a check: the band of the limit that it falls into."""

from __future__ import annotations

from faulttree.keys import Key
from faulttree.model import Check
from faulttree.problems import MoveError
from faulttree.site import Site
from faulttree.units import convert, parse_reading


def band_of_reading(site: Site, key: Key, typed: str) -> str:
    """The label of the band that a reading, with its unit, falls into. Raises MoveError where it cannot be one."""
    step = site.step(key)
    if not isinstance(step, Check) or not step.measure:
        raise MoveError("this check takes no reading", "answer with the number or the words of a finding")
    limit = site.library.limits[step.measure]
    scale = limit.scales[key.model]
    value = convert(parse_reading(typed, limit.unit), limit.unit)
    if not scale.holds(value):
        raise MoveError(
            f"a reading of {typed} cannot be: {limit.text} lies between {scale.low:g} and {scale.high:g} {limit.unit}",
            "read the gauge again, or say unable",
        )
    return scale.band_of(value)
