"""What a listing needs of a tree: the header alone, from the first lines of its file, without reading YAML if it can.

Most headers are plain: one key a line, sequences of plain items. These are read line by line in a few
microseconds. At anything else (quotes, several lines, unknown marks) the header is read as YAML like any file.
On sound files the two ways agree wherever the first does not decline, which a test shows.
"""

from __future__ import annotations

import re
from typing import Any, NamedTuple

END = b"causes:"
"""What the line after a header starts with."""

SINGLE = ("id", "symptom", "urgency", "revision", "status", "date")
LISTS = ("also", "equipment", "models")

_KEY = re.compile(r"([A-Za-z][A-Za-z0-9_-]*):(?: +(.*))?")
_COMMENT = re.compile(r"(?:^|\s)#.*")
_PLAIN = re.compile(r"[A-Za-z0-9](?:[^:#]|:(?=\S)|(?<=\S)#)*")
_FLOW_ITEM = re.compile(r"[A-Za-z0-9][^\[\]{},:#\"']*")
_ITEM = re.compile(r"( *)- +(.*)")
_NUMBER = re.compile(r"[1-9][0-9]{0,8}")
_OPENING = re.compile(r"(?:^|[\s\[{,:-])[\"'|>]")
"""The start of a text in quotes or in block form; an apostrophe inside a word is none."""


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
    key = indent = ""
    for line in head.replace("\r\n", "\n").split("\n"):
        line = _content(line)
        if not line:
            continue
        if line[0] not in " -":
            key, value = _key_line(line, seen)
            if key in LISTS:
                values[key] = _flow_items(value) if value else []
                indent = ""
            elif key in SINGLE:
                values[key] = _plain(value)
        elif key in LISTS:
            indent, item = _block_item(line, values[key], indent)
            values[key].append(item)
        elif key in SINGLE or not key:
            raise _Declined
    return values


def _content(line: str) -> str:
    """The line without its comment; declines what could go on over lines or hide something."""
    if "\t" in line or not line.isprintable() or line.startswith(("---", "...", "%")):
        raise _Declined
    content = _COMMENT.sub("", line, count=1).rstrip() if "#" in line else line.rstrip()
    if content.count("{") != content.count("}") or content.count("[") != content.count("]"):
        raise _Declined
    if _OPENING.search(content):
        raise _Declined
    return content


def _key_line(line: str, seen: set[str]) -> tuple[str, str]:
    match = _KEY.fullmatch(line)
    if not match or match[1] in seen:
        raise _Declined
    seen.add(match[1])
    return match[1], match[2] or ""


def _plain(value: str) -> str:
    if not _PLAIN.fullmatch(value):
        raise _Declined
    return value


def _flow_items(value: str) -> tuple[str, ...]:
    if value[0] != "[" or value[-1] != "]":
        raise _Declined
    items = tuple(item.strip() for item in value[1:-1].split(","))
    if not all(_FLOW_ITEM.fullmatch(item) for item in items):
        raise _Declined
    return items


def _block_item(line: str, before: object, indent: str) -> tuple[str, str]:
    """The indent and the text of an item; those before it, if any, have the same indent."""
    match = _ITEM.fullmatch(line)
    if not match or type(before) is not list or (before and match[1] != indent):
        raise _Declined
    return match[1], _plain(match[2])


def _header(values: dict[str, Any]) -> Header:
    """The header of plain values; declines where one is missing or not of its pattern."""
    from faulttree.load.patterns import MODEL, NAME, is_date

    texts = {key: values.get(key, "") for key in SINGLE}
    lists = {key: tuple(values.get(key, ())) for key in LISTS}
    well = NAME(texts["id"]) and NAME(texts["urgency"]) and is_date(texts["date"]) and texts["symptom"]
    number = texts["revision"]
    if not well or not _NUMBER.fullmatch(number) or not lists["equipment"]:
        raise _Declined
    if texts["status"] not in ("draft", "released", "withdrawn") or not all(map(MODEL, lists["models"])):
        raise _Declined
    if any(len(set(items)) < len(items) or (key in values and not items) for key, items in lists.items()):
        raise _Declined
    return Header(**(texts | lists | {"revision": int(number)}))


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
