"""What the lines of a journal say: the header of the walk, then one entry a move, to JSON and back."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import TypeVar

from faulttree.journal.chain import FORMAT, UPDATE, Fields, canonical, digest_of
from faulttree.keys import Kind, Move
from faulttree.problems import JournalError
from faulttree.value import EMPTY, Value, defaults, replace, stated
from faulttree.walk import Walk

Found = TypeVar("Found")


class Facts(Value):
    """What is said of a walk when it begins: whether it is practice; the aircraft, item and base, all optional."""

    practice: bool = False
    aircraft: str = ""
    item: str = ""
    base: str = ""


class Header(Value):
    """The first line. ``files`` has the SHA-256 of every file that the walk goes by, ``copy`` is their digest."""

    walk: str
    uuid: str
    at: str
    tree: str
    short: str
    symptom: str
    revision: int
    model: str
    program: str
    copy: str
    files: Mapping[str, str]
    facts: Facts = Facts()

    def to_json(self) -> dict[str, object]:
        """The header as the first line says it; facts that were not given are left out."""
        given = {key: value for key, value in stated(self.facts).items() if value or key == "practice"}
        own = {name: value for name, value in stated(self).items() if name != "facts"}
        return {"journal": FORMAT, "n": 0, **own, "files": dict(self.files), **given}


class Entry(Value):
    """A further line: a move, and how the walk stood after it.

    ``n`` is the length of the walk's log. ``passed`` says that the walk ended by an operational check that passed.
    """

    n: int
    at: str
    move: Move
    step: str
    stage: str
    role: str
    occupant: str
    open_items: tuple[str, ...]
    state: str
    ended: bool
    passed: bool
    files: Mapping[str, str] = EMPTY
    """Where the walk goes on with another revision: the SHA-256 of every file that it goes by from here on."""

    def to_json(self) -> dict[str, object]:
        """The entry as its line says it; files only where it has some."""
        own = {name: value for name, value in stated(self).items() if name != "files"}
        files = {"files": dict(self.files)} if self.files else {}
        return {**own, "move": move_to_json(self.move), "open_items": list(self.open_items), **files}


def timestamp(now: datetime.datetime) -> str:
    """ISO 8601 in UTC with its offset, to the millisecond: texts of one length, which sort as the times do."""
    return now.astimezone(datetime.UTC).isoformat(timespec="milliseconds")


def copy_digest(files: Mapping[str, str]) -> str:
    """The digest of a set of files, given their digests by name."""
    return digest_of(canonical(files))


def entry_of(walk: Walk, move: Move, at: str, files: Mapping[str, str] = EMPTY) -> Entry:
    """The entry of ``move``, which led to ``walk``; ``files`` where the walk goes by others from here on."""
    key = walk.key
    return Entry(
        n=len(walk.log),
        at=at,
        move=move,
        step=key.step,
        stage=str(key.phase.stage),
        role=key.role,
        occupant=key.occupant,
        open_items=tuple(sorted(key.open_items)),
        state=walk.state,
        ended=walk.ended,
        passed=walk.passed,
        files=files,
    )


def move_to_json(move: Move) -> dict[str, object]:
    """The move as JSON: its kind, and what it carries."""
    carried = {name: value for name, value in stated(move).items() if value and name != "kind"}
    said = {name: list(value) if isinstance(value, tuple) else value for name, value in carried.items()}
    return {"kind": str(move.kind), **said}


_EMPTY = defaults(Move)


def move_from_json(value: object) -> Move:
    """The move that `move_to_json` wrote. Raises JournalError where a kind or a field is not known."""
    if not isinstance(value, dict):
        raise JournalError("a move is not what a journal holds", UPDATE)
    kind = value.get("kind")
    if kind not in [str(each) for each in Kind]:
        raise JournalError(f'"{kind}" is no kind of move', UPDATE)
    carried = {str(name): _carried(str(name), each) for name, each in value.items() if name != "kind"}
    return replace(Move(Kind(kind)), **carried)


def _carried(name: str, value: object) -> object:
    if name not in _EMPTY:
        raise JournalError(f'"{name}" is nothing that a move carries', UPDATE)
    empty = _EMPTY[name]
    if isinstance(empty, tuple) and isinstance(value, list) and all(isinstance(each, str) for each in value):
        return tuple(value)
    if isinstance(empty, tuple) or type(value) is not type(empty):
        raise JournalError(f'"{name}" of a move is not what it can be', UPDATE)
    return value


def header_from_json(line: Fields) -> Header:
    """The header that a first line says. Raises JournalError where it is none."""
    files = _files(line)
    header = Header(
        files=files,
        revision=_get(line, "revision", int),
        facts=Facts(_get(line, "practice", bool), *(_of(line.get(key, ""), str, key) for key in _FACTS)),
        **{key: _get(line, key, str) for key in _TEXTS},
    )
    if copy_digest(files) != header.copy:
        raise JournalError('"copy" is not the digest of "files"', UPDATE)
    return header


_FACTS = ("aircraft", "item", "base")
_TEXTS = ("walk", "uuid", "at", "tree", "short", "symptom", "model", "program", "copy")


def entry_from_json(line: Fields) -> Entry:
    """The entry that a further line says. Raises JournalError where it is none."""
    move = move_from_json(line.get("move"))
    return Entry(
        n=_get(line, "n", int),
        at=_get(line, "at", str),
        move=move,
        step=_get(line, "step", str),
        stage=_get(line, "stage", str),
        role=_get(line, "role", str),
        occupant=_get(line, "occupant", str),
        open_items=tuple(_of(item, str, "open_items") for item in _get(line, "open_items", list)),
        state=_get(line, "state", str),
        ended=_get(line, "ended", bool),
        passed=_get(line, "passed", bool),
        files=_files(line) if move.kind == Kind.REVISED else EMPTY,
    )


def _files(line: Fields) -> dict[str, str]:
    return {name: _of(digest, str, "files") for name, digest in _get(line, "files", dict).items()}


def _get(line: Fields, key: str, kind: type[Found]) -> Found:
    return _of(line.get(key), kind, key)


def _of(value: object, kind: type[Found], key: str) -> Found:
    """The value where it is exactly of that kind: true is no number."""
    if type(value) is not kind:
        raise JournalError(f'"{key}" is missing or not what it can be', UPDATE)
    return value
