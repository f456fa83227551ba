"""Making a page fit: its parts grow shorter, in a fixed order, until it does; blank rows stand where room is left.

Each part knows its forms, from the fullest to the shortest. What must be read in full has one form only.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from faulttree.tui.rows import EMPTY_ROW, Row

Form = tuple[Row, ...]


class Part(NamedTuple):
    """A part of a page: its name, its forms, and whether a blank row before it makes it easier to find."""

    name: str
    forms: tuple[Form, ...]
    apart: bool = False


LEANER = (
    "so far", "possible", "watch", "aids", "code", "so far", "known", "tags", "tick", "aside", "tick", "tick", "aids",
    "needs", "tick", "status", "tick", "first", "measure", "times", "aids", "tick", "notes", "open", "known", "tick",
    "needs", "before", "actions", "urgency", "watch", "possible", "open", "order", "watch",
)  # fmt: skip
"""Which part gives way next; a name that comes again takes its next form."""


def fitted(parts: Sequence[Part], height: int) -> tuple[Row, ...]:
    """The rows of the page in at most ``height`` rows, or in its shortest form where even that is longer."""
    at = {part.name: 0 for part in parts}
    longest = {part.name: len(part.forms) - 1 for part in parts}
    for name in LEANER:
        if _height(parts, at) <= height:
            break
        if name in at and at[name] < longest[name]:
            at[name] += 1
    return _spaced([(part.forms[at[part.name]], part.apart) for part in parts], height)


def _height(parts: Sequence[Part], at: dict[str, int]) -> int:
    return sum(len(part.forms[at[part.name]]) for part in parts)


def _spaced(forms: Sequence[tuple[Form, bool]], height: int) -> tuple[Row, ...]:
    """The rows with a blank one before the parts that want it, the last ones first, as far as there is room."""
    room = height - sum(len(form) for form, _ in forms)
    wanting = [at for at, (form, apart) in enumerate(forms) if apart and form and at]
    blank = set(wanting[::-1][: max(room, 0)])
    rows: list[Row] = []
    for at, (form, _) in enumerate(forms):
        rows += [EMPTY_ROW] if at in blank and rows else []
        rows += form
    return tuple(rows)
