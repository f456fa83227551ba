"""What a listing needs of a tree: the header alone, from the first lines of its file, without reading YAML if it can.

Most headers are plain: one key a line, sequences of plain items. These are read line by line in a few
microseconds. At anything else (quotes, several lines, unknown marks) the header is read as YAML like any file.
On sound files the two ways agree wherever the first does not decline, which a test shows.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from faulttree.dates import is_date

END = b"causes:"
"""What the line after a header starts with."""

SINGLE = ("id", "symptom", "urgency", "revision", "status", "date")
LISTS = ("also", "equipment", "models")
STATUSES = ("draft", "released", "withdrawn")

_NOT_IN_FLOW = frozenset("[]{},:#\"'")
_ENDS_OF_BLOCK_MARK = "-+123456789"


class Header(NamedTuple):
    """The part of a header that listings show. Without ``models`` the tree is for all models of the library."""

    id: str
    symptom: str
    also: tuple[str, ...]
    equipment: tuple[str, ...]
    urgency: str
    models: tuple[str, ...]
    revision: int
    status: str
    date: str


class _Declined(Exception):
    """The header is not plain enough to be read line by line."""


def read_header(data: bytes) -> Header | None:
    """The header of a tree, from the first bytes of its file or from all of them; None where it cannot be read."""
    head = _head_of(data)
    try:
        return _header(_plain_values(head.decode()))
    except (_Declined, UnicodeDecodeError):
        return _read_as_yaml(head)


def has_end(data: bytes) -> bool:
    """Whether the first bytes of a file hold the whole header."""
    return b"\n" + END in data


def _head_of(data: bytes) -> bytes:
    """What stands before the line that starts with `causes:`."""
    return b"" if data.startswith(END) else data.partition(b"\n" + END)[0].removesuffix(b"\r")


# -- line by line


def _plain_values(head: str) -> dict[str, Any]:
    """The wanted values by key, texts as they stand; raises ``_Declined``."""
    values: dict[str, Any] = {}
    seen: set[str] = set()
    key, indent = "", 0
    for line in _lines(head):
        if line[0] not in " -":
            key, value = _key_line(line, seen)
            if key in LISTS:
                values[key] = _flow_items(value) if value else []
            elif key in SINGLE:
                values[key] = _plain(value)
        elif key in LISTS:
            indent, item = _block_item(line, values[key], indent)
            values[key].append(item)
        elif key in SINGLE or not key:
            raise _Declined
    return values


def _lines(head: str) -> Iterator[str]:
    """The lines without comments, without those that are empty then, and without the lines of texts in block form."""
    block = -1
    for line in head.replace("\r\n", "\n").split("\n"):
        indent = len(line) - len(line.lstrip(" "))
        if block >= 0 and (indent > block or indent == len(line)):
            continue
        block = -1
        content = _content(line)
        if content:
            yield content
            if _starts_block(content):
                block = _column(content)


def _starts_block(content: str) -> bool:
    """Whether the value of a line is a text in block form, which the next lines hold."""
    mark = content.rstrip(_ENDS_OF_BLOCK_MARK)
    return mark[-1:] in ("|", ">") and mark[:-1].rstrip(" ")[-1:] in (":", "-")


def _column(content: str) -> int:
    """How far the key or value of a line is indented, dashes of items included."""
    at = 0
    while content[at] == " " or content[at : at + 2] == "- ":
        at += 1
    return at


def _content(line: str) -> str:
    """The line without its comment; declines what could go on over lines or hide something."""
    if "\t" in line or not line.isprintable() or line.startswith(("---", "...", "%")):
        raise _Declined
    content = "" if line.lstrip(" ")[:1] == "#" else line.partition(" #")[0].rstrip(" ")
    if content.count("{") != content.count("}") or content.count("[") != content.count("]"):
        raise _Declined
    if ('"' in content or "'" in content) and _is_open(content):
        raise _Declined
    return content


def _is_open(content: str) -> bool:
    """Whether a text in quotes may start on the line and not end on it; an apostrophe inside a word starts none."""
    import re

    closed = re.sub(r"""(?<![^\s\[{,:-])(?:"[^"\\]*"|'[^']*')""", "", content)
    return bool(re.search(r"""(?:^|[\s\[{,:-])["']""", closed))


def _key_line(line: str, seen: set[str]) -> tuple[str, str]:
    """The key and the value of a line at the margin."""
    key, colon, value = line.partition(":")
    well = colon and key.isascii() and key.replace("-", "_").isidentifier() and value[:1] in ("", " ")
    if not well or key in seen:
        raise _Declined
    seen.add(key)
    return key, value.lstrip(" ")


def _plain(value: str) -> str:
    """The value, if it is a text in plain form on one line."""
    first = value[:1]
    if not (first.isascii() and first.isalnum()) or ": " in value or value[-1] == ":":
        raise _Declined
    return value


def _flow_items(value: str) -> tuple[str, ...]:
    if value[0] != "[" or value[-1] != "]":
        raise _Declined
    items = tuple(_plain(item.strip(" ")) for item in value[1:-1].split(","))
    if any(not _NOT_IN_FLOW.isdisjoint(item) for item in items):
        raise _Declined
    return items


def _block_item(line: str, before: object, indent: int) -> tuple[int, str]:
    """The indent and the text of an item; those before it, if any, have the same indent."""
    item = line.lstrip(" ")
    own = len(line) - len(item)
    if item[:2] != "- " or type(before) is not list or (before and own != indent):
        raise _Declined
    return own, _plain(item[2:].lstrip(" "))


def _header(values: dict[str, Any]) -> Header:
    """The header of plain values; declines where one is missing or not as it should be."""
    texts = {key: values.get(key, "") for key in SINGLE}
    lists = {key: tuple(values.get(key, ())) for key in LISTS}
    number = texts["revision"]
    well = (
        _is_name(texts["id"], "._-")
        and _is_name(texts["urgency"], "._-")
        and all(_is_name(model, "-") and model[0].isupper() for model in lists["models"])
        and is_date(texts["date"])
        and texts["symptom"]
        and texts["status"] in STATUSES
        and number.isascii()
        and number.isdigit()
        and number[0] != "0"
        and len(number) < 10
        and lists["equipment"]
        and all(len(set(items)) == len(items) and (items or key not in values) for key, items in lists.items())
    )
    if not well:
        raise _Declined
    return Header(**(texts | lists | {"revision": int(number)}))


def _is_name(text: str, others: str) -> bool:
    """Whether a text has at most 40 characters, letters, digits and ``others``; the first is no other."""
    kept = text.translate(dict.fromkeys(map(ord, others)))
    return text.isascii() and text[:1].isalnum() and kept.isalnum() and len(text) <= 40


# -- as YAML


def _read_as_yaml(head: bytes) -> Header | None:
    from faulttree.load.fields import ShapeError
    from faulttree.load.keys_tree import HEADER_KEYS
    from faulttree.load.nodes import Table
    from faulttree.load.parse import load
    from faulttree.problems import ERROR

    root, _, problems = load(head, "")
    if not isinstance(root, Table) or any(problem.severity == ERROR for problem in problems):
        return None
    values: dict[str, Any] = dict.fromkeys(LISTS, ())
    try:
        for key in (key for key in (*SINGLE, *LISTS) if key in root.entries):
            values[key] = HEADER_KEYS.readers[key](root.entries[key].value)
    except ShapeError:
        return None
    return Header(**values) if values.keys() >= set(SINGLE) and values["equipment"] else None
