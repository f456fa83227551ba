"""Intervals in words: whether one is surely no longer than another.

``100 flight hours``, ``within 24 hours``, ``600 flight hours or 12 months``, ``next 100-hour inspection``, ``daily and
after each patient``: occasions, of which the first counts. An occasion that is a time is compared in its own measure:
the calendar, flight hours, or what is counted. Any other has to stay as it is. What is not surely as short counts as
longer.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from faulttree.compare.changes import JUDGE, WEAKER, Found, told
from faulttree.compare.judges import Judge, Sides, judging

LONGEST = 300
"""A longer text is no interval that can be read."""

HOURS = {"minute": Fraction(1, 60), "min": Fraction(1, 60), "hour": Fraction(1), "hr": Fraction(1), "h": Fraction(1),
         "day": Fraction(24), "week": Fraction(168)}  # fmt: skip
MONTHS = {"month": 1, "quarter": 3, "year": 12}
OFTEN = {
    "hourly": "1 hour", "daily": "1 day", "weekly": "1 week", "monthly": "1 month", "yearly": "1 year",
    "annually": "1 year", "hour": "1 hour", "day": "1 day", "week": "1 week", "month": "1 month", "year": "1 year",
}  # fmt: skip
COUNTED = ("cycle", "landing", "flight", "patient", "loading", "use", "operation", "call")
NUMBER = r"(?<![0-9.,/⁄])([0-9]+(?:\.[0-9]+)?)"
"""A number that is no part of another: 1,5 and 1/2 are not read."""

FLIGHT = re.compile(NUMBER + r"[ -]*(?:(?:flight|flying|operating)[ -]?(?:hours?|hrs?|h)|fh)\b")
CHECKED = re.compile(NUMBER + r"-hours?\b")
"""``100-hour inspection``: hours of flight, as the trade means it."""

TIME = re.compile(NUMBER + r"[ -]?([a-z]+)\b")
JOINED = re.compile(r"\b(or|and)\b")
BETWEEN = re.compile(r"\s*(?:,(?![0-9])|;|\bor\b|\band\b)\s*")
FIRST_WORDS = re.compile(r"^(?:(?:every|each|within|at|in|per|once) )+(?=[0-9]|next )")
"""Words that change nothing; "after 24 hours" is no end, and is compared with "after" alone."""
EACH = re.compile(r"(?:(?:after|before|at|on) )?(?:each|every) [a-z]+")
"""One more occasion, as in ``daily and after each patient``."""

ARTICLES = re.compile(r"\b(?:the|a|an|calendar) ")
LATER = re.compile(r"\b(?:later|latest|last|longer|except|unless|not|but)\b")
"""With such a word the first occasion is not the one that counts, or is not all that is said."""


class Amount(NamedTuple):
    """So much of a measure, at least and at most: a month has 28 to 31 days."""

    measure: str
    least: Fraction
    most: Fraction


class Occasion(NamedTuple):
    """A part of an interval: its words with ``#`` for each amount, and the amounts."""

    words: str
    amounts: tuple[Amount, ...]


def is_surely_no_longer(before: str, after: str) -> bool:
    """Whether what is due by ``after`` is due by ``before`` at the latest, whenever that is."""
    if max(len(before), len(after)) > LONGEST:
        return before == after
    if LATER.search(_plain(before)) or LATER.search(_plain(after)):
        return _plain(before) == _plain(after)
    joined = [set(JOINED.findall(_plain(side))) for side in (before, after)]
    old, new = list(occasions(before)), list(occasions(after))
    if not all(any(_covers(each, one) for each in new) for one in old):
        return False
    more = [each for each in new if not any(_covers(each, one) for one in old)]
    if len(old) < 2 and all(EACH.fullmatch(each.words) for each in more):
        return True
    # Else what is more may only be a time that counts if it comes first: words can take back what they follow.
    same = "and" not in joined[0] ^ joined[1] or len(new) < 2
    return same and all(each.words == "#" and "and" not in joined[1] for each in more)


def _covers(new: Occasion, old: Occasion) -> bool:
    if new.words != old.words or len(new.amounts) != len(old.amounts):
        return False
    pairs = zip(new.amounts, old.amounts, strict=True)
    return all(a == b or (a.measure == b.measure and a.most <= b.least) or _same_count(a, b) for a, b in pairs)


def _same_count(new: Amount, old: Amount) -> bool:
    """Fewer months are shorter than more months, whatever days they have."""
    return new.measure == old.measure == "calendar" and new.least <= old.least and new.most <= old.most


def _plain(text: str) -> str:
    text = ARTICLES.sub("", " ".join(text.casefold().split())).strip(" .")
    return re.sub(r",? ?whichever (?:comes|is|occurs) (?:first|sooner|earlier)$", "", text)


def occasions(text: str) -> Iterator[Occasion]:
    """The parts of an interval."""
    for part in BETWEEN.split(_plain(text)):
        if part:
            often = re.sub(r"^(?:every|each|once per|per) ", "", part)
            yield _occasion(OFTEN.get(often, part))


def _occasion(part: str) -> Occasion:
    amounts: list[Amount] = []

    def put(found: re.Match[str]) -> str:
        amount = _amount(found[1], found[2] if len(found.groups()) > 1 else "flight hours")
        amounts.extend([amount] if amount else [])
        return "#" if amount else found[0]

    part = FIRST_WORDS.sub("", part)
    for pattern in (FLIGHT, CHECKED, TIME):
        part = pattern.sub(put, part)
    return Occasion(part, tuple(amounts))


def _amount(number: str, unit: str) -> Amount | None:
    """So many of a unit; None where the word behind the number is none."""
    count, one = Fraction(number), unit.removesuffix("s")
    if unit in HOURS or one in HOURS:
        hours = count * HOURS.get(one, HOURS.get(unit, Fraction(1)))
        return Amount("calendar", hours, hours)
    if one in MONTHS:
        years, months = divmod(count * MONTHS[one], 12)
        return Amount("calendar", (years * 365 + months * 28) * 24, (years * 366 + months * 31) * 24)
    return Amount(one, count, count) if one in COUNTED or unit == "flight hours" else None


def interval(what: str, kind: str) -> Judge:
    """A judge of how often, or how late, something is due: weaker where it is not surely as soon as before."""

    @judging(kind)
    def judge(sides: Sides, before: str, after: str) -> Iterator[Found]:
        sure = bool(after) and (not before or is_surely_no_longer(before, after))
        says = f"{what} changed" if sure else f"{what} became longer, or is not surely as short"
        yield Found(JUDGE if sure else WEAKER, kind, says, before=told(before), after=told(after))

    return judge
