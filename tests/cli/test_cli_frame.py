"""Frames: the carets stand under the value, by display width, whatever the line holds."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faulttree.cells import broken, cells
from faulttree.cli.frame import frame
from faulttree.problems import Span

LINES = ["findings:", "  Film: out-of-use", "  Clean: fit-cell", ""]


def test_the_line_stands_between_its_neighbours() -> None:
    assert frame(LINES, Span(2, 9, 2, 19), 80) == [
        "    1  findings:",
        "    2    Film: out-of-use",
        "               ^^^^^^^^^^",
        "    3    Clean: fit-cell",
    ]


@pytest.mark.parametrize(
    ("line", "span", "under"),
    [
        ("a: bad", Span(1, 4, 1, 7), "bad"),
        ("\ta: bad", Span(1, 5, 1, 8), "bad"),
        ("音声: bad", Span(1, 5, 1, 8), "bad"),
        ("e\u0301: bad", Span(1, 5, 1, 8), "bad"),
        ("\x1b: bad", Span(1, 4, 1, 7), "bad"),
        ("x" * 300 + " bad " + "y" * 300, Span(1, 302, 1, 305), "bad"),
        ("a: |", Span(1, 4, 3, 9), "|"),
    ],
)
def test_what_the_carets_stand_under(line: str, span: Span, under: str) -> None:
    """Tabs, wide and combining characters, escapes and long lines (widths by Unicode Standard Annex 11)."""
    shown, carets = frame([line], span, 60)
    assert cells(shown) <= 60
    begin = carets.index("^")
    assert _from_cell(shown, begin)[: len(under)] == under
    assert carets.count("^") == len(under)


def _from_cell(text: str, at: int) -> str:
    """What stands in ``text`` from a cell on."""
    rest = (text[index:] for index in range(len(text) + 1) if cells(text[:index]) >= at)
    return next(each for each in rest if each[:1].isprintable())


def test_a_value_at_the_end_of_the_file_has_a_caret() -> None:
    assert frame(["a:"], Span(1, 3, 1, 3), 80) == ["    1  a:", "         ^"]


def test_a_place_that_the_file_does_not_have_has_no_frame() -> None:
    assert frame(["a:"], Span(7, 1, 7, 2), 80) == []
    assert frame([], Span(1, 1, 1, 1), 80) == []


@given(
    st.lists(st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\n"), max_size=200), max_size=4),
    st.tuples(st.integers(1, 6), st.integers(1, 250), st.integers(1, 6), st.integers(1, 250)),
    st.integers(24, 100),
)
def test_no_line_and_no_span_breaks_a_frame(lines: list[str], span: tuple[int, int, int, int], width: int) -> None:
    """Lines are what stands between line feeds, so they have none; anything else may be in them."""
    for line in frame(lines, Span(*span), width):
        assert "\n" not in line
        assert "\x1b" not in line
        assert cells(line) <= width


@given(st.lists(st.text("abcé音", min_size=1, max_size=9)), st.integers(24, 60))
def test_broken_lines_keep_every_word_and_the_width(words: list[str], width: int) -> None:
    lines = broken(" ".join(words), width, "- ", "  ")
    assert " ".join(line[2:] for line in lines).split() == words
    assert all(cells(line) <= width for line in lines)
