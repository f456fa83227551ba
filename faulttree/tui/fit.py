"""Making a page fit: from its shortest form on, what there is room for is given back, the most important first.

Each part knows its forms, from the fullest to the shortest. What must be read in full has one form only. Blank rows
stand where room is left.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from faulttree.tui.rows import EMPTY_ROW, Row

Form = tuple[Row, ...]


class Part(NamedTuple):
    """A part of a page: its name and its forms.

    ``apart``: a blank row before it makes it easier to find. ``pinned``: its rows stay while the page is moved.
    """

    name: str
    forms: tuple[Form, ...]
    apart: bool = False
    pinned: bool = False


FULL, BUT_FULL = 99, -1

WISHES = (
    ("next", 1), ("open", 1), ("times", 1), ("draft", FULL), ("order", 1), ("watch", 1), ("so far", 1), ("known", 1),
    ("aids", 1), ("parts", 3), ("known", BUT_FULL), ("open", 2), ("possible", 1), ("list", 5), ("urgency", 1),
    ("before", 1), ("needs", 1), ("open", 3), ("tick", 2), ("notes", 1), ("parts", FULL), ("list", FULL),
    ("actions", 1), ("measure", 1), ("tick", 4), ("aids", FULL), ("status", 1), ("known", FULL), ("so far", 2),
    ("tick", FULL), ("aside", 1), ("tags", 1), ("code", 1), ("watch", FULL), ("possible", FULL), ("so far", FULL),
)  # fmt: skip
"""Which part is given back next, the most important first, and how many forms above the shortest it may be.

Below zero it counts from the fullest form down.
"""

WHERE_MOVED = (("open", 1), ("known", BUT_FULL), ("parts", 3), ("list", 5))
"""What is given back on a page that has to be moved in any case, as far as it is moved no further for it."""


def fitted(parts: Sequence[Part], height: int) -> tuple[Row, ...]:
    """The rows of the page in at most ``height`` rows, or more where even its shortest form is longer."""
    at = {part.name: len(part.forms) - 1 for part in parts}
    if _height(parts, at) <= height:
        _give_back(parts, at, height, WISHES)
    else:
        _give_back(parts, at, _whole_screens(parts, at, height), WHERE_MOVED)
    return _marked(_spaced([(_rows(part, at), part.apart) for part in parts], height), parts, at)


def _marked(rows: tuple[Row, ...], parts: Sequence[Part], at: dict[str, int]) -> tuple[Row, ...]:
    """The rows; the last says how many of the fullest form of parts are missing of which there is none.

    Shorter forms say themselves what they leave out.
    """
    hidden = sum(len(part.forms[0]) for part in parts if not part.forms[at[part.name]])
    return (*rows[:-1], rows[-1]._replace(hidden=hidden)) if hidden and rows else rows


def _give_back(parts: Sequence[Part], at: dict[str, int], height: int, wishes: Sequence[tuple[str, int]]) -> None:
    """Take the fullest form that fits for each wish: what one has no room for may be enough for the next."""
    named = {part.name: part for part in parts}
    used = _height(parts, at)
    for name, steps in wishes:
        if name not in named:
            continue
        forms, here = named[name].forms, at[name]
        fullest = max(len(forms) - 1 - steps, 0) if steps >= 0 else min(-steps, here)
        for fuller in range(fullest, here):
            more = len(forms[fuller]) - len(forms[here])
            if used + more <= height:
                at[name], used = fuller, used + more
                break


def _whole_screens(parts: Sequence[Part], at: dict[str, int], height: int) -> int:
    """The rows that can be read by moving the page no oftener than its shortest form has to be."""
    pinned = sum(len(part.forms[at[part.name]]) for part in parts if part.pinned)
    step = max(height - most_pinned(pinned, height) - 1, 1)
    return height + -(-(_height(parts, at) - height) // step) * step


def most_pinned(pinned: int, height: int) -> int:
    """How many of the rows that stay do stay in a window: never more than half of it."""
    return min(pinned, height // 2)


def _height(parts: Sequence[Part], at: dict[str, int]) -> int:
    return sum(len(part.forms[at[part.name]]) for part in parts)


def _rows(part: Part, at: dict[str, int]) -> Form:
    rows = part.forms[at[part.name]]
    return tuple(row._replace(pinned=True) for row in rows) if part.pinned else rows


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
