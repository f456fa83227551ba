"""Values of the model made at once instead of field by field.

The `__init__` of a frozen dataclass sets one field after the other. For the many fields of a step that takes six
times as long, and a thousand trees have a hundred thousand steps and findings. A test compares both ways.
"""

from __future__ import annotations

from dataclasses import MISSING, fields
from functools import cache
from typing import Any, TypeVar

Made = TypeVar("Made")


@cache
def _defaults(kind: type) -> dict[str, Any]:
    """The fields of a dataclass that need not be given, with their values; shared, since the model is never changed."""
    values: dict[str, Any] = {}
    for field in fields(kind):
        if field.default is not MISSING:
            values[field.name] = field.default
        elif field.default_factory is not MISSING:
            values[field.name] = field.default_factory()
    return values


def defaults(kind: type) -> dict[str, Any]:
    """The fields of ``kind`` that need not be given, to be changed and given to ``construct``."""
    return _defaults(kind).copy()


def construct(kind: type[Made], values: dict[str, Any]) -> Made:
    """The instance of the frozen dataclass ``kind`` that has these values: one for each field, none besides."""
    instance = object.__new__(kind)
    instance.__dict__.update(values)
    return instance
