"""Where a tree's documents can be broken: steps by kind, ways by answer, and what the tree uses of the library."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

from faulttree.model import Library, Tree

from .documents import Docs

Act = Callable[[], object]
Places = Iterator[tuple[str, Act]]


class Ground(NamedTuple):
    """What a break works on: documents that it may change, and what they meant while they were whole."""

    docs: Docs
    library: Library
    tree: Tree
    used: dict[str, frozenset[str]]

    @property
    def root(self) -> dict[str, Any]:
        return self.docs["tree"]

    @property
    def first(self) -> str:
        return self.library.first_role

    def steps(self, *kinds: str) -> Iterator[tuple[str, dict[str, Any]]]:
        """Steps that have one of these keys: check, fix, end, again."""
        for name, step in self.root["steps"].items():
            if not kinds or any(kind in step for kind in kinds):
                yield name, step

    def causes(self) -> Iterator[tuple[str, dict[str, Any]]]:
        yield from self.root["causes"].items()

    def is_stop(self, name: object) -> bool:
        step = self.root["steps"].get(name, {}) if isinstance(name, str) else {}
        return step.get("end") in ("out of service", "hand over")

    def entries(self, field: str, kind: str, key: str) -> Iterator[tuple[str, Any]]:
        """The shared entries of a kind that the tree uses."""
        for name, entry in self.docs.get(kind, {}).get(key, {}).items():
            if name in self.used.get(field, ()):
                yield name, entry

    def shared(self, field: str) -> Iterator[tuple[str, Any]]:
        """The entries of a field of the library that the tree uses, wherever they stand."""
        home = {
            "notices": "notices", "limits": "limits", "parts": "parts", "consumables": "parts", "tools": "tools",
            "operational_checks": "operational-checks", "inspection": "inspection",
        }.get(field, "library")  # fmt: skip
        yield from self.entries(field, home, field)


def without(owner: Any, key: Any) -> Act:
    """Takes an entry out of a mapping or a list, and the mapping's key with the last of its entries."""
    return lambda: owner.pop(key)


def put(owner: Any, key: Any, value: Any) -> Act:
    return lambda: owner.__setitem__(key, value)


def less(owner: dict[str, Any], key: str, at: Any) -> Act:
    """Takes one entry out of the collection under a key; an empty collection is no value, so it goes as well."""

    def act() -> None:
        owner[key].pop(at)
        if not owner[key]:
            del owner[key]

    return act


def swapped(owner: Any, one: Any, other: Any) -> Act:
    def act() -> None:
        owner[one], owner[other] = owner[other], owner[one]

    return act


def each_in(owner: dict[str, Any], key: str) -> Iterator[Any]:
    """The indexes or keys of a collection under a key; nothing where it is a single text."""
    value = owner.get(key)
    if isinstance(value, list):
        yield from range(len(value))
    elif isinstance(value, dict):
        yield from value


class Way(NamedTuple):
    """A way out of a step: the answer, where it leads, and how to lead it elsewhere."""

    step: str
    answer: str
    to: str
    lead: Callable[[str], object]


def ways(ground: Ground) -> Iterator[Way]:
    """Every way that is written as one name for all models."""
    for name, step in ground.steps():
        findings = step.get("findings")
        for label, value in findings.items() if isinstance(findings, dict) else ():
            if isinstance(value, str):
                yield Way(name, label, value, lambda to, f=findings, key=label: f.__setitem__(key, to))
            elif isinstance(value.get("goto"), str):
                yield Way(name, label, value["goto"], lambda to, v=value: v.__setitem__("goto", to))
        for answer in ("unable", "failed", "cannot"):
            value = step.get(answer)
            if isinstance(value, str):
                yield Way(name, answer, value, lambda to, s=step, key=answer: s.__setitem__(key, to))
            elif isinstance(value, dict) and isinstance(value.get("to"), str):
                yield Way(name, answer, value["to"], lambda to, v=value: v.__setitem__("to", to))


def later(ground: Ground, name: str) -> list[str]:
    """The steps that a way from ``name`` comes to, nearest first: leading there makes no circle."""
    following: dict[str, list[str]] = {}
    for way in ways(ground):
        following.setdefault(way.step, []).append(way.to)
    found, waiting = {name: None}, [name]
    for each in waiting:
        for to in following.get(each, ()):
            if to not in found:
                found[to] = None
                waiting.append(to)
    return list(found)[1:]


def longer(text: str) -> str:
    """A longer interval, as somebody would write it: ``1 month`` becomes ``2 months``, ``daily`` becomes ``weekly``."""
    if "daily" in text:
        return text.replace("daily", "weekly")
    doubled = re.sub(r"([0-9]+)(-hour)?", lambda found: f"{int(found[1]) * 2}{found[2] or ''}", text)
    plural = re.sub(r"([0-9]+ )(minute|hour|day|week|month|year)\b", r"\1\2s", doubled)
    return plural if plural != text else "every 10 years"
