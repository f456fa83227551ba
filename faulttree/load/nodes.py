"""Plain data with positions: what a YAML text becomes before its shape is known.

Scalars keep the characters as written; whether ``4.10`` is a text or a number is decided by who reads it
(the format is typed by schema, not by look). Lines and columns count from 1, columns in code points.

The span of a scalar is exact. The span of a collection is its opening mark only: the bracket or brace, the dash of
the first item, the first key. YAML readers let the end of a block collection run on to the next token.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from faulttree.problems import START_OF_FILE, Span

Path = tuple[str | int, ...]

THE_KEY = "~"

DEPTH_LIMIT = 32
"""Deepest nesting of collections; the root is level 1."""

MERGE_KEY = "<<"
"""The key that would merge another mapping; it is refused."""


def marked_span(thing: Any) -> Span:
    """The place of a node or event of PyYAML, whose marks count lines and columns from 0."""
    start, end = thing.start_mark, thing.end_mark
    return Span(start.line + 1, start.column + 1, end.line + 1, end.column + 1)


class Scalar:
    """A text as written. ``plain`` is false where it stood in quotes or in block form.

    ``span`` is given as a Span, or as the node of PyYAML from which it is worked out when asked for.
    An empty ``value`` has had its problem when the file was read; whoever reads it need not report it again.
    """

    __slots__ = ("_place", "plain", "value")

    def __init__(self, value: str, span: Any, plain: bool) -> None:
        self.value = value
        self._place = span
        self.plain = plain

    @property
    def span(self) -> Span:
        """The place of the text. Hardly any scalar is asked for it, so it is worked out late."""
        place = self._place
        if type(place) is not Span:
            place = self._place = marked_span(place)
        return place


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
    """The span of the value at ``path``; where the path leaves the data, of the nearest above.

    A collection that has a key is shown by its key. A path element is a key, an index, or the text of an item. A last
    element ``"~"`` stands for the key before it (``("steps", "a", "~")``).
    """
    return _followed(root, path)[0]


def has(root: Node | None, path: Path) -> bool:
    """Whether the data has something at ``path``."""
    return _followed(root, path)[1]


def _followed(root: Node | None, path: Path) -> tuple[Span, bool]:
    """The span of the value at ``path`` or of the nearest above, and whether the path led all the way."""
    asks_key = path[-1:] == (THE_KEY,)
    node, found = root, START_OF_FILE if root is None else root.span
    for part in path[:-1] if asks_key else path:
        key: Scalar | None = None
        if isinstance(node, Table) and isinstance(part, str) and part in node.entries:
            key, node = node.entries[part]
        elif isinstance(node, Items) and (item := _item(node, part)) is not None:
            node = item
        else:
            return found, False
        found = key.span if key and (asks_key or not isinstance(node, Scalar)) else node.span
    return found, root is not None


def _item(items: Items, part: str | int) -> Node | None:
    """The item at an index, or the first of a text."""
    if isinstance(part, int):
        return items.items[part] if 0 <= part < len(items.items) else None
    return next((item for item in items.items if isinstance(item, Scalar) and item.value == part), None)


def scalars(node: Node | None) -> Iterator[Scalar]:
    """Every value that is a scalar, in file order; keys are left out."""
    if isinstance(node, Scalar):
        yield node
    elif isinstance(node, Items):
        for item in node.items:
            yield from scalars(item)
    elif isinstance(node, Table):
        for entry in node.entries.values():
            yield from scalars(entry.value)


SENTENCE_ENDS = (".", "!", "?")

_GO_ON = frozenset(
    (
        *(
            "after",
            "and",
            "as",
            "because",
            "before",
            "but",
            "even",
            "except",
            "if",
            "never",
            "nor",
            "not",
            "only",
            "or",
        ),
        *("otherwise", "so", "than", "that", "then", "unless", "until", "when", "where", "which", "while", "who"),
        *("with", "without"),
    )
)
"""Words that begin the rest of a sentence, and hardly ever an item of a list."""


def split_by_comma(items: Items) -> int:
    """The index of the item of ``[..]`` that looks like the rest of a sentence; 0 where there is none.

    YAML cannot tell: ``[Wipe with water, not with solvent.]`` is a sequence of two texts. An item without quotes
    that no full stop ends was cut from the next where that begins with a word that only goes on, or where a full
    stop follows later. Capitals tell nothing: ``[Rotors stopped, oxygen off]``. Ask only where sentences are expected.
    """
    if not items.flow:
        return 0
    texts = [item.value if isinstance(item, Scalar) and item.plain else "" for item in items.items]
    return next((at for at in range(1, len(texts)) if texts[at - 1] and texts[at] and _goes_on(texts, at)), 0)


def _goes_on(texts: list[str], at: int) -> bool:
    """Whether the text at an index goes on with the sentence of the one before."""
    if texts[at - 1].endswith(SENTENCE_ENDS):
        return False
    word = texts[at].split()[0].lower()
    return word in _GO_ON or any(text.endswith(SENTENCE_ENDS) for text in texts[at:])
