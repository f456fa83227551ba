"""Rows: never wider than the screen, no letter lost; and parts that give way for room, never for nothing."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from rich.cells import cell_len
from tui_runs import letters, shown_in

from faulttree.cells import cell_width, cells
from faulttree.tui.fit import LEANER, Part, fitted
from faulttree.tui.rows import EMPTY_ROW, Row, cropped, cut, paragraphs, rows_of
from faulttree.visible import one_line

ALPHABETS = st.one_of(
    st.sampled_from("abc ABC-,.'/"),
    st.sampled_from("音訓가ｗ　😀"),
    st.sampled_from("e\u0301\u0302\u0334é"),
    st.sampled_from("\u05e9\u05dc\u0645\u0631"),
    st.sampled_from("\x1b\x07\x9b\u202e\u2066\u2028\t\n\r\x00\x7f"),
    st.characters(exclude_categories=("Cs",)),
)
texts = st.one_of(st.text(ALPHABETS, max_size=200), st.text(ALPHABETS, max_size=30).map(lambda text: text * 20))
widths = st.integers(2, 130)
leads = st.sampled_from(["", "- ", "1  ", "Enter  ", "▲ WARNING: "])


# -- width


@given(texts, widths)
@example("音" * 40, 7)
def test_pieces_are_never_wider_than_asked_and_make_up_the_line(text: str, width: int) -> None:
    line = one_line(text)
    pieces = list(cut(line, width))
    assert "".join(pieces) == line
    assert all(cells(piece) <= width for piece in pieces)
    assert all(pieces) or pieces == [""]


def test_a_character_wider_than_the_row_still_stands_in_a_row_of_its_own() -> None:
    assert list(cut("音訓", 1)) == ["音", "訓"]


@given(texts, widths, leads, leads)
def test_rows_are_never_wider_than_the_screen(text: str, width: int, first: str, rest: str) -> None:
    for row in rows_of(text, width, "plain", first, rest):
        assert cells(row.text) <= width


@given(texts, widths, leads)
def test_no_letter_is_lost_and_none_added(text: str, width: int, first: str) -> None:
    rows = rows_of(text, width, "plain", first, " " * len(first))
    assert shown_in(rows) == letters(first + text)


@given(texts, widths, leads)
def test_nothing_in_a_row_acts_on_a_terminal(text: str, width: int, first: str) -> None:
    for row in rows_of(text, width, "plain", first, "  "):
        assert one_line(row.text) == row.text


@given(texts, widths)
def test_a_text_is_broken_between_words_where_they_fit(text: str, width: int) -> None:
    """A row ends inside a word only where the word is longer than a row."""
    words = one_line(text).split()
    if all(cells(word) <= width for word in words):
        assert [word for row in rows_of(text, width) for word in row.text.split()] == words


@given(st.text(ALPHABETS, min_size=1, max_size=60), st.integers(20, 80))
def test_the_terminals_own_count_of_cells_is_not_higher(text: str, width: int) -> None:
    """What draws the rows counts by a table of its own; what it took for wider would be cut off."""
    for row in rows_of(text, width):
        assert cell_len(row.text) <= width


def test_the_lead_stands_before_the_first_row_in_its_own_look_and_the_key_on_all() -> None:
    rows = rows_of("one two three", 9, "strong", "1  ", "   ", key="1", mark="key")
    assert [row.text for row in rows] == ["1  one", "   two", "   three"]
    assert rows[0].pieces == (("1  ", "key"), ("one", "strong"))
    assert {row.key for row in rows} == {"1"}


def test_an_empty_text_is_one_empty_row() -> None:
    assert rows_of("", 20) == (EMPTY_ROW,)
    assert Row(()).text == ""


@given(texts, st.integers(3, 80))
def test_cropped_fits_and_says_that_it_was_cut(text: str, width: int) -> None:
    short = cropped(text, width)
    assert cells(short) <= width
    whole = one_line(text)
    assert short == whole or (short.endswith("..") and whole.startswith(short[:-2].rstrip()))
    assert (short == whole) == (cells(whole) <= width) or whole.endswith("..")


@given(st.lists(texts, max_size=5), widths)
def test_paragraphs_are_their_texts_one_after_another(several: list[str], width: int) -> None:
    rows = paragraphs(several, width)
    assert rows == tuple(row for text in several for row in rows_of(text, width, "plain", "", "  "))
    assert shown_in(rows) == "".join(map(letters, several))


# -- cells

WIDTHS = [
    # East Asian Width of Unicode Standard Annex 11: W and F take two cells, combining marks (Mn, Me) and
    # format characters (Cf) none, all else one.
    ("a", 1),
    ("é", 1),
    ("音", 2),
    ("ｗ", 2),
    ("ｶ", 1),
    ("가", 2),
    ("\u3000", 2),
    ("\u0301", 0),
    ("\u200d", 0),
    ("😀", 2),
    ("\u05e9", 1),
    ("·", 1),
    ("▲", 1),
    ("█", 1),
]


@pytest.mark.parametrize(("character", "width"), WIDTHS)
def test_cells_of_a_character(character: str, width: int) -> None:
    assert cell_width(character) == width


# -- parts that give way


def part(name: str, most: int, shortest: int, apart: bool) -> Part:
    """A part whose forms lose row after row."""
    forms = [tuple(Row(((f"{name}{at}", "plain"),)) for at in range(count)) for count in range(most, shortest - 1, -1)]
    return Part(name, tuple(forms), apart)


NAMES = [*dict.fromkeys(LEANER), "question", "how", "answers"]


@st.composite
def pages(draw: st.DrawFn) -> list[Part]:
    """Parts of a page in any order, some of which cannot give way."""
    names = draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=12, unique=True))
    found = []
    for name in names:
        most = draw(st.integers(0, 6))
        shortest = draw(st.integers(0, most)) if name in LEANER else most
        found.append(part(name, most, shortest, draw(st.booleans())))
    return found


def words_of(rows: tuple[Row, ...]) -> set[str]:
    return {row.text for row in rows if row.text}


@given(pages(), st.integers(1, 60), st.integers(1, 60))
def test_more_room_never_shows_less(parts: list[Part], one: int, other: int) -> None:
    low, high = sorted((one, other))
    assert words_of(fitted(parts, low)) <= words_of(fitted(parts, high))


@given(pages(), st.integers(1, 60))
def test_a_page_fits_or_is_at_its_shortest(parts: list[Part], height: int) -> None:
    rows = fitted(parts, height)
    times = {name: LEANER.count(name) for name in LEANER}
    shortest = sum(len(each.forms[min(len(each.forms) - 1, times.get(each.name, 0))]) for each in parts)
    assert len(rows) <= max(height, shortest)


@given(pages(), st.integers(1, 60))
def test_what_has_one_form_is_always_there_in_its_order(parts: list[Part], height: int) -> None:
    rows = fitted(parts, height)
    for each in parts:
        if len(each.forms) == 1:
            texts = [row.text for row in rows]
            wanted = [row.text for row in each.forms[0]]
            assert [text for text in texts if text in wanted] == wanted


@given(pages(), st.integers(1, 60))
def test_where_all_fits_nothing_gives_way(parts: list[Part], height: int) -> None:
    full = sum(len(each.forms[0]) for each in parts)
    if full <= height:
        assert words_of(fitted(parts, height)) == {row.text for each in parts for row in each.forms[0]}


@given(pages(), st.integers(1, 60))
def test_blank_rows_stand_only_where_there_is_room_and_never_first_or_twice(parts: list[Part], height: int) -> None:
    rows = fitted(parts, height)
    texts = [row.text for row in rows]
    if "" in texts:
        assert len(rows) <= height
    assert texts[:1] != [""]
    assert ("", "") not in set(itertools.pairwise(texts))
    assert texts.count("") <= sum(each.apart for each in parts)
