"""From text to model: YAML with positions, shape, model.

``build_library`` and ``build_tree`` make the model of what ``parse.load`` has read; ``read_header`` reads what
listings need and no more. What is asked for is imported when it is asked for: a listing needs
neither YAML nor the model.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from faulttree.load.build import build_library, build_tree
    from faulttree.load.header import Header, read_header
    from faulttree.load.parse import load

__all__ = ["Header", "build_library", "build_tree", "load", "read_header"]

_HOMES = {
    "Header": "header",
    "build_library": "build",
    "build_tree": "build",
    "load": "parse",
    "read_header": "header",
}


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
