"""The digest of what a tree means: its steps, causes and words, and every shared entry that it uses.

A release states this digest. Whatever changes in meaning afterwards, in the tree or in an entry that it shares,
changes the digest, and the tree is a draft again. So does another revision of a document in `written_against`: whoever
releases answers for the tree having been read against it. Status, revision, dates, names of people and examples do not
count.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from faulttree.model import Library, Step, Tree
from faulttree.value import Value, stated

NOT_MEANING = frozenset({"status", "released", "revision", "date", "author", "cases", "operator"})
"""What does not count."""

BESIDE = "written_against"
"""What counts, but stands beside the rest, and only where it is stated: older digests were made without it."""

PLAIN_WITHOUT = NOT_MEANING | {BESIDE}
ALWAYS = frozenset({"roles", "occupant", "models"})
"""What every walk goes by, whether the tree names it or not."""

NOT_STATED: tuple[object, ...] = (None, "", (), {}, False, 0, frozenset())


def tree_digest(tree: Tree, library: Library) -> str:
    """SHA-256 in hexadecimal of the tree with all shared entries that it uses."""
    return _digest(tree, library, sorted(tree.written_against.items()))


def _digest(tree: Tree, library: Library, written: list[tuple[str, str]]) -> str:
    # Both are needed for released trees alone, and every check loads this module.
    import json
    from hashlib import sha256

    plain = _plain(tree)
    parts = [plain, _used(set(_texts(plain)), library)]
    # A tree that states no documents has the digest that it had before these counted.
    text = json.dumps(
        [*parts, written] if written else parts, sort_keys=True, ensure_ascii=False, separators=(",", ":")
    )
    return sha256(text.encode()).hexdigest()


OF_OLD = "DRAFT, TO BE RELEASED ANEW"
"""What a tree is called whose release was made when the documents that it was written against did not count."""


CHANGED = "DRAFT, CHANGED SINCE ITS RELEASE"
"""What a tree is called that is not any more what was released."""


def standing(tree: Tree, library: Library) -> str:
    """What the tree may call itself: its status, but a release whose digest does not fit is a draft again."""
    if tree.status != "released":
        return tree.status.upper()
    if tree.released is None:
        return "DRAFT, RELEASED BY NOBODY"
    if tree.released.digest == tree_digest(tree, library):
        return "RELEASED"
    return OF_OLD if tree.released.digest == _digest(tree, library, []) else CHANGED


KINDS = {
    "notices": "notices",
    "limits": "limits",
    "parts": "parts",
    "consumables": "consumables",
    "tools": "tools",
    "operational_checks": "operational checks",
    "accesses": "accesses",
    "open_items": "open items",
    "documents": "documents",
}
"""Fields of the library that a tree uses or does not, in words. Roles, models and urgencies are there in any case."""


def used_names(tree: Tree, library: Library) -> dict[str, frozenset[str]]:
    """By field of the library, the names of the shared entries that the tree uses: those that its digest is made of."""
    used = _used(set(_texts(_plain(tree))), library)
    return {field: frozenset(entries) for field, entries in used.items() if field not in ALWAYS}


def step_meaning(step: Step, library: Library) -> object:
    """What a step means with the shared entries that it uses: equal where nothing of it changed in meaning.

    Roles, models and the occupant are left out: who may do it, and with whom on it, is asked anew at each step.
    """
    plain = _plain(step)
    used = _used(set(_texts(plain)), library)
    return [type(step).__name__, plain, {field: entries for field, entries in used.items() if field not in ALWAYS}]


def _plain(value: object) -> object:
    """A frozen value as lists and mappings of texts and numbers."""
    if isinstance(value, Value):
        meant = ((name, each) for name, each in stated(value).items() if name not in PLAIN_WITHOUT)
        # What is not stated is left out, so that a key that the format gains later changes no digest.
        return {name: _plain(each) for name, each in meant if each not in NOT_STATED}
    if isinstance(value, Mapping):
        # Order is meaning: of findings, causes, models and roles.
        return [[key, _plain(each)] for key, each in value.items()]
    if isinstance(value, frozenset):
        return sorted(value)
    if isinstance(value, tuple | list):
        return [_plain(each) for each in value]
    return value


def _texts(plain: object) -> Iterator[str]:
    if isinstance(plain, str):
        yield plain
    elif isinstance(plain, dict):
        for value in plain.values():
            yield from _texts(value)
    elif isinstance(plain, list):
        for value in plain:
            yield from _texts(value)


def _used(named: set[str], library: Library) -> dict[str, dict[str, object]]:
    """The shared entries whose names stand in the tree, or in an entry that is used; more cannot be meant."""
    found: dict[str, dict[str, object]] = {}
    before = -1
    while before != sum(map(len, found.values())):
        before = sum(map(len, found.values()))
        for key, entries in stated(library).items():
            if key in ALWAYS:
                found[key] = {"": _plain(entries)}
            elif isinstance(entries, Mapping):
                chosen = {name: _plain(entry) for name, entry in entries.items() if name in named}
                found[key] = chosen
                named.update(_texts(list(chosen.values())))
    return found
