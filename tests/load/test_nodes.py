"""Places found by path, and the guess at sentences that commas have split."""

from __future__ import annotations

import pytest

from faulttree.load.nodes import Items, Table, scalars, split_by_comma, where
from faulttree.load.parse import load
from faulttree.problems import START_OF_FILE, Span

TEXT = """\
steps:
  one:
    do:
      - Take it out.
      - {say: Fit it}
    "1": [a, b]
many: [[x]]
"""
ROOT = load(TEXT.encode(), "a.yaml").root


@pytest.mark.parametrize(
    ("path", "span"),
    [
        ((), Span(1, 1, 1, 6)),
        (("steps",), Span(1, 1, 1, 6)),
        (("steps", "one"), Span(2, 3, 2, 6)),
        (("steps", "one", "~"), Span(2, 3, 2, 6)),
        (("steps", "one", "do", 0), Span(4, 9, 4, 21)),
        (("steps", "one", "do", 0, "~"), Span(4, 9, 4, 21)),
        (("steps", "one", "do", 1), Span(5, 9, 5, 10)),
        (("steps", "one", "do", 1, "say"), Span(5, 15, 5, 21)),
        (("steps", "one", "do", 1, "say", "~"), Span(5, 10, 5, 13)),
        (("steps", "one", "1"), Span(6, 5, 6, 8)),
        (("steps", "one", "1", 1), Span(6, 14, 6, 15)),
        (("many", 0, 0), Span(7, 9, 7, 10)),
        (("many", 0), Span(7, 8, 7, 9)),
        (("steps", "two", "x"), Span(1, 1, 1, 6)),
        (("steps", "one", "do", 7), Span(3, 5, 3, 7)),
        (("steps", "one", "do", -1), Span(3, 5, 3, 7)),
        (("steps", "one", 1), Span(2, 3, 2, 6)),
        (("steps", "one", "do", 0, "x"), Span(4, 9, 4, 21)),
        (("~",), Span(1, 1, 1, 6)),
    ],
)
def test_where(path: tuple[str | int, ...], span: Span) -> None:
    """A value by its own place, a collection by its key, what is not there by the nearest above."""
    assert where(ROOT, path) == span


def test_where_nothing_is() -> None:
    """Without data every path is the start of the file."""
    assert where(None, ("a", 1)) == START_OF_FILE


def test_scalars_come_in_file_order() -> None:
    """Values only, keys left out."""
    assert [scalar.value for scalar in scalars(ROOT)] == ["Take it out.", "Fit it", "a", "b", "x"]


@pytest.mark.parametrize(
    ("text", "split"),
    [
        ("[Wipe with water, not with solvent.]", 1),
        ("[Fold the ramp, pin it, and only then look at the drum.]", 1),
        ("[open covers, unless told so]", 1),
        ("[Take the cell out, then wait]", 1),
        ("[Ask the chief, Bo or Eve first.]", 1),
        ("[Wait., Ask the chief, Bo or Eve first.]", 2),
        ("[Take it out., Wait here, not there.]", 2),
        ("[Wait., then look.]", 0),
        ("[Take the cell out, Fit the spare cell]", 0),
        ("[Read the cap., Fit the cell.]", 0),
        ("[Rotors stopped, oxygen off]", 0),
        ("[Lens whole, switch moves freely]", 0),
        ("[Take it, wait]", 0),
        ("[Take it, wait, then look]", 2),
        ("[look and switch, change the cell, wipe with a dry wipe]", 0),
        ("[user, repairer]", 0),
        ("[hand lamp, spare]", 0),
        ('["Lens whole", "switch moves freely"]', 0),
        ('["Wipe with water, not with solvent."]', 0),
        ('["n/a", Hold the lamp.]', 0),
        ("[Lens whole]", 0),
        ("[]", 0),
        ("[[a b c], d e f]", 0),
        ("\n- Lens whole\n- switch moves freely", 0),
    ],
)
def test_split_by_comma(text: str, split: int) -> None:
    """The rest of a sentence is guessed where an item goes on with the one before, which no full stop ends."""
    root = load(f"a: {text}\n".encode(), "a.yaml").root
    assert isinstance(root, Table)
    items = root.entries["a"].value
    assert isinstance(items, Items)
    assert split_by_comma(items) == split
