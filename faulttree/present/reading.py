"""Readings: a reading in the limit's unit, and whether it lies so near an edge that it is read a second time."""

from __future__ import annotations

from decimal import Decimal

from faulttree.keys import Move
from faulttree.model import Check, Limit
from faulttree.present.choices import band_edge
from faulttree.problems import MoveError
from faulttree.units import convert, format_quantity, parse_reading
from faulttree.walk import Walk, band_of_reading


def reading_words(walk: Walk, move: Move) -> str:
    """A reading that was taken at the walk's check: in the limit's unit, and the band that it fell into."""
    limit = _limit(walk)
    typed = parse_reading(move.value)
    value = format_quantity(convert(typed, limit.unit), limit.unit, figures=4)
    return f"{move.value} = {value}: {move.label}." if typed.unit != limit.unit else f"{move.value}: {move.label}."


def near_an_edge(walk: Walk, typed: str) -> str:
    """The edge of a band that the reading lies within the gauge's resolution of, in words; empty where none is.

    Raises MoveError where it cannot be a reading here.
    """
    band_of_reading(walk, typed)
    limit = _limit(walk)
    value = convert(parse_reading(typed), limit.unit)
    resolution = Decimal(str(limit.resolution))
    edges = [band for band in limit.scales[walk.key.model].bands if band.limit is not None]
    near = [band for band in edges if abs(value - Decimal(str(band.limit))) <= resolution]
    return f'the edge "{near[0].label}", {band_edge(limit, near[0])}' if near and resolution else ""


def _limit(walk: Walk) -> Limit:
    step = walk.step
    if not isinstance(step, Check) or not step.measure:
        raise MoveError("this check takes no reading", "answer with the number or the words of a finding")
    return walk.library.limits[step.measure]
