"""Shares of weight, against one cause followed at a time by recursion, and against sums that must hold."""

from __future__ import annotations

from fractions import Fraction

import pytest
from drawn import LIBRARIES

from faulttree.draw.shares import shares_of
from faulttree.model import Check, Fix, Variant

VARIANTS = [variant for _, trees in LIBRARIES for tree in trees for variant in tree.variants.values()]


def followed(variant: Variant) -> dict[tuple[str, str], Fraction]:
    """Every way of every cause, one by one, in exact fractions."""
    total = sum(Fraction(str(cause.weight)) for cause in variant.causes.values())
    shares: dict[tuple[str, str], Fraction] = {}

    def go(name: str, cause: str, part: Fraction) -> None:
        step = variant.steps[name]
        if isinstance(step, Check):
            shown = variant.causes[cause].shows.get(step.base) or step.usual or [each.label for each in step.findings]
            met = [each for each in step.findings if each.label in shown]
            answers = [(each.label, each.goto, part / len(met)) for each in met]
        elif isinstance(step, Fix) and step.failed and cause not in (*step.clears, *step.misses):
            answers = [("failed", step.failed.to, part)]
        else:
            answers = []
        for answer, to, share in answers:
            shares[name, answer] = shares.get((name, answer), Fraction(0)) + share
            go(to, cause, share)

    for cause in variant.causes.values():
        go(variant.start, cause.id, Fraction(str(cause.weight)) / total)
    return shares


@pytest.mark.parametrize("variant", VARIANTS, ids=lambda each: f"{each.start}-{each.model}")
def test_shares_are_those_of_every_cause_followed_alone(variant):
    """Where each cause has a weight; so it is in the shipped trees."""
    assert all(cause.weight is not None for cause in variant.causes.values())
    expected = followed(variant)
    found = shares_of(variant)
    assert found.keys() == expected.keys()
    assert all(found[key] == pytest.approx(float(expected[key])) for key in expected)


@pytest.mark.parametrize("variant", VARIANTS, ids=lambda each: f"{each.start}-{each.model}")
def test_all_weight_leaves_the_first_check(variant):
    first = variant.steps[variant.start]
    if isinstance(first, Check):
        leaving = sum(share for (name, _), share in shares_of(variant).items() if name == variant.start)
        assert leaving == pytest.approx(1.0)
