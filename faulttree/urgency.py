"""The urgencies of a library in their order, read without the rest of `library.yaml` where that is plain enough."""

from __future__ import annotations

import re
from pathlib import Path

from faulttree.library_files import LIBRARY_FILE, read_bytes

_BLOCK = re.compile(r"^urgencies:[ ]*\n((?:[ ]+[^\n]*\n|\n)+)", re.MULTILINE)
_KEY = re.compile(r"  ([A-Za-z0-9][A-Za-z0-9._-]*):(?: +(.*))?")
_PLAIN = re.compile(r"[A-Za-z0-9](?:[^:#]|:(?=\S)|(?<=\S)#)*")
_MORE = re.compile(r"    (\S.*)")
_FOLDED = (">", ">-")


class _Declined(Exception):
    """The block is not plain enough to be read line by line."""


def urgencies_of(folder: Path) -> dict[str, str]:
    """Urgency to what it means, most urgent first; empty where the file does not say."""
    data = read_bytes(folder / LIBRARY_FILE)
    try:
        return plain_urgencies(data)
    except (_Declined, UnicodeDecodeError):
        return urgencies_by_yaml(data)


def plain_urgencies(data: bytes) -> dict[str, str]:
    """The urgencies line by line: texts of one plain line, and texts folded by ``>``. Declines anything else."""
    text = data.decode().replace("\r\n", "\n") + "\n"
    blocks = _BLOCK.findall(text)
    if len(blocks) != 1 or text.count("\nurgencies") + text.startswith("urgencies") != 1:
        raise _Declined
    found: dict[str, list[str]] = {}
    for line in blocks[0].rstrip().split("\n"):
        _take(line.rstrip(), found)
    if not all(found.values()):
        raise _Declined
    return {key: " ".join(texts) for key, texts in found.items()}


def _take(line: str, found: dict[str, list[str]]) -> None:
    """Add a line: a key with its text, or more of a folded text."""
    key, more = _KEY.fullmatch(line), _MORE.fullmatch(line)
    if not line.isprintable() or (key and key[1] in found):
        raise _Declined
    if key and key[2] in _FOLDED:
        found[key[1]] = _Folded()
    elif key and _PLAIN.fullmatch(key[2] or ""):
        found[key[1]] = [key[2]]
    elif more and found and isinstance(last := found[next(reversed(found))], _Folded):
        last.append(more[1])
    else:
        raise _Declined


class _Folded(list[str]):
    """The lines of a text that is folded over lines."""


def urgencies_by_yaml(data: bytes) -> dict[str, str]:
    """The same, from the whole file read as YAML."""
    from faulttree.load.nodes import Scalar, Table
    from faulttree.load.parse import load

    root = load(data, LIBRARY_FILE).root
    entry = root.entries.get("urgencies") if isinstance(root, Table) else None
    if entry is None or not isinstance(entry.value, Table):
        return {}
    values = {name: each.value for name, each in entry.value.entries.items()}
    return {name: value.value.strip() for name, value in values.items() if isinstance(value, Scalar)}
