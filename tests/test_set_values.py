"""What a limit is set to, read in one way for every rule and for the comparison."""

from __future__ import annotations

from decimal import Decimal

import pytest

from faulttree.set_values import set_to


@pytest.mark.parametrize(
    ("text", "numbers", "words"),
    [
        ("4", ["4"], ""),
        ("2.50 mm", ["2.50"], "mm"),
        ("5mm", ["5"], "mm"),
        ("4 to 5", ["4", "5"], ""),
        ("4-9", ["4", "9"], ""),
        ("4 - 9 N", ["4", "9"], "N"),
        ("4–9", ["4", "9"], ""),
        ("4−9", ["4", "9"], ""),
        ("4 and 9", ["4", "9"], ""),
        ("-4", ["-4"], ""),
        ("−4 to −2", ["-4", "-2"], ""),
        ("-4--2", ["-4", "-2"], ""),
        ("-1 to 1 mm", ["-1", "1"], "mm"),
        ("flush", [], "flush"),
        ("as the M3 screw", [], "as the M3 screw"),
        ("", [], ""),
    ],
)
def test_numbers_and_words(text: str, numbers: list[str], words: str) -> None:
    assert set_to(text) == (tuple(map(Decimal, numbers)), words)


def test_each_of_several_is_read() -> None:
    assert set_to("4 to 5 new, 6 worn").numbers == (4, 5, 6)
