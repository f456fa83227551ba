"""The careful reading: from YAML events to nodes, with every problem on the way.

It reads the events of PyYAML's reader in Python, because only events tell where anchors, aliases, tags and directives
stand, and because one reader alone decides what is reported. What stands before a syntax error is reported with it.
"""

from __future__ import annotations

import re
from typing import Any

from yaml.error import MarkedYAMLError
from yaml.events import (
    AliasEvent,
    CollectionEndEvent,
    DocumentStartEvent,
    MappingStartEvent,
    ScalarEvent,
    StreamEndEvent,
)

from faulttree.load.compose_found import ESCAPE, Found, Stop
from faulttree.load.events import ESCAPES, Events, end_of, is_bare, is_empty, start_of, value_of
from faulttree.load.nodes import DEPTH_LIMIT, MERGE_KEY, Entry, Items, Node, Scalar, Table, marked_span
from faulttree.load.slips import AFTER_COLON, COLON_IN_WORD, NO_BLANK
from faulttree.load.text import DASH_LINE, STAND_IN, block_span, refused, refused_character, short
from faulttree.load.yaml_messages import own_problem
from faulttree.problems import ERROR, START_OF_FILE, Problem, Span

_PROPERTY = re.compile(r"!<[^>\s]*>|[&!][^\s,\[\]{}]*")
_COLON = re.compile(r"\s*:")
_WHOLE = re.compile(r"[-+]?\d+")


class Composer(Found):
    """Builds the nodes of one text and collects its problems."""

    def __init__(self, text: str, file: str) -> None:
        super().__init__(text, file)
        self.scalars: list[Scalar] = []
        self._events = Events(text)

    def compose(self) -> Node | None:
        """The root; None where the text is empty or could not be read to its end."""
        try:
            return self._document()
        except Stop:
            return None

    def _document(self) -> Node | None:
        try:
            return self._root()
        except MarkedYAMLError as error:
            self._syntax(error)
        except (ValueError, OverflowError):
            self._no_such_character(self._events.index)
        return None

    # Documents

    def _root(self) -> Node | None:
        self._events.next()
        start = self._events.next()
        self._begun = True
        if isinstance(start, DocumentStartEvent):
            self._directives(start_of(start), end_of(start))
        event = start if isinstance(start, StreamEndEvent) else self._events.next()
        if isinstance(event, StreamEndEvent) or (is_empty(event) and is_bare(event)):
            self._report("yaml-empty", START_OF_FILE, found="the file")
            return None
        root = self._value(event, 0)
        self._events.next()
        other = self._events.next()
        if isinstance(other, DocumentStartEvent):
            self._report("yaml-documents", self._span(start_of(other), 3))
            # The first part alone would be told to lack all that stands in the second.
            return None
        return root

    # Nodes

    def _node(self, event: Any, depth: int) -> Node:
        if isinstance(event, AliasEvent):
            span = marked_span(event)
            self._report("yaml-alias", span, found=short(self.text[start_of(event) : end_of(event)]))
            return Scalar("", span, True)
        self._properties(event)
        if isinstance(event, ScalarEvent):
            return self._scalar(event)
        if depth > DEPTH_LIMIT:
            self._report("yaml-too-deep", self._opening(event), found=str(DEPTH_LIMIT))
            raise Stop
        return self._table(event, depth) if isinstance(event, MappingStartEvent) else self._items(event, depth)

    def _properties(self, event: Any) -> None:
        """Anchor and tag; the event starts at the first of them."""
        for rule, mark, name in (("yaml-anchor", "&", event.anchor), ("yaml-tag", "!", getattr(event, "tag", None))):
            if name is not None:
                index = self.text.index(mark, start_of(event))
                written = _PROPERTY.match(self.text, index)
                assert written
                self._report(rule, self._span(index, len(written[0])), found=short(written[0]))

    def _scalar(self, event: Any) -> Scalar:
        value, span = value_of(event), marked_span(event)
        if event.style == '"':
            value = self._escapes(event, value)
        elif event.style in ("|", ">"):
            span = block_span(self.text, event.start_mark, event.end_mark)
        elif event.style is None:
            self._dash_lines(event)
        return Scalar(value, span, event.style is None)

    def _dash_lines(self, event: Any) -> None:
        """Reports the lines of a plain text that look like items of a list."""
        for match in DASH_LINE.finditer(self.text, start_of(event), end_of(event)):
            self._report("prose-dash", self._span(match.start(1), len(match[1])), found=short(match[1]))

    def _escapes(self, event: Any, value: str) -> str:
        """The value of a double-quoted scalar, with stand-ins for the refused characters of its escapes."""
        for match in ESCAPE.finditer(self.text, start_of(event), end_of(event)):
            digits = match[1] or match[2] or match[3]
            character = chr(int(digits, 16)) if digits else ESCAPES.get(match[4], " ")
            if refused().match(character):
                span = self._span(match.start(), len(match[0]))
                self._add(refused_character(character, span, self.file, match[0]))
        return refused().sub(STAND_IN, value)

    def _opening(self, event: Any) -> Span:
        """The opening mark; empty for a block mapping, which has none."""
        has_mark = event.flow_style or not isinstance(event, MappingStartEvent)
        return self._span(start_of(event), 1 if has_mark else 0)

    def _items(self, start: Any, depth: int) -> Items:
        items = []
        while not isinstance(event := self._events.next(), CollectionEndEvent):
            items.append(self._value(event, depth))
            if is_empty(event):
                self._empty_text(event, "the item", self._span(max(start_of(event) - 1, 0)))
        return Items(items, self._opening(start), bool(start.flow_style))

    def _value(self, event: Any, depth: int) -> Node:
        value = self._node(event, depth + 1)
        if isinstance(value, Scalar):
            self.scalars.append(value)
        return value

    def _table(self, start: Any, depth: int) -> Table:
        table = Table({}, self._opening(start), bool(start.flow_style))
        before: Node | None = None
        while not isinstance(key := self._events.next(), CollectionEndEvent):
            before = self._entry(table, key, before, depth)
        if not table.flow and table.entries:
            table.span = next(iter(table.entries.values())).key.span
        return table

    def _entry(self, table: Table, key_event: Any, before: Node | None, depth: int) -> Node:
        """Reads a key and its value into ``table``; the value comes back, for the next entry to look at."""
        key = self._node(key_event, depth + 1)
        event = self._events.next()
        if is_empty(key_event) or not isinstance(key, Scalar):
            self._key_not_text(key_event)
            return self._value(event, depth)
        if isinstance(key_event, AliasEvent):
            return self._value(event, depth)
        if key.plain and key.value == MERGE_KEY:
            self._report("yaml-merge", key.span)
            return Scalar("", marked_span(event), True) if isinstance(event, AliasEvent) else self._value(event, depth)
        value = self._value(event, depth)
        if not self._split_by_comma(table, key, key_event, event, before):
            self._keep(table, key, value)
            if is_empty(event):
                self._empty_text(event, f'the value of "{short(key.value)}"', key.span)
        return value

    def _key_not_text(self, event: Any) -> None:
        found = "an empty text" if isinstance(event, ScalarEvent) else "a collection"
        self._report("yaml-key-not-text", self._span(start_of(event)), found=found)

    def _keep(self, table: Table, key: Scalar, value: Node) -> None:
        first = table.entries.setdefault(key.value, Entry(key, value)).key
        if first is not key:
            place = f"line {first.span.line}, column {first.span.column}"
            self._report("yaml-key-twice", key.span, found=short(key.value), place=place)

    def _split_by_comma(self, table: Table, key: Scalar, key_event: Any, event: Any, before: Node | None) -> bool:
        """Whether ``key`` is the rest of a sentence that stands in braces: no colon, no value, a text before it."""
        bare = table.flow and is_empty(event) and is_bare(event)
        if not bare or _COLON.match(self.text, end_of(key_event)):
            return False
        if key.plain and (match := COLON_IN_WORD.match(key.value)):
            span = self._span(start_of(key_event) + match.start(1))
            self._add(Problem("yaml-syntax", ERROR, NO_BLANK, AFTER_COLON, self.file, span))
            return True
        if isinstance(before, Scalar):
            self._rest(key, key_event, before)
            return True
        return False

    def _rest(self, key: Scalar, event: Any, before: Scalar) -> None:
        """Reports what a comma has split: a sentence, or a number with decimals."""
        problem = own_problem("prose-comma", key.span, self.file, found=short(key.value))
        if key.value.isdecimal() and _WHOLE.fullmatch(before.value) and self.text[start_of(event) - 1] == ",":
            number = f"{before.value},{key.value}"
            message = f'a comma has split the number "{short(number)}"'
            problem = problem._replace(message=message, help=f'write "{short(number.replace(",", "."))}", with a point')
        self._add(problem)

    def _empty_text(self, event: Any, found: str, owner: Span) -> None:
        """Reports an empty value: at its quotes or mark if it has one, else at the key or dash that it belongs to.

        Behind an anchor or a tag it is no news: ``!Stop`` was meant as a text.
        """
        if event.anchor is None and event.tag is None:
            self._report("yaml-empty", owner if is_bare(event) else marked_span(event), found=found)
