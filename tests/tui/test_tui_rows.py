"""Rows: never wider than the screen, no letter lost; and parts that give way for room, never for nothing."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from rich.cells import cell_len
from tui_runs import letters, shown_in

from faulttree.cells import cell_width, cells
from faulttree.tui.fit import WHERE_MOVED, WISHES, Part, fitted
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


GIVING = [*dict.fromkeys(name for name, _ in WISHES)]
NAMES = [*GIVING, "question", "how", "answers"]


@st.composite
def pages(draw: st.DrawFn) -> list[Part]:
    """Parts of a page in any order, some of which cannot give way."""
    names = draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=12, unique=True))
    found = []
    for name in names:
        most = draw(st.integers(0, 6))
        # A part has as many forms as it is wished for at the most.
        steps = max((steps for wish, steps in WISHES if wish == name), default=0)
        shortest = draw(st.integers(max(most - steps, 0), most))
        found.append(part(name, most, shortest, draw(st.booleans())))
    return found


def least(parts: list[Part]) -> int:
    """The rows of the page in its shortest form."""
    return sum(len(each.forms[-1]) for each in parts)


@st.composite
def uneven_pages(draw: st.DrawFn) -> list[Part]:
    """The same, but from one form to the next some rows at once are lost, or none."""
    parts = draw(pages())
    kept = st.lists(st.booleans(), min_size=7, max_size=7)
    return [each._replace(forms=tuple(itertools.compress(each.forms, (True, *draw(kept))))) for each in parts]


def words_of(rows: tuple[Row, ...]) -> set[str]:
    return {row.text for row in rows if row.text}


@given(pages(), st.integers(0, 40), st.integers(0, 40))
def test_more_room_never_shows_less(parts: list[Part], one: int, other: int) -> None:
    """Where forms lose row after row; where it is more at once, what is more important may take the room."""
    low, high = sorted((one, other))
    room = least(parts)
    assert words_of(fitted(parts, room + low)) <= words_of(fitted(parts, room + high))


@given(pages(), st.integers(1, 60))
def test_a_page_fits_where_its_shortest_form_does(parts: list[Part], height: int) -> None:
    assert (len(fitted(parts, height)) <= height) == (least(parts) <= height)


@given(uneven_pages(), st.integers(0, 40))
def test_no_room_is_left_that_a_part_could_use(parts: list[Part], more: int) -> None:
    """No part could take a fuller form where it stands: what one has no room for is offered to the others."""
    height = least(parts) + more
    words = words_of(fitted(parts, height))
    for each in parts:
        shown = max(len(form) for form in each.forms if {row.text for row in form} <= words)
        fuller = [len(form) - shown for form in each.forms if len(form) > shown]
        assert all(len(words) + wanted > height for wanted in fuller), each.name


@given(uneven_pages(), st.integers(0, 40))
def test_with_a_row_more_what_is_lost_was_less_important_than_what_is_won(parts: list[Part], more: int) -> None:
    height = least(parts) + more
    before, after = (words_of(fitted(parts, rows)) for rows in (height, height + 1))
    assert after - before or not before - after


@given(pages(), st.integers(1, 60))
def test_a_page_that_is_moved_in_any_case_gives_back_what_protects_and_is_moved_no_oftener(
    parts: list[Part], height: int
) -> None:
    rows = len(fitted(parts, height))
    if least(parts) > height:
        assert screens(rows, height) == screens(least(parts), height)
        words = words_of(fitted(parts, height))
        for each in parts:
            if each.name not in dict(WHERE_MOVED):
                assert sum(row.text in words for row in each.forms[0]) == len(each.forms[-1])


def screens(rows: int, height: int) -> int:
    """How many screens a page takes on which nothing is pinned; a row of the one before stays in sight."""
    return 1 + -(-(rows - height) // max(height - 1, 1))


@given(pages(), st.integers(1, 60))
def test_a_page_counts_the_rows_of_parts_that_are_not_there(parts: list[Part], height: int) -> None:
    rows = fitted(parts, height)
    on_page = words_of(rows)
    gone = [each for each in parts if each.forms[0] and not on_page & {row.text for f in each.forms for row in f}]
    assert sum(row.hidden for row in rows) == (sum(len(each.forms[0]) for each in gone) if rows else 0)


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
