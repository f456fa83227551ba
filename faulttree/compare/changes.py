"""Changes as data: what became different, where, on which models, and how much it weighs for a reviewer.

A change is *weaker* where something that protects became less: a warning, a role, a gate, a limit, a duty, a proof.
It is *to be judged* where what is done or decided differs and only somebody who knows the equipment can say which is
better. All else is *other*. Nothing is called stronger: that is for the reviewer to say.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from faulttree.value import Value, replace, stated

WEAKER = "weaker"
JUDGE = "to be judged"
OTHER = "other"
WEIGHTS = (WEAKER, JUDGE, OTHER)


class Found(NamedTuple):
    """A difference, without its place. In ``says`` each ``{}`` stands for one of ``names``, which come from files."""

    weight: str
    kind: str
    says: str
    names: tuple[str, ...] = ()
    before: str = ""
    after: str = ""


class Change(Value):
    """A difference at its place: ``tree`` is empty for a shared entry, ``subjects`` are the steps, or the one entry."""

    weight: str
    kind: str
    tree: str
    sort: str
    """What the subjects are: step, cause, tree, warning, limit ..."""
    subjects: tuple[str, ...]
    says: str
    names: tuple[str, ...] = ()
    before: str = ""
    after: str = ""
    models: tuple[str, ...] = ()
    """The models that it is about; empty where it is about all."""
    used_by: tuple[str, ...] | None = None
    """The trees that use the shared entry, before or after, and "inspection item X"; None where it is no such entry."""


def at(tree: str, sort: str, subject: str, found: Iterable[Found], model: str = "") -> Iterator[Change]:
    """What was found, as changes of one subject."""
    models = (model,) if model else ()
    for weight, kind, says, names, before, after in found:
        yield Change(weight, kind, tree, sort, (subject,), says, names, before, after, models)


def joined(changes: Iterable[Change], models: Sequence[str]) -> list[Change]:
    """The changes with equal ones joined: over models first, then over the steps that they are at."""
    over_models: dict[Change, list[str]] = {}
    for change in changes:
        over_models.setdefault(replace(change, models=()), []).extend(change.models)
    over_steps: dict[Change, list[str]] = {}
    for change, on in over_models.items():
        every = not on or set(on) >= set(models)
        key = replace(change, models=() if every else tuple(dict.fromkeys(on)), subjects=())
        # A way belongs to its step; what else is alike at many steps is told once.
        key = key if change.sort == "step" else replace(key, subjects=change.subjects)
        over_steps.setdefault(key, []).extend(change.subjects)
    return [replace(key, subjects=tuple(dict.fromkeys(subjects))) for key, subjects in over_steps.items()]


def in_order(changes: Iterable[Change]) -> list[Change]:
    """What weighs most first; otherwise as they come."""
    return sorted(changes, key=lambda change: WEIGHTS.index(change.weight))


def told(value: object) -> str:
    """A value of the model in words, to be shown before and after."""
    if value is None or value in ("", (), frozenset()):
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, Value):
        return told({name: each for name, each in stated(value).items() if each not in (None, "", (), {})})
    if isinstance(value, Mapping):
        return ", ".join(f"{name}: {told(each)}" for name, each in value.items()) or "nothing"
    if isinstance(value, frozenset):
        return ", ".join(sorted(map(str, value)))
    if isinstance(value, tuple | list):
        return ", ".join(map(told, value))
    return str(value)
