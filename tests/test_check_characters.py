"""ISO/IEC 7064 MOD 1271-36: the standard's example, and its promise tried out in full."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published import ISO_7064_EXAMPLE

from faulttree.check_characters import ALPHABET, check_characters, has_valid_check
from faulttree.problems import CodeError

texts = st.text(ALPHABET, min_size=1, max_size=30)
CODES = ("ISO79", "REL7K1P2U1D", "LMP3A1E1U2DY", "Z", "0", "000000", "ZZZZZZZZZZ", "A1B2C3D4E5F6G7H8I9J0KLMNOPQRST")


def protected(text: str) -> str:
    return text + check_characters(text)


def test_the_example_of_the_standard() -> None:
    text, check = ISO_7064_EXAMPLE
    assert check_characters(text) == check
    assert has_valid_check(text + check)


@pytest.mark.parametrize("text", CODES)
def test_every_wrong_character_is_found(text: str) -> None:
    code = protected(text)
    wrong = [
        code[:place] + other + code[place + 1 :]
        for place in range(len(code))
        for other in ALPHABET
        if other != code[place]
    ]
    assert len(wrong) == 35 * len(code)
    assert not [slip for slip in wrong if has_valid_check(slip)]


@pytest.mark.parametrize("length", [2, 11, 28])
def test_every_swap_of_every_two_neighbours_is_found(length: int) -> None:
    for place in range(length - 1):
        for one in ALPHABET:
            for other in ALPHABET:
                code = protected("K" * place + one + other + "7" * (length - place - 2))
                swapped = code[:place] + other + one + code[place + 2 :]
                assert has_valid_check(code)
                assert has_valid_check(swapped) == (one == other), (code, swapped)


@given(texts)
def test_swaps_that_reach_the_check_characters_are_found(text: str) -> None:
    code = protected(text)
    for place in range(len(code) - 1):
        swapped = code[:place] + code[place + 1] + code[place] + code[place + 2 :]
        assert has_valid_check(swapped) == (swapped == code)


@given(texts)
def test_a_code_is_1_modulo_1271_as_a_number_to_the_radix_36(text: str) -> None:
    assert int(protected(text), 36) % 1271 == 1
    assert has_valid_check(protected(text))


@given(st.text(ALPHABET, min_size=3, max_size=30))
def test_valid_means_that_the_last_two_are_the_check_characters(code: str) -> None:
    assert has_valid_check(code) == (check_characters(code[:-2]) == code[-2:])


@given(texts, st.integers(0, 31), st.sampled_from(ALPHABET))
def test_random_substitutions_are_found(text: str, place: int, other: str) -> None:
    code = protected(text)
    slip = code[: place % len(code)] + other + code[place % len(code) + 1 :]
    assert has_valid_check(slip) == (slip == code)


@pytest.mark.parametrize("strange", ["iso79", "REL7-K1P2", "A B", "Ä", "²", "٣", "A\n", "ſ", "1_0", "+1", "\x1b"])
def test_other_characters_are_refused(strange: str) -> None:
    with pytest.raises(CodeError) as caught:
        check_characters(strange)
    assert caught.value.what.isprintable()
    assert caught.value.advice
    assert not has_valid_check(strange + "3W")


@pytest.mark.parametrize("short", ["", "0", "1", "01", "3W"])
def test_check_characters_alone_are_no_code(short: str) -> None:
    assert not has_valid_check(short)


def test_an_empty_code_is_refused() -> None:
    with pytest.raises(CodeError):
        check_characters("")


@settings(max_examples=20)
@given(st.integers(1, 20_000))
def test_any_length_is_taken(length: int) -> None:
    assert has_valid_check(protected("A" * length))
