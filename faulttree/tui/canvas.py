"""What a page is made for."""

from __future__ import annotations

from typing import NamedTuple

from faulttree.tui.looks import Looks


class Canvas(NamedTuple):
    """What a page is made for: columns, rows, looks, and whether the walk is practice."""

    width: int
    height: int
    looks: Looks = Looks()
    practice: bool = False

    def less(self, rows: int) -> Canvas:
        """The same with so many rows taken up by something else."""
        return self._replace(height=self.height - rows)
