"""Large letters: all there, of one size, none like another."""

from __future__ import annotations

from itertools import combinations

import pytest

from faulttree.check_characters import ALPHABET
from faulttree.present.letters import GLYPHS, HIGH, MOST, WIDE, large

CONFUSABLE = (
    "O0",
    "OQ",
    "OD",
    "D0",
    "Q0",
    "1I",
    "1L",
    "IL",
    "17",
    "5S",
    "2Z",
    "8B",
    "6G",
    "UV",
    "VY",
    "MN",
    "PR",
    "FP",
)
"""What is mistaken for one another in print: common practice, no source."""

MIRRORED = "AHIMOTUVWXY"
TURNED = "HINOSXZ0"
"""Letters that look the same upside down."""


def cells(character: str) -> str:
    return "".join(GLYPHS[character])


def differing(one: str, other: str) -> int:
    return sum(a != b for a, b in zip(cells(one), cells(other), strict=True))


def test_every_sign_of_a_code_is_there_and_of_one_size() -> None:
    assert set(GLYPHS) == set(ALPHABET) == set("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789")
    for rows in GLYPHS.values():
        assert [len(row) for row in rows] == [WIDE] * HIGH == [5] * 5
        assert set("".join(rows)) == {"#", "."}


def test_none_is_like_another() -> None:
    near = {one + other: differing(one, other) for one, other in combinations(GLYPHS, 2)}
    assert min(near.values()) >= 2
    for pair in CONFUSABLE:
        assert differing(*pair) >= 3, pair


def test_each_fills_its_height_and_stands_in_its_middle() -> None:
    """No row and no middle column is empty, so that signs side by side stay apart and in line."""
    for character, rows in GLYPHS.items():
        assert all("#" in row for row in rows), character
        assert any("#" in row[2] for row in rows), character


def test_what_is_symmetric_is_drawn_so() -> None:
    for character in MIRRORED:
        assert [row[::-1] for row in GLYPHS[character]] == list(GLYPHS[character]), character
    for character in TURNED:
        assert cells(character)[::-1] == cells(character), character


def test_the_zero_is_slashed_and_the_o_is_not() -> None:
    slash = [GLYPHS["0"][row][4 - row] for row in (1, 2, 3)]
    assert slash == ["#", "#", "#"]
    assert [GLYPHS["O"][row][1:4] for row in (1, 2, 3)] == ["...", "...", "..."]


def test_a_group_is_five_lines_with_a_column_between() -> None:
    assert large("L1") == (
        "#       #  ",
        "#      ##  ",
        "#       #  ",
        "#       #  ",
        "#####  ### ",
    )  # fmt: skip
    assert large("") == ("",) * HIGH
    for text in ("R", "REL7", "REL7K1P2"):
        assert {len(line) for line in large(text)} == {len(text) * 6 - 1}


@pytest.mark.parametrize(("ink", "paper"), [("█", "·"), ("██", "  "), ("# ", "  "), (".", "#")])
def test_ink_and_paper_are_what_a_cell_is_drawn_with(ink, paper) -> None:
    plain = large("Q0")
    drawn = large("Q0", ink, paper)
    for row, line in zip(plain, drawn, strict=True):
        assert line == "".join(ink if cell == "#" else paper for cell in row)


@pytest.mark.parametrize("text", ["a", "Ä", "-", " ", "REL-", "١", "🚁"])
def test_what_cannot_be_drawn_is_refused(text) -> None:
    with pytest.raises(ValueError, match="cannot be drawn large"):
        large(text)


def test_too_many_and_unequal_cells_are_refused() -> None:
    assert large("A" * MOST)
    with pytest.raises(ValueError, match="more than 8"):
        large("A" * (MOST + 1))
    for ink, paper in (("", ""), ("##", " ")):
        with pytest.raises(ValueError, match="equally wide"):
            large("A", ink, paper)
