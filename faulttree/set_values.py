"""What a limit is set to, as its text has it: ``5``, ``4 to 5 mm``, ``4-5``, ``4 and 5``, ``−2``.

A comparison and the rules read the numbers here, so that none of them takes for a number what another does not.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from decimal import Decimal

_NUMBER = r"[-−]?\d+(?:\.\d+)?"
RANGE = rf"({_NUMBER})(?:\s*(?:to|and|[-−–])\s*({_NUMBER}))?"
"""Between two numbers a stroke is "to", in front of one it is its sign."""


class SetTo(NamedTuple):
    """The numbers in their order, both ends of a range among them, and the words besides."""

    numbers: tuple[Decimal, ...]
    words: str


@lru_cache(maxsize=256)
def set_to(text: str) -> SetTo:
    """The numbers that something is set to, and what else the text says; a figure of a name such as M3 is no number."""
    from decimal import Decimal

    pattern = re.compile(rf"(?<![\w.,]){RANGE}")
    numbers = [each for found in pattern.finditer(text) for each in found.groups() if each]
    return SetTo(tuple(Decimal(each.replace("−", "-")) for each in numbers), pattern.sub("", text).strip())
