"""A limit has a unit that readings cannot be typed in.

Meaning:
    The unit of the limit is none of those that the program can read and convert.

Why:
    A reading is typed with its unit and converted to the unit of the limit. With a unit that is not known no reading
    could ever be taken, and the check could only be answered with unable.

Wrong:
    adjuster-thread-left:
      unit: turns

Right:
    adjuster-thread-left:
      unit: mm
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.problems import MoveError
from faulttree.rules.context import Hit, Shared


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each limit whose unit is not known."""
    for limit in shared.library.limits.values():
        if not _known(limit.unit):
            message = f'no reading can be typed in "{limit.unit}", the unit of "{limit.id}"'
            yield Hit(("limits", limit.id, "unit"), message, "write a unit such as mm, kg, N, N·m, V or s")


USUAL = frozenset({"mm", "N", "N·m", "V", "kg", "s", "min", "bar"})
"""Units that need no look into the table, which takes as long to load as many rules."""


def _known(unit: str) -> bool:
    if unit in USUAL:
        return True
    from faulttree.unit_table import UNITS
    from faulttree.units import unit_symbol

    try:
        return unit in UNITS or bool(unit_symbol(unit))
    except MoveError:
        return False
