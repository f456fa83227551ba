"""Values: frozen records of named fields, declared as dataclasses are, made without generated code.

``dataclass(frozen=True)`` writes and compiles six functions for each class, and the module itself loads the parser of
Python; for the some fifty classes of the core that takes twice as long as Python's own start. Here all classes share
their functions. A type checker sees them as frozen dataclasses.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar, TypeVar, dataclass_transform

Made = TypeVar("Made", bound="Value")

EMPTY: Mapping[str, Any] = {}
"""The default of a field that holds a mapping; shared, as nothing in a value is ever changed."""


@dataclass_transform(frozen_default=True)
class Value:
    """Immutable, equal by kind and fields, hashable where all fields are.

    A subclass declares its fields as annotations, with defaults where they need not be given; with ``kw_only`` they
    are given by name. ``TypeError`` where what is given does not fit, ``AttributeError`` where a field would change.
    """

    _every: ClassVar[tuple[str, ...]] = ()
    _names: ClassVar[frozenset[str]] = frozenset()
    _by_place: ClassVar[tuple[str, ...]] = ()
    _defaults: ClassVar[Mapping[str, Any]] = {}

    def __init_subclass__(cls, *, kw_only: bool = False) -> None:
        super().__init_subclass__()
        own = list(cls.__annotations__)
        cls._every = tuple(dict.fromkeys((*cls._every, *own)))
        cls._names = frozenset(cls._every)
        cls._by_place = () if kw_only else cls._every
        cls._defaults = {**cls._defaults, **{name: cls.__dict__[name] for name in own if name in cls.__dict__}}

    def __init__(self, /, *given: Any, **named: Any) -> None:
        values = self.__dict__
        values.update(self._defaults)
        values.update(zip(self._by_place, given, strict=False))
        values.update(named)
        twice = given and named and not named.keys().isdisjoint(self._by_place[: len(given)])
        if twice or values.keys() != self._names or len(given) > len(self._by_place):
            raise TypeError(_misfit(type(self), given, named))

    def __setattr__(self, name: str, new: object) -> None:
        raise AttributeError(f'cannot change "{name}" of a {type(self).__name__}')

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f'cannot take out "{name}" of a {type(self).__name__}')

    def __eq__(self, other: object) -> bool:
        if other.__class__ is not self.__class__:
            return NotImplemented
        # More than the fields may stand in the dictionaries: what was computed once.
        return all(getattr(self, name) == getattr(other, name) for name in self._every)

    def __hash__(self) -> int:
        return hash(tuple(getattr(self, name) for name in self._every))

    def __repr__(self) -> str:
        stated = (f"{name}={getattr(self, name)!r}" for name in self._every)
        return f"{type(self).__qualname__}({', '.join(stated)})"


def field_names(kind: type[Value]) -> tuple[str, ...]:
    """The names of the fields of ``kind``, those of its base first."""
    return kind._every


def stated(value: Value) -> dict[str, Any]:
    """The fields of a value by name."""
    return {name: getattr(value, name) for name in value._every}


def replace(value: Made, /, **changes: Any) -> Made:
    """The value with some fields changed."""
    return type(value)(**{**stated(value), **changes})


def defaults(kind: type[Value]) -> dict[str, Any]:
    """The fields of ``kind`` that need not be given, to be changed and given to ``construct``."""
    return dict(kind._defaults)


def construct(kind: type[Made], values: dict[str, Any]) -> Made:
    """The value that has these fields: each once, none besides, unchecked.

    For a thousand trees have a hundred thousand steps and findings to make; a test compares it with the class itself.
    """
    instance = object.__new__(kind)
    instance.__dict__.update(values)
    return instance


def _misfit(kind: type[Value], given: tuple[Any, ...], named: dict[str, Any]) -> str:
    placed = kind._by_place[: len(given)]
    missing = [name for name in kind._every if name not in {*placed, *named, *kind._defaults}]
    unknown = [name for name in named if name not in kind._every or name in placed]
    by_place = f"{len(given)} of {len(kind._by_place)} by place"
    return f"{kind.__name__}: missing {missing}, unknown or twice {unknown}, {by_place}"
