"""The bands of a limit do not divide its range.

Meaning:
    The bands must ascend, each must be able to hold a reading of the gauge, their limits must lie within the range,
    and the last, and no other, is open upwards. The low end of the range must be below the high end.

Why:
    A reading is put into the first band that it fits. With bands out of order, or with one that nothing falls into, a
    reading that is out of limits could count as good.

Wrong:
    range: [0, 2]
    bands:
      Worn: {below: 1.3}
      Flat: {below: 1.1}         # whatever is below 1.1 is Worn already
      Good: {}

Right:
    range: [0, 2]
    bands:
      Flat: {below: 1.1}
      Worn: {below: 1.3}
      Good: {}
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor

from faulttree.model import Band, Limit, Scale
from faulttree.rules.context import Hit, Path, Shared
from faulttree.value import Value

ASCEND = "write the bands in ascending order"


class Edge(Value):
    """A bound of readings, and whether it is one itself."""

    at: float
    belongs: bool


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each limit or band, with the models that it is about where these are not all."""
    for limit in shared.library.limits.values():
        found: dict[Hit, list[str]] = {}
        for model, scale in limit.scales.items():
            for hit in _in_scale(limit, scale):
                found.setdefault(hit, []).append(model)
        for hit, models in found.items():
            on = "" if len(models) == len(limit.scales) else f" (on {', '.join(models)})"
            yield hit._replace(message=hit.message + on)


def _in_scale(limit: Limit, scale: Scale) -> Iterator[Hit]:
    if scale.low >= scale.high:
        message = f'the range of "{limit.id}" goes from {scale.low:g} to {scale.high:g}'
        yield Hit(("limits", limit.id, "range"), message, "write the lower end first")
        return
    yield from _open_bands(limit, scale)
    start = Edge(scale.low, True)
    for band in scale.bands:
        end = Edge(scale.high, True) if band.limit is None else Edge(band.limit, band.inclusive)
        path = ("limits", limit.id, "bands", band.label, "up_to" if band.inclusive else "below")
        wrong = _wrong(limit, scale, band, start, end, path)
        if wrong:
            yield wrong
        elif band.limit is not None:
            start = Edge(end.at, not end.belongs)


def _open_bands(limit: Limit, scale: Scale) -> Iterator[Hit]:
    for band in scale.bands[:-1]:
        if band.limit is None:
            path = ("limits", limit.id, "bands", band.label, "~")
            message = f'the band "{band.label}" of "{limit.id}" is open, and others follow'
            yield Hit(path, message, "give it an end by `up_to` or `below`, or write it last")
    for band in scale.bands[-1:]:
        if band.limit is not None:
            path = ("limits", limit.id, "bands", band.label, "~")
            message = f'the last band of "{limit.id}", "{band.label}", ends at {band.limit:g}'
            yield Hit(path, message, "take its end out, or add a band for what lies above")


def _wrong(limit: Limit, scale: Scale, band: Band, start: Edge, end: Edge, path: Path) -> Hit | None:
    """What is wrong with a band that starts where the one before ended."""
    name = f'the band "{band.label}" of "{limit.id}"'
    if not scale.low <= end.at <= scale.high:
        message = f"{name} ends at {band.limit:g}, outside the range {scale.low:g} to {scale.high:g}"
        return Hit(path, message, "write a number within the range, or widen the range")
    if end.at < start.at:
        return Hit(path, f"{name} ends at {band.limit:g}, below the end of the band before", ASCEND)
    if not _holds_a_reading(start, end, limit.resolution):
        gauge = f" of a gauge that shows steps of {limit.resolution:g}" if end.at > start.at else ""
        return Hit(path, f"{name} can hold no reading{gauge}", "move its end, or take the band out")
    return None


def _holds_a_reading(start: Edge, end: Edge, step: float) -> bool:
    """Whether a reading lies between the edges; where the gauge has a resolution, a multiple of it."""
    if not step:
        return start.at < end.at or (start.at == end.at and start.belongs and end.belongs)
    if end.at - start.at > 2 * step:
        return True
    # Exact figures are loaded only for narrow bands: that takes as long as many rules together.
    from fractions import Fraction

    low, high, exact = (Fraction(str(number)) for number in (start.at, end.at, step))
    first, last = ceil(low / exact), floor(high / exact)
    if first * exact == low and not start.belongs:
        first += 1
    if last * exact == high and not end.belongs:
        last -= 1
    return first <= last
