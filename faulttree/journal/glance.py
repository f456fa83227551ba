"""A journal looked at for a list: its chain verified by the bytes, its first and its last line read.

Reading each line of each journal takes most of a list's time. A line that is canonical has its own digest as the second
of its names, so what the digest was made of is the line without it: the chain is verified without reading what the
lines between say. Whatever is not plainly so is left to the full reading, which says what is wrong.
"""

from __future__ import annotations

import json
import re
from hashlib import sha256
from typing import NamedTuple

from faulttree.journal.chain import FORMAT, seal
from faulttree.journal.lines import Entry, Header, entry_from_json, header_from_json
from faulttree.problems import JournalError

_ENTRY = re.compile(rb'\{"at":"[^"\\]*",("digest":"([0-9a-f]{64})",)"ended":')
_NUMBER = re.compile(rb'"n":([0-9]{1,9}),')
_KIND = re.compile(rb'"kind":"([^"\\]*)"')


class Glance(NamedTuple):
    """What a list says of a walk: its header, how it stands, and how many moves were made."""

    header: Header
    last: Entry
    moves: int


def glance(data: bytes, kinds: frozenset[bytes]) -> Glance | None:
    """What a whole journal says, its chain verified; None where it has to be read in full to say what it is.

    ``kinds`` are the moves that are known. A quotation mark inside a text is written with a backslash before it, so
    names of a line's fields are found in its bytes and never in what somebody wrote.
    """
    first, *lines = data.split(b"\n")
    if len(lines) < 2 or lines.pop():
        return None
    prev = _sealed(first)
    number = 0
    for at, line in enumerate(lines):
        entry, count, kind = _ENTRY.match(line), _NUMBER.search(line), _KIND.search(line)
        if not (prev and entry and count and kind) or kind[1] not in kinds or b'"prev":"%b"' % prev not in line:
            return None
        body = line[: entry.start(1)] + line[entry.end(1) :]
        if sha256(prev + body).hexdigest().encode() != entry[2] or (at > 0 and int(count[1]) != number + 1):
            return None
        prev, number = entry[2], int(count[1])
    try:
        return Glance(header_from_json(json.loads(first)), entry_from_json(json.loads(lines[-1])), len(lines))
    except (ValueError, JournalError):
        return None


def _sealed(first: bytes) -> bytes:
    """The digest of a first line of this format that is as it was sealed; empty where it is not."""
    try:
        fields = json.loads(first)
        if not isinstance(fields, dict) or fields.get("journal") != FORMAT or fields.get("prev") != "":
            return b""
        line = seal({name: value for name, value in fields.items() if name not in ("prev", "digest")}, "")
    except (ValueError, RecursionError, JournalError):
        return b""
    return line.digest.encode() if line.raw == first + b"\n" else b""
