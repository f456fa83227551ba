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
from yaml.parser import Parser
from yaml.reader import Reader
from yaml.scanner import Scanner

from faulttree.load.nodes import Entry, Items, Node, Scalar, Table, marked_span
from faulttree.load.text import REFUSED, STAND_IN, block_span, refused_character, short, span_at
from faulttree.load.yaml_messages import own_problem, syntax_problem
from faulttree.problems import START_OF_FILE, Problem, Span

DEPTH_LIMIT = 32
"""Deepest nesting of collections; the root is level 1."""

MERGE_KEY = "<<"

_ESCAPE = re.compile(r"\\(?:x([0-9a-fA-F]{2})|u([0-9a-fA-F]{4})|U([0-9a-fA-F]{8})|(.))", re.DOTALL)
_TAB_INDENT = re.compile(r"^ *\t", re.MULTILINE)
_DIRECTIVE = re.compile(r"^%.*", re.MULTILINE)
_COLON = re.compile(r"\s*:")


class _Events(Reader, Scanner, Parser):
    """PyYAML's reader in Python, up to its events."""

    def __init__(self, text: str) -> None:
        Reader.__init__(self, text)
        Scanner.__init__(self)
        Parser.__init__(self)


class _Stop(Exception):
    """Nothing can be read on; the problem has been reported."""


class Composer:
    """Builds the nodes of one text and collects its problems."""

    def __init__(self, text: str, file: str) -> None:
        self.text = text
        self.file = file
        self.problems: list[Problem] = []
        self.scalars: list[Scalar] = []
        self._events = _Events(text)

    def compose(self) -> Node | None:
        """The root; None where the text is empty or could not be read to its end."""
        try:
            return self._document()
        except _Stop:
            return None
        except MarkedYAMLError as error:
            self._syntax(error)
        except (ValueError, OverflowError):
            self._no_such_character()
        return None

    def _report(self, rule: str, span: Span, **words: str) -> None:
        self.problems.append(own_problem(rule, span, self.file, **words))

    def _next(self) -> Any:
        return self._events.get_event()  # type: ignore[no-untyped-call]

    # Documents

    def _document(self) -> Node | None:
        self._next()
        start = self._next()
        if isinstance(start, DocumentStartEvent):
            self._directives(start)
        event = start if isinstance(start, StreamEndEvent) else self._next()
        if isinstance(event, StreamEndEvent) or (_is_empty(event) and _is_bare(event)):
            self._report("yaml-empty", START_OF_FILE, found="the file")
            return None
        root = self._value(event, 0)
        self._next()
        other = self._next()
        if isinstance(other, DocumentStartEvent):
            self._report("yaml-documents", span_at(self.text, _start(other), 3))
        return root

    def _directives(self, start: Any) -> None:
        for match in _DIRECTIVE.finditer(self.text, _start(start), _end(start)):
            self._directive(match)

    def _directive(self, match: re.Match[str]) -> None:
        line = match[0].rstrip()
        self._report("yaml-directive", span_at(self.text, match.start(), len(line)), found=short(line))

    # Nodes

    def _node(self, event: Any, depth: int) -> Node:
        if isinstance(event, AliasEvent):
            span = marked_span(event)
            self._report("yaml-alias", span, found=short(self.text[_start(event) : _end(event)]))
            return Scalar("", span, True)
        self._properties(event)
        if isinstance(event, ScalarEvent):
            return self._scalar(event)
        if depth > DEPTH_LIMIT:
            self._report("yaml-too-deep", self._opening(event), found=str(DEPTH_LIMIT))
            raise _Stop
        return self._table(event, depth) if isinstance(event, MappingStartEvent) else self._items(event, depth)

    def _properties(self, event: Any) -> None:
        """Anchor and tag; the event starts at the first of them."""
        for rule, mark, name in (("yaml-anchor", "&", event.anchor), ("yaml-tag", "!", getattr(event, "tag", None))):
            if name is not None:
                index = self.text.index(mark, _start(event))
                found = re.compile(r"[^\s,\[\]{}]*").match(self.text, index)
                written = found[0] if found else mark
                self._report(rule, span_at(self.text, index, len(written)), found=short(written))

    def _scalar(self, event: Any) -> Scalar:
        value, span = event.value, marked_span(event)
        if event.style == '"':
            value = self._escapes(event)
        elif event.style in ("|", ">"):
            span = block_span(self.text, event.start_mark, event.end_mark)
        return Scalar(value, span, event.style is None)

    def _escapes(self, event: Any) -> str:
        """The value of a double-quoted scalar, with stand-ins for the refused characters of its escapes."""
        for match in _ESCAPE.finditer(self.text, _start(event), _end(event)):
            digits = match[1] or match[2] or match[3]
            character = chr(int(digits, 16)) if digits else Scanner.ESCAPE_REPLACEMENTS.get(match[4], " ")
            if REFUSED.match(character):
                span = span_at(self.text, match.start(), len(match[0]))
                self.problems.append(refused_character(character, span, self.file, match[0]))
        return REFUSED.sub(STAND_IN, event.value)

    def _opening(self, event: Any) -> Span:
        """The opening mark; empty for a block mapping, which has none."""
        has_mark = event.flow_style or not isinstance(event, MappingStartEvent)
        return span_at(self.text, _start(event), 1 if has_mark else 0)

    def _items(self, start: Any, depth: int) -> Items:
        items = []
        while not isinstance(event := self._next(), CollectionEndEvent):
            items.append(self._value(event, depth))
            if _is_empty(event):
                self._empty_text(event, "the item", span_at(self.text, max(_start(event) - 1, 0)))
        return Items(items, self._opening(start), bool(start.flow_style))

    def _value(self, event: Any, depth: int) -> Node:
        value = self._node(event, depth + 1)
        if isinstance(value, Scalar):
            self.scalars.append(value)
        return value

    def _table(self, start: Any, depth: int) -> Table:
        table = Table({}, self._opening(start), bool(start.flow_style))
        before: Node | None = None
        while not isinstance(key := self._next(), CollectionEndEvent):
            before = self._entry(table, key, before, depth)
        if not table.flow and table.entries:
            table.span = next(iter(table.entries.values())).key.span
        return table

    def _entry(self, table: Table, key_event: Any, before: Node | None, depth: int) -> Node:
        """Reads a key and its value into ``table``; the value comes back, for the next entry to look at."""
        key = self._node(key_event, depth + 1)
        event = self._next()
        if _is_empty(key_event) or not isinstance(key, Scalar):
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
            if _is_empty(event):
                self._empty_text(event, f'the key "{short(key.value)}"', key.span)
        return value

    def _key_not_text(self, event: Any) -> None:
        found = "an empty text" if isinstance(event, ScalarEvent) else "a collection"
        self._report("yaml-key-not-text", span_at(self.text, _start(event)), found=found)

    def _keep(self, table: Table, key: Scalar, value: Node) -> None:
        first = table.entries.setdefault(key.value, Entry(key, value)).key
        if first is not key:
            place = f"line {first.span.line}, column {first.span.column}"
            self._report("yaml-key-twice", key.span, found=short(key.value), place=place)

    def _split_by_comma(self, table: Table, key: Scalar, key_event: Any, event: Any, before: Node | None) -> bool:
        """Whether ``key`` is the rest of a sentence that stands in braces: no colon, no value, a text before it."""
        bare = table.flow and _is_empty(event) and _is_bare(event)
        if bare and isinstance(before, Scalar) and not _COLON.match(self.text, _end(key_event)):
            self._report("prose-comma", key.span, found=short(key.value))
            return True
        return False

    def _empty_text(self, event: Any, found: str, owner: Span) -> None:
        """Reports an empty value: at its quotes or mark if it has one, else at the key or dash that it belongs to."""
        if _is_bare(event):
            self._report("yaml-empty", owner, found=found)
        else:
            self._report("yaml-empty", marked_span(event), found=found)

    # What stops the reader

    def _syntax(self, error: MarkedYAMLError) -> None:
        directive = _DIRECTIVE.search(self.text)
        if directive and "<document start>" in str(error.problem):
            self._directive(directive)
            return
        problem = syntax_problem(error, self.text, self.file)
        self.problems.append(problem)
        if problem.rule == "yaml-tab":
            for match in _TAB_INDENT.finditer(self.text, self._events.index + 1):
                self.problems.append(problem._replace(span=span_at(self.text, match.end() - 1)))

    def _no_such_character(self) -> None:
        """An escape beyond the last character, or a version number beyond all numbers."""
        index = self._events.index
        escape = _ESCAPE.match(self.text, index - 2)
        if escape:
            self._report("yaml-control-character", span_at(self.text, index - 2, len(escape[0])), found=escape[0])
        else:
            directive = _DIRECTIVE.search(self.text)
            assert directive
            self._directive(directive)


def _start(event: Any) -> int:
    """The index of the first character of what the event tells of."""
    return int(event.start_mark.index)


def _end(event: Any) -> int:
    """The index after the last character."""
    return int(event.end_mark.index)


def _is_empty(event: Any) -> bool:
    return isinstance(event, ScalarEvent) and not event.value


def _is_bare(event: Any) -> bool:
    """Whether nothing at all is written where the value should stand."""
    return _start(event) == _end(event)
