"""A date does not exist.

Meaning:
    The date has the right form, year-month-day, but the calendar has no such day.

Why:
    Revisions, releases and rechecks are compared by date.

Wrong:
    date: 2026-02-30

Right:
    date: 2026-02-28
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from faulttree.rules.context import Context, Hit, Path, Shared

FORM = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}").fullmatch


def check(context: Context) -> Iterator[Hit]:
    """One hit for each date of the header."""
    yield from _wrong(("date",), context.tree.date)
    if context.tree.released:
        yield from _wrong(("released", "date"), context.tree.released.date)


def check_library(shared: Shared) -> Iterator[Hit]:
    """The date of the library, which may also be in words."""
    yield from _wrong(("date",), shared.library.date)


def _wrong(path: Path, text: str) -> Iterator[Hit]:
    if FORM(text) and not _exists(text):
        yield Hit(path, f'"{text}" is no day of the calendar', "write a day that exists")


def _exists(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True
