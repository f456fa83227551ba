"""Lines chained by digest.

A line is an object in canonical JSON: keys sorted, no blanks, UTF-8, no number that is not a number. It holds
under ``prev`` the digest of the line before (nothing at the first) and under ``digest`` its own: SHA-256 (FIPS
180-4) of that former digest, in hexadecimal, followed by the canonical JSON of the line without ``digest``.
A line that is not byte for byte the canonical JSON of what it says is damaged too.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any, NamedTuple

from faulttree.problems import JournalError

Fields = Mapping[str, Any]

FORMAT = 1
UPDATE = "use the version of faulttree that wrote it, or a later one"
KEEP = "keep the file as it is, and restore a good copy of it if there is one"


class Line(NamedTuple):
    """A whole line: its bytes with the newline, what it says, and its digest."""

    raw: bytes
    fields: Fields
    digest: str


class Chain(NamedTuple):
    """The whole lines, and what stands behind them where the last writing was cut off."""

    lines: tuple[Line, ...]
    torn: bytes


def canonical(fields: Fields) -> bytes:
    """The one way to write an object. Raises JournalError where a text has what is no character (half of a pair)."""
    text = json.dumps(fields, sort_keys=True, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    try:
        return text.encode()
    except UnicodeEncodeError:
        raise JournalError("the text has something in it that is no character", "type it again") from None


def digest_of(data: bytes) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def seal(fields: Fields, prev: str) -> Line:
    """The line that follows the line of digest ``prev``."""
    body = {**fields, "prev": prev}
    digest = digest_of(prev.encode() + canonical(body))
    sealed = {**body, "digest": digest}
    return Line(canonical(sealed) + b"\n", sealed, digest)


def read_chain(data: bytes, name: str) -> Chain:
    """The lines of a journal, each verified.

    A last line that has no newline or is not whole JSON is torn: a writing that was cut off. Any other damage
    raises JournalError with the number of the line, from 1, as does a whole last line with something behind it, for
    it may have been acknowledged; ``name`` is the file's, for the message.
    """
    *pieces, rest = data.split(b"\n")
    lines: list[Line] = []
    for at, piece in enumerate(pieces):
        fields = _parsed(piece)
        if fields is None and at == len(pieces) - 1 and not rest and _is_torn(piece):
            return Chain(tuple(lines), piece + b"\n")
        lines.append(_verified(piece, fields, lines, f'line {at + 1} of "{name}"'))
    if not _is_torn(rest):
        raise JournalError(f'line {len(lines) + 1} of "{name}" was changed after it was written', KEEP)
    return Chain(tuple(lines), rest)


def _parsed(piece: bytes) -> object:
    """What the piece says; None where it is not whole JSON."""
    try:
        value: object = json.loads(piece.decode())
    except (ValueError, RecursionError):
        return None
    return value


def _is_torn(piece: bytes) -> bool:
    """Whether no whole value stands at the beginning, or one with nothing behind it but what a disk left blank."""
    text = piece.decode(errors="replace")
    try:
        _, end = json.JSONDecoder().raw_decode(text)
    except (ValueError, RecursionError):
        return True
    return not text[end:].strip("\0")


def _verified(piece: bytes, fields: object, before: list[Line], place: str) -> Line:
    if not isinstance(fields, dict):
        raise JournalError(f"{place} is damaged: it is no line of a journal", KEEP)
    if not before:
        _check_format(fields, place)
    prev = before[-1].digest if before else ""
    body = {key: value for key, value in fields.items() if key not in ("prev", "digest")}
    if fields.get("prev") != prev:
        raise JournalError(f"{place} does not follow the line before it", KEEP)
    if not _is_sealed(piece, body, prev):
        raise JournalError(f"{place} was changed after it was written", KEEP)
    return Line(piece + b"\n", fields, str(fields["digest"]))


def _check_format(fields: Fields, place: str) -> None:
    """Whether a first line is one at all comes before its digest, so that a foreign file is not called damaged."""
    if "journal" not in fields:
        raise JournalError(f"{place} is not the beginning of a walk", "move the file to another folder")
    if fields["journal"] != FORMAT:
        raise JournalError(f"{place} is of another format than {FORMAT}, which this version reads", UPDATE)


def _is_sealed(piece: bytes, body: Fields, prev: str) -> bool:
    try:
        return seal(body, prev).raw == piece + b"\n"
    except (ValueError, RecursionError, JournalError):
        return False
