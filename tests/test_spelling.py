"""The spelling alphabet, there and back; what people type who heard it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import DIGITS_SAID_SINGLY, FIGURES_PRONOUNCED, ITU_FIGURE_WORDS, SPELLING_ALPHABET

from faulttree.check_characters import ALPHABET, check_characters, has_valid_check
from faulttree.problems import CodeError
from faulttree.spelling import despell, readings, spell

codes = st.text(ALPHABET, max_size=30)


def in_fours(code: str, between: str = "-") -> str:
    return between.join(code[start : start + 4] for start in range(0, len(code), 4))


def test_letters_take_the_words_of_annex_10() -> None:
    """ICAO Annex 10, volume II, figure 5-1, seen in SERA.14020, table S14-2."""
    letters = "".join(letter for letter, _ in SPELLING_ALPHABET)
    assert letters == "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    assert spell(letters) == tuple(word for _, word in SPELLING_ALPHABET)


def test_digits_are_said_singly() -> None:
    """ICAO Annex 10, volume II, 5.2.1.4.1.1."""
    code, words = DIGITS_SAID_SINGLY
    assert spell(code) == words
    assert spell("0123456789") == (
        "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"
    )  # fmt: skip


def test_figures_typed_as_they_are_pronounced() -> None:
    """UK CAP 413, table 2; the hyphens of ICAO Annex 10 are from memory."""
    assert despell(FIGURES_PRONOUNCED) == "0123456789"
    assert despell("ZE-RO WUN TOO TREE FOW-er FIFE SIX SEV-en AIT NIN-er") == "0123456789"


def test_figure_words_of_the_radio_regulations() -> None:
    """ITU Radio Regulations, Appendix 14."""
    assert despell(ITU_FIGURE_WORDS) == "0123456789"


def test_hyphens_blanks_and_small_letters_mean_nothing_to_spell() -> None:
    assert spell("rel7-k1 p2") == spell("REL7K1P2")
    assert spell("x1") == ("X-ray", "one")
    assert spell("") == ()


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("Alpha Juliet X-ray niner", "AJX9"),
        ("alfa, juliett, xray, nine", "AJX9"),
        ("JULIETTE x ray whisky fox trot", "JXWF"),
        ("romeo echo lima seven dash kilo wun papa too", "REL7K1P2"),
        ("REL7 kilo one papa two - U1DQ-x", "REL7K1P2U1DQX"),
        ("rel7-k1p2-u1dq-x", "REL7K1P2U1DQX"),
        ("REL7K1P2U1DQX", "REL7K1P2U1DQX"),
        ("Romeo–Echo‑Lima\n7", "REL7"),
        ("r e l 7", "REL7"),
        ("x-ray-golf-ait", "XG8"),
        ("x", "X"),
        ("x golf", "XG"),
        ("  -- ", ""),
        ("", ""),
    ],
)
def test_what_people_type(typed: str, code: str) -> None:
    assert despell(typed) == code


def test_words_may_come_one_by_one() -> None:
    assert despell(["Romeo", "echo", "x-ray", "7"]) == despell(iter(("REX7",))) == "REX7"


@given(codes)
def test_what_was_spelled_is_despelled(code: str) -> None:
    assert despell(spell(code)) == code
    assert despell(" ".join(spell(code)).lower()) == code
    assert despell("-".join(spell(code)).upper()) == code


@given(codes, st.sampled_from(["-", " ", "  ", " - ", ".", ", "]))
def test_a_code_in_groups_is_one_of_at_most_two_readings(code: str, between: str) -> None:
    found = readings(in_fours(code, between))
    assert code in found
    assert 1 <= len(found) <= 2


@given(codes, st.data())
def test_words_and_groups_may_be_mixed(code: str, data: st.DataObject) -> None:
    """Each character either as it is or as its word, both in any case."""
    words = spell(code)
    pieces = [data.draw(st.sampled_from([character, character.lower(), word, word.upper()]))
              for character, word in zip(code, words, strict=True)]  # fmt: skip
    assert despell(pieces) == code


def test_a_group_that_is_also_a_word_has_two_readings() -> None:
    """ZULU is Z as a word, or four characters of a code; the check characters tell which was meant."""
    code = "ZULU7K1P" + check_characters("ZULU7K1P")
    found = readings(in_fours(code))
    assert found == ("Z" + code[4:], code)
    assert [reading for reading in found if has_valid_check(reading)] == [code]
    assert readings("Zulu seven")[0] == "Z7"


@pytest.mark.parametrize(
    ("typed", "culprit", "advice"),
    [
        ("romeo charlei", "charlei", "Charlie"),
        ("novembre", "novembre", "November"),
        ("romeo hippopotamus", "hippopotamus", "Alfa"),
        ("hyphon", "hyphon", "groups of four"),
    ],
)
def test_a_long_word_of_no_alphabet_is_refused(typed: str, culprit: str, advice: str) -> None:
    with pytest.raises(CodeError) as caught:
        despell(typed)
    assert f'"{culprit}"' in caught.value.what
    assert advice in caught.value.advice


@pytest.mark.parametrize("strange", ["A€", "Älfa", "²", "٣", "ſ", "\u212a", "7\x1b[31m", "A\x00"])
def test_strange_characters_are_refused(strange: str) -> None:
    for reader in (despell, spell):
        with pytest.raises(CodeError) as caught:
            reader(strange)
        assert caught.value.what.isprintable()


def test_a_whole_page_is_refused() -> None:
    with pytest.raises(CodeError, match="too long"):
        despell("alfa " * 1000)


@given(st.text(max_size=60))
def test_any_text_gives_a_code_or_a_sentence(text: str) -> None:
    code, said = "", ("", "-")
    try:
        code = despell(text)
    except CodeError as error:
        said = (error.what, error.advice)
    assert set(code) <= set(ALPHABET)
    assert all(part.isprintable() for part in said)
    assert said[1]
