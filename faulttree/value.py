"""Dataclasses that never change, made without generated code.

``dataclass(frozen=True)`` writes and compiles six functions for each class, which for the forty classes of the model
takes longer than Python's own start. Here all classes share them: fields, ``replace`` and ``is_dataclass`` are those
of the standard library.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, FrozenInstanceError, dataclass, field, fields
from functools import cache
from typing import Any, TypeVar, dataclass_transform

Made = TypeVar("Made")


class Value:
    """Immutable, equal by kind and fields, hashable where all fields are. Whoever derives from it uses ``value``."""

    def __init__(self, *given: Any, **named: Any) -> None:
        every, by_place, defaults = _layout(type(self))
        placed = dict(zip(by_place, given, strict=False))
        values = {**defaults, **placed, **named}
        if len(given) > len(by_place) or placed.keys() & named.keys() or values.keys() != every.keys():
            raise TypeError(_misfit(type(self), given, named))
        self.__dict__.update(values)

    def __setattr__(self, name: str, new: object) -> None:
        raise FrozenInstanceError(f"cannot assign to field {name!r}")

    def __delattr__(self, name: str) -> None:
        raise FrozenInstanceError(f"cannot delete field {name!r}")

    def __eq__(self, other: object) -> bool:
        return self.__dict__ == other.__dict__ if other.__class__ is self.__class__ else NotImplemented

    def __hash__(self) -> int:
        return hash(tuple(getattr(self, name) for name in _layout(type(self))[0]))

    def __repr__(self) -> str:
        stated = (f"{name}={getattr(self, name)!r}" for name in _layout(type(self))[0])
        return f"{type(self).__qualname__}({', '.join(stated)})"


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def value(*, kw_only: bool = False) -> Callable[[type[Made]], type[Made]]:
    """Makes a subclass of ``Value`` a dataclass whose functions are those of ``Value``."""
    return dataclass(init=False, repr=False, eq=False, kw_only=kw_only)


def _find_layout(kind: Any) -> tuple[dict[str, None], tuple[str, ...], dict[str, Any]]:
    """The names of all fields, of those that may be given by place, and the defaults; these are shared, as none
    is ever changed."""
    every = fields(kind)
    defaults = {each.name: each.default for each in every if each.default is not MISSING}
    made = {each.name: each.default_factory() for each in every if each.default_factory is not MISSING}
    by_place = tuple(each.name for each in every if not each.kw_only)
    return dict.fromkeys(each.name for each in every), by_place, {**defaults, **made}


_layout: Callable[[type], tuple[dict[str, None], tuple[str, ...], dict[str, Any]]] = cache(_find_layout)
"""Named as a plain function of a class, since a class with a hash of its own is taken for one that has none."""


def _misfit(kind: Any, given: tuple[Any, ...], named: dict[str, Any]) -> str:
    every, by_place, defaults = _layout(kind)
    placed = by_place[: len(given)]
    missing = [name for name in every if name not in {*placed, *named, *defaults}]
    unknown = [name for name in named if name not in every or name in placed]
    return f"{kind.__name__}: missing {missing}, unknown or twice {unknown}, {len(given)} of {len(by_place)} by place"
