"""What a line of `may` allows to fit or to use: the object of its verb, and nothing that only stands near."""

from __future__ import annotations

import pytest

from faulttree.rules.listed_work import named_in
from faulttree.rules.words import FITS, USES


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("Change the tape on the wheel.", "Tape"),
        ("Change the tape without removing the strap.", "Tape"),
        ("Replace the label of the battery.", "Label"),
        ("Change the batteries.", "Battery"),
        ("Change the switches and the fuse boxes.", "Switch"),
        ("Change the switches and the fuse boxes.", "Fuse box"),
        ("Swap out the battery.", "Battery"),
        ("Change the cell of the lamp, the front lens.", "Front lens"),
        ("Change the cell, the lens and the wheel.", "Wheel"),
        ("Change the wheel with bearings.", "Wheel with bearings"),
    ],
)
def test_an_object_may_be_fitted(line: str, name: str) -> None:
    assert named_in([line], name, FITS)


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("Change the tape on the wheel.", "Wheel"),
        ("Change the tape on the wheel and the strap.", "Strap"),
        ("Change the tape without removing the strap.", "Strap"),
        ("Change the tape without removing the strap or the wheel.", "Wheel"),
        ("Change no strap or wheel.", "Wheel"),
        ("Replace the label of the battery.", "Battery"),
        ("Replace the cell with a strap.", "Strap"),
        ("Change the tape on both of the wheels.", "Wheel"),
    ],
)
def test_what_only_stands_near_may_not(line: str, name: str) -> None:
    assert not named_in([line], name, FITS)


@pytest.mark.parametrize(
    ("line", "name", "may"),
    [
        ("Clean the rail with grease.", "Grease", True),
        ("Clean the rail without grease.", "Grease", False),
        ("Clean the rail of grease.", "Grease", False),
        ("Clean the rail of dust with grease.", "Grease", True),
        ("Clean with water and soap.", "Soap", True),
        ("Apply grease to the rail.", "Grease", True),
        ("Apply grease with a brush.", "Grease", True),
    ],
)
def test_what_may_be_used(line: str, name: str, may: bool) -> None:
    assert named_in([line], name, USES) is may
