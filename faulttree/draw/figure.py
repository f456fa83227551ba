"""A drawing before it is drawn: boxes and lines as plain values, in words that are not escaped yet."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal, NamedTuple

from faulttree.value import EMPTY, Value

Shape = Literal["check", "fix", "end", "hand over"]
RouteKind = Literal["finding", "failed", "unable", "cannot"]
Border = Literal["single", "double", "dashed"]
Mark = Literal["", "+", "-", "~"]
"""Compared with another tree: the same, new, gone, changed."""


class Row(NamedTuple):
    """A paragraph in a box. A ``rule`` is a line across it and has no text."""

    kind: Literal["head", "notice", "text", "rule"]
    text: str = ""


class Box(Value):
    """A step. ``facts`` has what a comparison looks at, by the word for it."""

    name: str
    number: int
    shape: Shape
    border: Border
    head: str
    """Kind, role and minutes."""
    needs: str
    """People, waiting, and whether it may be done while somebody is on the equipment."""
    rows_before: tuple[Row, ...]
    """Notices, which stand before everything else."""
    rows: tuple[Row, ...]
    title: str
    """The step in its own words."""
    do: tuple[str, ...] = ()
    """How it is done, for the list; a drawing has no room for it."""
    details: tuple[str, ...] = ()
    """Where, with what and by which data it is done, for the list."""
    notices: tuple[str, ...] = ()
    """Signal word, hazard, result and avoidance of each notice, for the list."""
    facts: Mapping[str, Any] = EMPTY
    mark: Mark = ""
    changed: tuple[str, ...] = ()


class Line(NamedTuple):
    """A route from one step to another. ``share`` is the part of all weight that takes it; None where nothing says."""

    source: str
    answer: str
    kind: RouteKind
    target: str
    label: str
    note: str = ""
    """The edge of a band, or why one may go this way."""
    says: str = ""
    share: float | None = None
    weight: float = 0.0
    """The share even where it is not shown."""
    drawn: bool = False
    """Whether it is a line; else it stands as words in the box that it leaves, with the number of the next step."""
    mark: Mark = ""


class Figure(Value):
    """A tree for one model, as one role can reach it. ``boxes`` are in the order of their numbers."""

    tree: str
    symptom: str
    about: tuple[str, ...]
    """What stands below the symptom: revision, status, model, role."""
    opening: tuple[tuple[Row, ...], ...]
    """In columns: what to do when it cannot wait, what holds before the first step, what is done at once."""
    start: str
    boxes: Mapping[str, Box]
    lines: tuple[Line, ...]
    roles: tuple[tuple[str, Border], ...]
    figures: str
    """What minutes and shares are worth; empty where they are left out."""
    against: str = ""
    """What it is compared with, and how much differs."""


def by_source(figure: Figure) -> dict[str, list[Line]]:
    """The lines by the step that they leave, in order; each step has an entry."""
    found: dict[str, list[Line]] = {name: [] for name in figure.boxes}
    for line in figure.lines:
        found[line.source].append(line)
    return found


def by_target(figure: Figure) -> dict[str, list[Line]]:
    """The lines by the step that they lead to, in order; each step has an entry."""
    found: dict[str, list[Line]] = {name: [] for name in figure.boxes}
    for line in figure.lines:
        found[line.target].append(line)
    return found
