"""Changes of a text in place, by the positions of its data: nothing is written anew, so every comment stays.

Each function gives the whole text with one kind of change, or the same text where there is nothing to do. They change
how a file looks, never what it says; whoever uses them loads the text again and compares (`faulttree.mending`).
Lists of entries, findings and steps keep their order, because that order is meaning.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from faulttree.load.nodes import Items, Node, Scalar, Table
from faulttree.load.schema import TREE, schema_text
from faulttree.model import SIGNALS

OWN = "x-"
"""Keys that begin so are the author's own; nothing below them is touched."""

SWITCHES = frozenset({"yes", "no", "on", "off"})
"""Words that most readers of YAML 1.1 take for true or false; to us they are texts."""

KINDS_OF_STEP = ("check", "fix", "end", "again")
_TRAILING = re.compile(r"[ \t]+(?=\r?$)")


def without_trailing_blanks(text: str, root: Node) -> str:
    """No blanks at the ends of lines, but in texts of several lines; one line end at the end of the file."""
    lines = text.split("\n")
    kept = {line for scalar in _every(root) for line in range(scalar.span.line, scalar.span.end_line)}
    inside = kept | {scalar.span.end_line for scalar in _every(root) if _is_block(scalar, lines)}
    changed = [line if at in inside else _TRAILING.sub("", line) for at, line in enumerate(lines, 1)]
    end = "\r\n" if lines[0].endswith("\r") else "\n"
    return "\n".join(changed).rstrip("\r\n") + end


def _is_block(scalar: Scalar, lines: Sequence[str]) -> bool:
    return _written(scalar, lines)[:1] in ("|", ">")


def _written(scalar: Scalar, lines: Sequence[str]) -> str:
    """The characters of a scalar of one line; the first line of a longer one."""
    span = scalar.span
    line = lines[span.line - 1]
    return line[span.column - 1 : span.end_column - 1] if span.line == span.end_line else line[span.column - 1 :]


def _every(node: Node) -> Iterator[Scalar]:
    """Every text of the data in order, keys included, without what stands below the author's own keys."""
    if isinstance(node, Scalar):
        yield node
    elif isinstance(node, Items):
        for item in node.items:
            yield from _every(item)
    else:
        for name, (key, value) in node.entries.items():
            if not name.startswith(OWN):
                yield key
                yield from _every(value)


def with_quotes(text: str, root: Node, kind: str) -> str:
    """Words that other readers take for true or false stand in quotes, and quotes are double where that is the same.

    The format's own keys, such as `off`, stay as they are.
    """
    lines = text.split("\n")
    own = _keys_in(json.loads(schema_text(kind)))
    for scalar in reversed(list(_every(root))):
        span, written = scalar.span, _written(scalar, lines)
        if span.line != span.end_line or scalar.value in own or not _wants_quotes(scalar, written):
            continue
        line = lines[span.line - 1]
        lines[span.line - 1] = f'{line[: span.column - 1]}"{scalar.value}"{line[span.end_column - 1 :]}'
    return "\n".join(lines)


def _keys_in(schema: object) -> frozenset[str]:
    """Every key that a schema knows by name."""
    if isinstance(schema, list):
        return frozenset().union(*map(_keys_in, schema))
    if not isinstance(schema, dict):
        return frozenset()
    found = frozenset(schema["properties"]) if isinstance(schema.get("properties"), dict) else frozenset()
    return found.union(*map(_keys_in, schema.values()))


def _wants_quotes(scalar: Scalar, written: str) -> bool:
    if scalar.plain:
        return scalar.value.lower() in SWITCHES
    return written.startswith("'") and not any(sign in scalar.value for sign in '"\\') and scalar.value.isprintable()


# -- the order of keys


def with_key_order(text: str, root: Node, kind: str) -> str:
    """The keys of a file in the order of its schema; in a tree, the kind of each step before its other keys."""
    if not isinstance(root, Table) or root.flow:
        return text
    lines = text.split("\n")
    last = len(lines) - (1 if not lines[-1] else 0)
    starts = _starts(lines, root, 0)
    if kind == TREE:
        _kinds_first(lines, root, starts, last)
    order = {name: at for at, name in enumerate(json.loads(schema_text(kind))["properties"])}
    return "\n".join(_moved(lines, [*starts, last], _ranks(list(root.entries), order)))


def _ranks(names: Sequence[str], order: Mapping[str, int]) -> list[int]:
    """The places of the entries by the order; a key that the order does not know stays behind the one before it."""
    ranks, rank = [], -1
    for name in names:
        rank = order.get(name, rank)
        ranks.append(rank)
    return ranks


def _starts(lines: Sequence[str], table: Table, above: int) -> list[int]:
    """For each entry the index of its first line, with the comments over it; the first has those below ``above``.

    At the top of a file (``above`` 0) what stands over the first key belongs to the file and stays.
    """
    starts: list[int] = []
    for entry in table.entries.values():
        at = entry.key.span.line - 1
        while (starts or above) and at > above and _leads(lines[at - 1], entry.key.span.column):
            at -= 1
        starts.append(at)
    return starts


def _leads(line: str, column: int) -> bool:
    """Whether a line belongs to the key of that column below it: a blank line, or a comment not further in."""
    inner = line.lstrip(" ")
    return not inner.strip() or (inner.startswith("#") and len(line) - len(inner) < column)


def _moved(lines: list[str], bounds: Sequence[int], ranks: Sequence[int]) -> list[str]:
    """The lines with the pieces between the bounds put in the order of their ranks."""
    if list(ranks) == sorted(ranks):
        return lines
    pieces = [lines[start:end] for start, end in pairwise(bounds)]
    order = sorted(range(len(pieces)), key=lambda at: ranks[at])
    return [*lines[: bounds[0]], *(line for at in order for line in pieces[at]), *lines[bounds[-1] :]]


def _kinds_first(lines: list[str], root: Table, starts: Sequence[int], last: int) -> None:
    """Move, in each step, the key that says what it is before the others. Later steps first: no line number changes."""
    at = list(root.entries).index("steps") if "steps" in root.entries else None
    steps = root.entries["steps"].value if at is not None else None
    if at is None or not isinstance(steps, Table) or steps.flow:
        return
    end = starts[at + 1] if at + 1 < len(starts) else last
    bounds = [*_starts(lines, steps, root.entries["steps"].key.span.line), end]
    for (key, step), stop in reversed(list(zip(steps.entries.values(), bounds[1:], strict=True))):
        if isinstance(step, Table) and not step.flow:
            names = list(step.entries)
            column = next(iter(step.entries.values())).key.span.column
            while stop > key.span.line and _is_outside(lines[stop - 1], column):
                stop -= 1
            inner = [*_starts(lines, step, key.span.line), stop]
            lines[:] = _moved(lines, inner, [0 if name in KINDS_OF_STEP else 1 for name in names])


def _is_outside(line: str, column: int) -> bool:
    """Whether a line at the end of a step belongs to what follows it."""
    inner = line.lstrip(" ")
    return not inner.strip() or (inner.startswith("#") and len(line) - len(inner) < column - 1)


# -- the order of notices


def with_notice_order(text: str, root: Node, signals: Mapping[str, str]) -> str:
    """Warnings before cautions before notes in each list; ``signals`` has the signal word of each notice."""
    lines = text.split("\n")
    for above, items in reversed(list(_notice_lists(root))):
        names = [item.value for item in items.items if isinstance(item, Scalar)]
        if len(names) == len(items.items) and all(name in signals for name in names):
            ranks = [SIGNALS.index(signals[name]) for name in names]
            change = _in_brackets if items.flow else _in_lines
            change(lines, above, [item for item in items.items if isinstance(item, Scalar)], ranks)
    return "\n".join(lines)


def _notice_lists(node: Node) -> Iterator[tuple[int, Items]]:
    """Each list of notices with the line of its key."""
    if isinstance(node, Items):
        for item in node.items:
            yield from _notice_lists(item)
    elif isinstance(node, Table):
        for name, (key, value) in node.entries.items():
            if name == "notices" and isinstance(value, Items):
                yield key.span.line, value
            elif not name.startswith(OWN):
                yield from _notice_lists(value)


def _in_brackets(lines: list[str], above: int, items: Sequence[Scalar], ranks: Sequence[int]) -> None:
    """Put the names of ``[..]`` in order; one of several lines may have comments and is left."""
    if {item.span.line for item in items} != {above}:
        return
    written = [_written(item, lines) for item in items]
    order = sorted(range(len(items)), key=lambda at: ranks[at])
    for item, at in reversed(list(zip(items, order, strict=True))):
        line = lines[above - 1]
        lines[above - 1] = line[: item.span.column - 1] + written[at] + line[item.span.end_column - 1 :]


def _in_lines(lines: list[str], above: int, items: Sequence[Scalar], ranks: Sequence[int]) -> None:
    """Put the lines of a list in order, each with the comments over it."""
    places = [item.span.line for item in items]
    if len(set(places)) < len(places):
        return
    starts = []
    for place in places:
        at = place - 1
        while at > above and lines[at - 1].lstrip().startswith("#"):
            at -= 1
        starts.append(at)
    lines[:] = _moved(lines, [*starts, places[-1]], ranks)
