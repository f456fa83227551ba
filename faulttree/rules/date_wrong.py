"""The date of the library does not exist.

Meaning:
    The date has the form year-month-day, but the calendar has no such day. The library may also have its date in words
    ("November 2026"); these are not looked at. Dates of trees are looked at when the file is read.

Why:
    Revisions are compared by date.

Wrong:
    date: 2026-02-30

Right:
    date: 2026-02-28
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from faulttree.dates import is_date
from faulttree.rules.context import Hit, Shared

FORM = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}").fullmatch


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit at the date."""
    text = shared.library.date
    if FORM(text) and not is_date(text):
        yield Hit(("date",), f'"{text}" is no day of the calendar', "write a day that exists")
