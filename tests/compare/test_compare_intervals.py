"""Intervals in words: which are surely no longer than which.

That `N-hour inspection` counts flight hours, and that of two occasions joined by `or` the first counts, is common
practice, no source.
"""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faulttree.compare.intervals import is_surely_no_longer, occasions

ASCENDING = [
    ["1 hour", "hourly", "90 minutes", "within 24 hours", "daily", "every day", "2 days", "weekly", "1 month",
     "2 months", "6 months", "365 days", "1 year", "12 months", "2 years", "60 months"],
    ["at 10 flight hours", "every 100 flight hours", "100 FH", "600 flight hours"],
    ["next 50-hour inspection", "at the next 100-hour inspection", "next 100-hour inspection",
     "next 500-hour inspection"],
    ["600 flight hours or 12 months", "600 flight hours or 24 months, whichever comes first",
     "1200 flight hours or 2 years"],
    ["1 flight", "50 flights"],
    ["500 cycles", "1000 cycles"],
]  # fmt: skip
ALIKE = {
    ("1 hour", "hourly"), ("within 24 hours", "daily"), ("daily", "every day"), ("1 year", "12 months"),
    ("every 100 flight hours", "100 FH"), ("at the next 100-hour inspection", "next 100-hour inspection"),
}  # fmt: skip


@pytest.mark.parametrize("row", ASCENDING, ids=lambda row: row[0])
def test_shorter_and_longer(row: list[str]) -> None:
    for at, short in enumerate(row):
        assert is_surely_no_longer(short, short)
        for long in row[at + 1 :]:
            assert is_surely_no_longer(long, short), (long, short)
    for short, long in pairwise(row):
        assert is_surely_no_longer(short, long) == ((short, long) in ALIKE), (short, long)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("30 days", "1 month"),
        ("1 month", "30 days"),
        ("100 flight hours", "100 hours"),
        ("24 hours", "10 flight hours"),
        ("daily", "every flight"),
        ("every flight", "daily"),
        ("daily and after each patient", "daily"),
        ("600 flight hours or 12 months", "600 flight hours"),
        ("12 months or 600 flight hours", "12 months and 600 flight hours"),
        ("12 months", "12 months and 600 flight hours"),
        ("12 months", "12 months or 24 months, whichever comes later"),
        ("12 months, whichever comes first", "12 months, whichever comes last"),
        ("daily", "daily, but not in winter"),
        ("daily", "daily and after each patient if it was wet"),
        ("daily and after each patient", "daily or after each patient"),
        ("daily", "daily or when asked"),
        ("before each flight", "after each flight"),
        ("within 24 hours", "after 24 hours"),
        ("24 hours", "after 12 hours"),
        ("12 months", "12 months or after 24 months"),
        ("at the next 100-hour inspection", "after the next 100-hour inspection"),
        ("after 24 hours", "after 25 hours"),
        ("next 100-hour inspection", "next inspection"),
        ("1/4 year", "1/2 year"),
        ("1,45 hours", "1,5 hours"),
        ("1,500 flight hours", "2,500 flight hours"),
        ("inspection 4 of the plan", "inspection 3 of the plan"),
        ("2-4 weeks", "3-4 weeks"),
        ("1 day", "100 " * 200),
        ("1 day", ""),
    ],
)
def test_not_surely_as_short(before: str, after: str) -> None:
    assert not is_surely_no_longer(before, after)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("12 months", "600 flight hours or 12 months"),
        ("12 months", "12 months or 600 flight hours, whichever comes first"),
        ("within 24 hours", "24 hours"),
        ("after 24 hours", "after 12 hours"),
        ("daily", "daily and after each patient"),
        ("every flight", "every flight, after each patient"),
        ("At the next 100-hour inspection.", "next 100-hour inspection"),
        ("daily and after each patient", "After each patient and daily"),
        ("12 months", "365 days"),
        ("400 days", "1 year"),
        ("before the tag comes off", "Before  the tag comes off"),
    ],
)
def test_surely_as_short(before: str, after: str) -> None:
    assert is_surely_no_longer(before, after)


UNITS = {"minutes": Fraction(1, 1440), "hours": Fraction(1, 24), "days": Fraction(1), "weeks": Fraction(7)}


@given(st.integers(1, 500), st.sampled_from(sorted(UNITS)), st.integers(1, 500), st.sampled_from(sorted(UNITS)))
def test_what_has_a_fixed_length_is_compared_by_it(one: int, unit: str, other: int, another: str) -> None:
    longer = other * UNITS[another] > one * UNITS[unit]
    assert is_surely_no_longer(f"{one} {unit}", f"every {other} {another}") != longer


@given(st.integers(1, 80), st.integers(1, 2400), st.sampled_from(["months", "years"]))
def test_months_and_days_are_compared_by_every_calendar(count: int, days: int, unit: str) -> None:
    """Against the calendar itself, from every month of a round of leap years."""
    from datetime import date

    months = count * (12 if unit == "years" else 1)
    lengths = []
    for start in range(2000 * 12, 2008 * 12):
        end = start + months
        first, last = (date(at // 12, at % 12 + 1, 1) for at in (start, end))
        lengths.append((last - first).days)
    if is_surely_no_longer(f"{days} days", f"{count} {unit}"):
        assert max(lengths) <= days
    if is_surely_no_longer(f"{count} {unit}", f"{days} days"):
        assert days <= min(lengths)


@given(st.text(max_size=60), st.text(max_size=60))
def test_any_text_can_be_compared(one: str, other: str) -> None:
    assert is_surely_no_longer(one, one)
    is_surely_no_longer(one, other)
    assert all(re.fullmatch(r"\S.*", each.words, re.DOTALL) for each in occasions(one))
