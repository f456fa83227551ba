"""Readers: from a positioned node to a plain value, or a `ShapeError` at the first place of another shape.

A reader is a function of one node. Readers are put together (`many`, `table_of`, `each`, `record`) as the schemas
are, and accept exactly what these accept: whether a file's shape is right is decided here, in a fraction of the time,
and the schemas are asked only to explain why it is not. Texts are the characters as written; what a plain scalar
looks like decides nothing.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from faulttree.load.nodes import Items, Node, Path, Scalar, Table, split_by_comma
from faulttree.load.patterns import MODEL
from faulttree.load.scalars import read_bool, read_number

Reader = Callable[[Node], Any]
Record = dict[str, Any]

FOLDS = re.compile(r"[ \t\r]*\n\s*")

Pattern = Callable[[str], object]
"""Says of a text whether it is of the pattern, by the truth of what it returns."""


class ShapeError(Exception):
    """A node is of another shape than its place wants. ``path`` leads there from the node that was read."""

    def __init__(self, *path: str | int) -> None:
        super().__init__(path)
        self.path: Path = path

    def below(self, *above: str | int) -> ShapeError:
        """The same, seen from further up."""
        return ShapeError(*above, *self.path)


class Each(dict[str, Any]):
    """One value for each model, by the model's name."""

    __slots__ = ()


class Keys:
    """The keys of a kind of record: a reader for each, and which of them must be there."""

    __slots__ = ("readers", "required")

    def __init__(self, required: dict[str, Reader], optional: dict[str, Reader] | None = None) -> None:
        self.readers = {**required, **(optional or {})}
        self.required = frozenset(required)

    def __or__(self, other: Keys) -> Keys:
        """The keys of both."""
        both = Keys({}, self.readers | other.readers)
        both.required = self.required | other.required
        return both


def text(node: Node) -> str:
    """One paragraph, not empty. Lines of a block scalar are joined."""
    if type(node) is not Scalar:
        raise ShapeError
    value = node.value.strip()
    if not value:
        raise ShapeError
    return FOLDS.sub(" ", value) if "\n" in value else value


def boolean(node: Node) -> bool:
    """True or false."""
    value = read_bool(node) if type(node) is Scalar else None
    if value is None:
        raise ShapeError
    return value


def number(low: float | None = None, high: float | None = None, above: float | None = None) -> Reader:
    """A reader of numbers within bounds; ``above`` itself is outside."""

    def read(node: Node) -> float:
        value = read_number(node) if type(node) is Scalar else None
        if value is None or (low is not None and value < low) or (high is not None and value > high):
            raise ShapeError
        if above is not None and value <= above:
            raise ShapeError
        return value

    return read


def whole(low: int) -> Reader:
    """A reader of whole numbers from ``low``. As in JSON Schema, 2.0 is one."""
    plain = number(low=low)

    def read(node: Node) -> int:
        value = plain(node)
        if value != value // 1:
            raise ShapeError
        return int(value)

    return read


def matching(pattern: Pattern) -> Reader:
    """A reader of names of one pattern."""

    def read(node: Node) -> str:
        if type(node) is not Scalar or not pattern(node.value):
            raise ShapeError
        return node.value

    return read


def one_of(*words: str) -> Reader:
    """A reader of fixed words."""

    def read(node: Node) -> str:
        if type(node) is not Scalar or node.value not in words:
            raise ShapeError
        return node.value

    return read


def many(item: Reader, least: int = 1, most: int | None = None, unique: bool = False) -> Reader:
    """A reader of lists; in a ``unique`` one no scalar stands twice."""

    def read(node: Node) -> tuple[Any, ...]:
        if type(node) is not Items or len(node.items) < least or (most is not None and len(node.items) > most):
            raise ShapeError
        values: list[Any] = []
        try:
            for each_item in node.items:
                values.append(item(each_item))
        except ShapeError as wrong:
            raise wrong.below(len(values)) from None
        if unique and len({each_item.value for each_item in node.items if type(each_item) is Scalar}) < len(values):
            raise ShapeError
        return tuple(values)

    return read


def any_of(first: Reader, second: Reader) -> Reader:
    """A reader of what the first reads, else of what the second reads."""

    def read(node: Node) -> Any:
        try:
            return first(node)
        except ShapeError:
            return second(node)

    return read


def one_or_many(item: Reader, unique: bool = False) -> Reader:
    """A reader of a list or of one item that stands for a list of one."""
    several = many(item, unique=unique)
    return lambda node: several(node) if type(node) is Items else (item(node),)


def sentences(node: Node) -> tuple[str, ...]:
    """One paragraph or several. In ``[..]`` they must not look like one that a comma has split."""
    if type(node) is not Items:
        return (text(node),)
    if node.flow and split_by_comma(node):
        raise ShapeError
    return _several_texts(node)


_several_texts: Callable[[Node], tuple[str, ...]] = many(text)


def table_of(pattern: Pattern, value: Reader, least: int = 1, most: int | None = None) -> Reader:
    """A reader of mappings whose keys are names of one pattern."""

    def read(node: Node) -> dict[str, Any]:
        return read_entries(node, pattern, value, {}, least, most)

    return read


def read_entries(
    node: Node, pattern: Pattern, value: Reader, into: dict[str, Any], least: int = 1, most: int | None = None
) -> dict[str, Any]:
    """The entries of a mapping, put ``into``; the author's own `x-` keys are left out but counted."""
    if type(node) is not Table:
        raise ShapeError
    for key, entry in node.entries.items():
        if pattern(key):
            try:
                into[key] = value(entry[1])
            except ShapeError as wrong:
                raise wrong.below(key) from None
        elif not key.startswith("x-"):
            raise ShapeError(key, "~")
    if len(node.entries) < least or (most is not None and len(node.entries) > most):
        raise ShapeError
    return into


def each(value: Reader, of_tables: bool = False) -> Reader:
    """A reader of one value, or of a mapping from model to value.

    ``of_tables``: one value may be a mapping itself. Then a mapping is one value if it can be.
    """

    def read(node: Node) -> Any:
        if type(node) is not Table:
            return value(node)
        if of_tables:
            try:
                return value(node)
            except ShapeError as wrong:
                return first_unless(wrong, node)
        return read_entries(node, MODEL, value, Each())

    def first_unless(wrong: ShapeError, node: Node) -> Any:
        try:
            return read_entries(node, MODEL, value, Each())
        except ShapeError:
            raise wrong from None

    return read


def read_record(node: Node, keys: Keys) -> Record:
    """The values of a record by key: no unknown key but the author's own (`x-`), none of the required ones missing."""
    if type(node) is not Table:
        raise ShapeError
    values: Record = {}
    readers = keys.readers
    key = ""
    try:
        for key, entry in node.entries.items():
            if key in readers:
                values[key] = readers[key](entry[1])
            elif not key.startswith("x-"):
                raise ShapeError("~")
    except ShapeError as wrong:
        raise wrong.below(key) from None
    if not keys.required <= values.keys():
        raise ShapeError
    return values


def record(keys: Keys) -> Reader:
    """A reader of records of these keys."""
    return lambda node: read_record(node, keys)
