"""The patterns of names, labels and dates; each takes a whole text or not."""

from __future__ import annotations

import re

NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,39}").fullmatch
STEP = re.compile(r"[a-z0-9][a-z0-9-]{0,39}").fullmatch
MODEL = re.compile(r"[A-Z][A-Za-z0-9-]{0,39}").fullmatch
LABEL = re.compile(r"[^,:#\[\]{};\s]([^,:#\[\]{};\n]{0,22}[^,:#\[\]{};\s])?").fullmatch
SHORT = re.compile(r"[A-HJ-NP-Z]{3}").fullmatch

_DATE = re.compile(r"([0-9]{4})-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])").fullmatch
_DAYS = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def is_date(text: str) -> bool:
    """Whether ``text`` is a day of the calendar in the extended form of ISO 8601, from the year 1 on."""
    match = _DATE(text)
    if not match:
        return False
    year, month, day = map(int, match.groups())
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    return year > 0 and day <= _DAYS[month - 1] and (leap or (month, day) != (2, 29))
