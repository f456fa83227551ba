"""Days of the calendar as trees write them."""

from __future__ import annotations

_DAYS = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_DIGITS = (4, 2, 2)


def is_date(text: str) -> bool:
    """Whether ``text`` is a day in the extended form of ISO 8601 (year-month-day), from the year 1 on."""
    parts = text.split("-")
    if not text.isascii() or tuple(map(len, parts)) != _DIGITS or not "".join(parts).isdigit():
        return False
    year, month, day = map(int, parts)
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    return year > 0 and 1 <= month <= 12 and 1 <= day <= _DAYS[month - 1] and (leap or (month, day) != (2, 29))
