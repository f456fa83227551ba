"""YAML text to nodes with positions and problems; no bytes lead to an exception.

Files that have nothing wrong are the many, so they are read by libyaml where PyYAML has it. At the first sign of
anything else the text is read again by ``compose.Composer``, which alone decides what is
reported: so the problems are the same with and without libyaml.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

import yaml
from yaml.nodes import ScalarNode, SequenceNode

from faulttree.load.nodes import DEPTH_LIMIT, MERGE_KEY, Entry, Items, Node, Scalar, Table, scalars
from faulttree.load.text import DASH_LINE, block_span, decode, short
from faulttree.problems import Problem, Span, in_order

try:
    from yaml._yaml import CParser
except ImportError:
    HAS_LIBYAML = False
else:
    HAS_LIBYAML = True

    class _Nodes(CParser):
        """libyaml's composer without guessing of types: every node has the same tag."""

        def resolve(self, kind: object, value: object, implicit: object) -> str:
            return "x"

        def descend_resolver(self, parent: object, index: object) -> None:
            pass

        def ascend_resolver(self) -> None:
            pass


_INDICATOR = re.compile(r"(?:^|[-?:,\[{])[ ]*[&*!]", re.MULTILINE)
_LINE_INDICATOR = re.compile(r"^(?:%|\.\.\.)", re.MULTILINE)
_BLOCK_MARKS = tuple("|>+-0123456789")
_UNUSUAL_ESCAPE = re.compile(r'\\[^"\\/nt\n ]')
_DEEP_LINE = re.compile(r"\n[ ?:-]{80}")
_MANY_BRACKETS = 1000
_new: Callable[..., Any] = tuple.__new__
"""Makes named tuples at a third of what their own constructor takes."""

_BLOCK_STYLES = ("|", ">")


class Loaded(NamedTuple):
    """``root`` is None where the text is empty or could not be read to its end; problems are in order.

    ``text`` is what the positions refer to: without byte order mark, line ends as in the file, refused characters
    replaced one for one.
    """

    root: Node | None
    text: str
    problems: tuple[Problem, ...]


def load(data: bytes, file: str, libyaml: bool = HAS_LIBYAML) -> Loaded:
    """The nodes of a file with everything that is wrong with it as YAML; ``file`` is its name in the problems.

    ``libyaml`` false reads without it, slower and with the same result.
    """
    text, readable, problems = decode(data, file)
    if not readable:
        return Loaded(None, text, tuple(problems))
    root = _fast(text) if libyaml and not problems and _is_simple(text) else None
    if root is not None:
        values = scalars(root)
    else:
        root, found, values = _careful(text, file)
        problems += found
    if text.count(" #") != text.count("  #"):
        problems += cut_by_comment(list(values), text, file)
    return Loaded(root, text, tuple(in_order(problems)) if problems else ())


def _careful(text: str, file: str) -> tuple[Node | None, list[Problem], Iterator[Scalar]]:
    """The root with all problems of the text and its scalars; loaded only where something is unusual."""
    from faulttree.load.compose import Composer

    composer = Composer(text, file)
    return composer.compose(), composer.problems, iter(composer.scalars)


def cut_by_comment(values: list[Scalar], text: str, file: str) -> list[Problem]:
    """Texts of two words or more that a comment follows after exactly one blank: it was probably meant as text."""
    from faulttree.load.yaml_messages import own_problem

    lines = text.split("\n")
    problems = []
    for value in values:
        span = value.span
        rest = lines[span.end_line - 1][span.end_column - 1 :]
        if value.plain and rest.startswith(" #") and len(value.value.split()) >= 2:
            rest = rest[1:].rstrip()
            place = Span(span.end_line, span.end_column + 1, span.end_line, span.end_column + 1 + len(rest))
            problems.append(own_problem("prose-comment", place, file, found=short(rest)))
    return problems


def _is_simple(text: str) -> bool:
    """Whether libyaml may be asked.

    Not where only events tell what is written, where depth could exhaust its stack, and where it reads more than
    the careful reading does.
    """
    if "\t" in text or ("\\" in text and _UNUSUAL_ESCAPE.search(text)):
        return False
    if ("&" in text or "*" in text or "!" in text) and _INDICATOR.search(text):
        return False
    if ("%" in text or "..." in text) and _LINE_INDICATOR.search(text):
        return False
    if any(before.endswith(_BLOCK_MARKS) for before in text.split("#")[:-1]):
        return False
    if "?" in text and not all(before[-1:].isalnum() for before in text.split("?")[:-1]):
        return False
    return not _DEEP_LINE.search("\n" + text) and text.count("[") + text.count("{") < _MANY_BRACKETS


class _Unclear(Exception):
    """The careful reading must look at this text."""


def _fast(text: str) -> Node | None:
    """The root as libyaml reads it, or None at the first sign of any problem."""
    try:
        root = _Nodes(text).get_single_node()
        return None if root is None else _node(root, text, 1)
    except (yaml.YAMLError, ValueError, _Unclear):
        return None


def _node(node: Any, text: str, depth: int) -> Node:
    """PyYAML's node as ours. Some hundred calls a file: it counts what is done here."""
    if type(node) is ScalarNode:
        value = node.value
        if node.style or not value:
            return _quoted(node, text)
        if "-" in value and (" -" in value or "\n-" in value) and _has_dash_line(node, text):
            raise _Unclear
        return Scalar(value, node, True)
    if depth > DEPTH_LIMIT:
        raise _Unclear
    mark, flow = node.start_mark, node.flow_style
    line, column = mark.line + 1, mark.column + 1
    span = _new(Span, (line, column, line, column + 1))
    if type(node) is SequenceNode:
        return Items([_node(item, text, depth + 1) for item in node.value], span, flow)
    entries = _entries(node.value, text, depth + 1)
    return Table(entries, span if flow else next(iter(entries.values())).key.span, flow)


def _has_dash_line(node: Any, text: str) -> bool:
    """Whether a text in plain form goes on in a line that begins with a dash."""
    return DASH_LINE.search(text, node.start_mark.index, node.end_mark.index) is not None


def _entries(pairs: Any, text: str, depth: int) -> dict[str, Entry]:
    entries: dict[str, Entry] = {}
    for key, value in pairs:
        name = key.value
        if type(key) is not ScalarNode or not name or name in entries or name == MERGE_KEY:
            raise _Unclear
        written = _quoted(key, text) if key.style else Scalar(name, key, True)
        entries[name] = _new(Entry, (written, _node(value, text, depth)))
    return entries


def _quoted(node: Any, text: str) -> Scalar:
    """A text in quotes or in block form; the careful reading tells what to say about an empty one."""
    if not node.value:
        raise _Unclear
    if node.style in _BLOCK_STYLES:
        return Scalar(node.value, block_span(text, node.start_mark, node.end_mark), False)
    return Scalar(node.value, node, False)
