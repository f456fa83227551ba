"""Plain data with positions: what a YAML text becomes before its shape is known.

Scalars keep the characters as written; whether ``4.10`` is a text or a number is decided by who reads it
(the format is typed by schema, not by look). Lines and columns count from 1, columns in code points.
"""

from __future__ import annotations

from typing import NamedTuple

from faulttree.problems import Span

Path = tuple[str | int, ...]


class Scalar:
    """A text as written. ``plain`` is false where it stood in quotes or in block form."""

    __slots__ = ("plain", "span", "value")

    def __init__(self, value: str, span: Span, plain: bool) -> None:
        self.value = value
        self.span = span
        self.plain = plain


class Items:
    """A sequence. ``flow`` is true for the form in ``[..]``."""

    __slots__ = ("flow", "items", "span")

    def __init__(self, items: list[Node], span: Span, flow: bool) -> None:
        self.items = items
        self.span = span
        self.flow = flow


class Entry(NamedTuple):
    """A key with its value."""

    key: Scalar
    value: Node


class Table:
    """A mapping: key text to entry, in file order. ``flow`` is true for the form in ``{..}``."""

    __slots__ = ("entries", "flow", "span")

    def __init__(self, entries: dict[str, Entry], span: Span, flow: bool) -> None:
        self.entries = entries
        self.span = span
        self.flow = flow


Node = Scalar | Items | Table


def where(root: Node | None, path: Path) -> Span:
    """The span of the value at ``path``, for a collection the span of its key; where the path leaves the data, the nearest above.

    A path element is a key or an index. A last element ``"~"`` stands for the key before it (``("steps", "a", "~")``).
    """
    node = root
    found = Span(1, 1, 1, 1) if root is None else root.span
    if not isinstance(node, Scalar):
        found = Span(found.line, found.column, found.line, found.column)
    for part in path:
        if part == "~":
            break
        if isinstance(node, Table) and part in node.entries:
            entry = node.entries[str(part)]
            node, found = entry.value, entry.key.span
            if isinstance(node, Scalar) and path[-1] != "~":
                found = node.span
        elif isinstance(node, Items) and isinstance(part, int) and part < len(node.items):
            node = node.items[part]
            found = node.span if isinstance(node, Scalar) else Span(node.span.line, node.span.column, node.span.line, node.span.column)
        else:
            break
    return found
