"""How a reading is asked for: the number that shows how it is typed suggests none."""

from __future__ import annotations

from decimal import Decimal

import pytest
from shipped import sample, shipped

from faulttree.keys import OFF, Kind, Move
from faulttree.model import Band, Limit, Scale
from faulttree.present.reading import example, near_an_edge
from faulttree.present.step import _long_before_use
from faulttree.readback import begin
from faulttree.set_values import set_to
from faulttree.value import replace

LIMITS = [
    (limit, model)
    for where in (shipped(), sample())
    if where.library is not None
    for limit in where.library.limits.values()
    for model in limit.scales
]


@pytest.mark.parametrize(("limit", "model"), LIMITS, ids=lambda each: getattr(each, "id", each))
def test_an_example_is_a_reading_of_the_gauge_and_none_of_new_equipment(limit: Limit, model: str) -> None:
    scale, shown = limit.scales[model], Decimal(example(limit, model))
    step = Decimal(repr(limit.resolution)).normalize()
    assert scale.holds(shown)
    assert shown.as_tuple().exponent == min(step.as_tuple().exponent, 0), "its decimals are those of the gauge"
    new = {scale.band_of(each) for each in set_to(limit.settings.get(model, "")).numbers}
    assert scale.band_of(shown) not in new
    assert scale.edges_near(shown, limit.resolution), "typed off the page, it is asked for again"


def test_the_example_in_the_middle_of_the_range_was_read_as_a_passing_one() -> None:
    limit = Limit("x", "Play", "mm", {"A": Scale(0, 55, (Band("In", 45, True), Band("Long", None)))}, 1, {"A": "40"})
    assert example(limit, "A") == "46"
    assert example(replace(limit, settings={"A": "50 to 52"}), "A") == "44"
    assert example(replace(limit, settings={}), "A") == "45"
    assert example(replace(limit, resolution=0.0, settings={}), "A") == "45"


def test_an_example_typed_off_the_page_is_asked_for_again() -> None:
    where = sample()
    assert where.library is not None
    walk = begin(where.trees["lamp-does-not-light"], where.library, Move(Kind.BEGIN, model="Finch", occupant=OFF))
    walk = replace(walk, key=walk.site.arrive(walk.key, "volts"))
    limit = where.library.limits["cell-volts"]
    assert near_an_edge(walk, f"{example(limit, 'Finch')} V")


def test_how_long_something_is_not_used_is_said_in_whole_words() -> None:
    assert shipped().library is not None
    used = next(each for each in shipped().library.consumables.values() if each.service >= 60)
    assert _long_before_use(used, used.service) == f"{used.text}: what it is on is not to be used before that either."
    hours = f"{used.service / 60:g} hour"
    assert f"what it is on is not to be used for {hours}" in _long_before_use(used, 1)
