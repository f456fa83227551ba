"""Readings: in the limit's unit, and taken again where they lie so near an edge that one alone decides nothing.

A reading within the gauge's resolution of an edge is taken a second time; where the two fall on different sides of an
edge, a third one decides (common practice, no source). The record keeps all of a reading that was taken; one that was
given up, or that fell into three bands, is read anew.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal

from faulttree.keys import Kind, Move
from faulttree.model import Check, Limit
from faulttree.present.choices import band_edge
from faulttree.problems import MoveError
from faulttree.readings import band_of_reading
from faulttree.set_values import set_to
from faulttree.units import convert, format_quantity, parse_reading
from faulttree.walk import Walk

ALSO_READ = "also read: "
"""How the readings begin that were taken beside the one that counts."""


def example(limit: Limit, model: str) -> str:
    """A number that the gauge can show, for whoever asks how a reading is typed.

    It lies at the first edge, on the other side of it than what is new or set, with the gauge's decimals: it suggests
    no answer that passes, and whoever only types it off the page is asked to read again. Where nothing is said of what
    is new, it is the edge itself.
    """
    scale = limit.scales[model]
    ends = [band.limit for band in scale.bands if band.limit is not None]
    edge = Decimal(repr(ends[0] if ends else (scale.low + scale.high) / 2))
    step = Decimal(repr(limit.resolution)).normalize()
    new = set_to(limit.settings.get(model, "")).numbers
    beyond = edge + (step if max(new) <= edge else -step) if new and ends else edge
    inside = min(max(beyond, Decimal(repr(scale.low))), Decimal(repr(scale.high)))
    exponent = step.as_tuple().exponent
    decimals = -exponent if isinstance(exponent, int) else 0
    return f"{inside:.{max(decimals, 0)}f}" if step else format_quantity(float(inside), "")


def reading_words(walk: Walk, move: Move) -> str:
    """A reading that was taken at the walk's check: in the limit's unit, and the band that it fell into."""
    limit = _limit(walk)
    typed = parse_reading(move.value)
    value = format_quantity(convert(typed, limit.unit), limit.unit, figures=4)
    return f"{move.value} = {value}: {move.label}." if typed.unit != limit.unit else f"{move.value}: {move.label}."


def ask_again(walk: Walk, readings: Sequence[str]) -> str:
    """Why one more reading is to be taken, in words; empty where those that were taken decide.

    Raises MoveError where the last one cannot be a reading here.
    """
    bands = [band_of_reading(walk.site, walk.key, typed) for typed in readings]
    if len(readings) == 1:
        edge = near_an_edge(walk, readings[0])
        return f"{readings[0]} is within the gauge's resolution of {edge}. Read it a second time." if edge else ""
    if len(readings) == 2 and bands[0] != bands[1]:
        return f"{readings[0]} is {bands[0]}, {readings[1]} is {bands[1]}. Read it a third time: that decides."
    return ""


def taken(walk: Walk, readings: Sequence[str]) -> Move:
    """The move that readings make which `ask_again` was content with: the last of the band that most fall into.

    Raises MoveError where three fall into three bands, for then the gauge is not to be trusted.
    """
    bands = [band_of_reading(walk.site, walk.key, typed) for typed in readings]
    band, count = Counter(bands).most_common(1)[0]
    if len(readings) == 3 and count == 1:
        raise MoveError("three readings fall into three bands", "see to the gauge and how it is held; then read anew")
    counts = max(at for at, each in enumerate(bands) if each == band)
    others = [typed for at, typed in enumerate(readings) if at != counts]
    return Move(Kind.READING, value=readings[counts], text=f"{ALSO_READ}{', '.join(others)}" if others else "")


def near_an_edge(walk: Walk, typed: str) -> str:
    """The edge of a band that the reading lies within the gauge's resolution of, in words; empty where none is.

    Raises MoveError where it cannot be a reading here.
    """
    band_of_reading(walk.site, walk.key, typed)
    limit = _limit(walk)
    value = convert(parse_reading(typed), limit.unit)
    near = limit.scales[walk.key.model].edges_near(value, limit.resolution)
    return f'the edge "{near[0].label}", {band_edge(limit, near[0])}' if near else ""


def _limit(walk: Walk) -> Limit:
    step = walk.step
    if not isinstance(step, Check) or not step.measure:
        raise MoveError("this check takes no reading", "answer with the number or the words of a finding")
    return walk.library.limits[step.measure]
