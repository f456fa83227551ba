"""Long texts: what is looked for in them takes a time that grows with their length, not with its square."""

from __future__ import annotations

from time import process_time

import pytest

from faulttree.rules.context import Shared
from faulttree.rules.prose import INSTRUCTION, Prose, Text
from faulttree.rules.unit_missing import check_library


@pytest.mark.parametrize("piece", ["1; ", "1, ", "wheel 1 and ", "turn 2 to "])
def test_numbers_in_a_long_text(piece: str) -> None:
    """40 kB took 20 s when all that stands before each number was read anew; a second is still generous."""
    text = piece * (40_000 // len(piece))
    shared = Shared.__new__(Shared)
    shared.__dict__["prose"] = Prose([text], lambda: [Text(("notices", "a"), text, INSTRUCTION)])
    began = process_time()
    list(check_library(shared))
    assert process_time() - began < 2
