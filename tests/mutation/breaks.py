"""The list of breaks, and how a break is entered into it: what it is called, whether it weakens, where it can be made.

They stand by meaning: of a tree's file in `gates`, `headers`, `ways`, `causes` and `work`, of shared ones in
`shared_breaks`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from .places import Ground, Places


class Break(NamedTuple):
    """A way to break a tree. Where it ``weakens``, the comparison alone has to tell that something became weaker."""

    name: str
    weakens: bool
    places: Callable[[Ground], Places]


BREAKS: list[Break] = []


def breaks(name: str, weakens: bool = False) -> Callable[[Callable[[Ground], Places]], Callable[[Ground], Places]]:
    """Enters a break into the list."""

    def enter(places: Callable[[Ground], Places]) -> Callable[[Ground], Places]:
        BREAKS.append(Break(name, weakens, places))
        return places

    return enter
