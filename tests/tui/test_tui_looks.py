"""The looks: contrast by the published definition, signs that differ by shape and word, and looks without colour."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.color import Color
from tui_runs import LAMP, Ramp, running

from faulttree.keys import Kind
from faulttree.tui.looks import ORANGE, SIGNAL, YELLOW, Look, Looks, contrast, style

LOOKS: tuple[Look, ...] = get_args(Look)
LEAST = 7.0
"""WCAG 2.2, success criterion 1.4.6, contrast (enhanced), for text of any size."""

SIGNALS = ("warning", "caution", "note")


def inks(looks: Looks, look: Look) -> tuple[str, str]:
    """The colours of a look's letters and of what they stand on, as #rrggbb."""
    drawn = style(look, looks)
    assert drawn.color is not None
    assert drawn.bgcolor is not None
    return drawn.color.get_truecolor().hex, drawn.bgcolor.get_truecolor().hex


@pytest.mark.parametrize("day", [False, True])
@pytest.mark.parametrize("look", LOOKS)
def test_all_text_has_enough_contrast(look: Look, day: bool) -> None:
    assert contrast(*inks(Looks(day=day), look)) >= LEAST


def drawn_inks(ramp: Ramp) -> Iterator[tuple[str, str, str]]:
    """Each piece of text on the terminal, with the colour of its letters and of what they stand on."""
    for strip in ramp.app.screen._compositor.render_strips():
        for text, drawn, _ in strip:
            if text.strip():
                assert drawn is not None
                assert drawn.color is not None
                assert drawn.bgcolor is not None
                yield text, drawn.color.get_truecolor().hex, drawn.bgcolor.get_truecolor().hex


@pytest.mark.usefixtures("quick_keys")
@pytest.mark.parametrize("day", [False, True])
async def test_all_text_that_is_drawn_has_enough_contrast(walks: Path, day: bool) -> None:
    """What the library of widgets draws as well: a line that is typed in, with its cursor and what is marked in it."""
    async with running(walks, LAMP, "repairer", looks=Looks(day=day), model="Finch") as ramp:
        for key in ("enter", "a", "1", "n", *"two words", "shift+left", "shift+left", "enter", "ctrl+p", "w", "escape"):
            await ramp.press(key)
            for text, ink, paper in drawn_inks(ramp):
                assert contrast(ink, paper) >= LEAST, (ramp.name, text, ink, paper)
        assert ramp.kinds[-1] == Kind.NOTE


# -- the contrast itself

PUBLISHED = [
    # WCAG 2.2, note 1 of the definition of contrast ratio: ratios range from 1 to 21, which black and white have.
    ("#000000", "#ffffff", 21.0, 2),
    ("#ffffff", "#ffffff", 1.0, 2),
    # The lightest grey that passes 4.5:1 on white; the figure is quoted in many places, first by WebAIM (from memory).
    ("#767676", "#ffffff", 4.54, 2),
    # The next lighter grey just fails, 4.48:1 (W3C's understanding documents and WebAIM; from memory, sure).
    ("#777777", "#ffffff", 4.48, 2),
    # WebAIM on contrast: red on white 4:1, green 1.4:1, blue 8.6:1 (from memory, sure).
    ("#ff0000", "#ffffff", 4.0, 1),
    ("#00ff00", "#ffffff", 1.4, 1),
    ("#0000ff", "#ffffff", 8.6, 1),
    # Printed in the documentation of another implementation, the npm package contrast-ratio-checker (read there).
    ("#ff8100", "#64003a", 5.235369975583679, 9),
    ("#e5e5e5", "#aabb00", 1.698093107780376, 9),
]


@pytest.mark.parametrize(("one", "other", "ratio", "places"), PUBLISHED)
def test_contrast_is_what_is_published(one: str, other: str, ratio: float, places: int) -> None:
    assert round(contrast(one, other), places) == round(ratio, places)
    assert contrast(one, other) == contrast(other, one)


def test_luminance_of_the_primaries_is_the_standards() -> None:
    """IEC 61966-2-1 (sRGB) weighs red, green and blue 0.2126, 0.7152, 0.0722; on black that is (weight + 0.05)/0.05."""
    weights = {"#ff0000": 0.2126, "#00ff00": 0.7152, "#0000ff": 0.0722}
    for colour, weight in weights.items():
        assert contrast(colour, "#000000") == pytest.approx((weight + 0.05) / 0.05)


colours = st.integers(0, 0xFFFFFF).map(lambda code: f"#{code:06x}")


@given(colours, colours)
def test_contrast_lies_between_1_and_21(one: str, other: str) -> None:
    assert 1 <= contrast(one, other) <= 21
    assert contrast(one, one) == 1


@given(st.integers(0, 254), st.integers(0, 254))
def test_of_greys_the_lighter_one_contrasts_more_with_black(one: int, other: int) -> None:
    """The scale has no step backwards, not where its straight part meets the curved one either."""
    low, high = sorted((one, other))
    assert contrast(f"#{low:02x}{low:02x}{low:02x}", "#000000") <= contrast(
        f"#{high:02x}{high:02x}{high:02x}", "#000000"
    )


# -- signal words


def test_colour_is_used_for_the_two_signal_words_only() -> None:
    for day in (False, True):
        looks = Looks(day=day)
        plain = {looks.colours.ink, looks.colours.paper, looks.colours.faint}
        for look in LOOKS:
            coloured = set(inks(looks, look)) - plain - {"#000000"}
            assert coloured == ({SIGNAL[look][1]} if look in SIGNAL else set())


def test_the_signal_colours_are_orange_and_yellow_with_black_letters() -> None:
    """ANSI Z535.4: warning black on safety orange, caution black on safety yellow (from memory, sure of the pairs).

    Orange is red with less than as much green and no blue, yellow red with nearly as much green and no blue.
    """
    assert SIGNAL == {"warning": ("#000000", ORANGE), "caution": ("#000000", YELLOW)}
    for colour, least, most in ((ORANGE, 0.3, 0.65), (YELLOW, 0.75, 1.0)):
        red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
        assert least < green / red < most
        assert blue == 0


@pytest.mark.parametrize("ascii_only", [False, True])
def test_signs_differ_by_shape(ascii_only: bool) -> None:
    looks = Looks(ascii=ascii_only)
    signs = [looks.sign(signal) for signal in SIGNALS]
    assert len(set(signs)) == len(SIGNALS)
    assert [bool(sign.strip()) for sign in signs] == [True, True, False]
    assert looks.sign("title") == ""
    assert all(sign.isascii() for sign in signs) == ascii_only
    if not ascii_only:
        # The Unicode names say the shapes: no colour is needed to tell a triangle from a square.
        assert [ord(sign[0]) for sign in signs[:2]] == [0x25B2, 0x25A0]


def test_in_ascii_nothing_else_is_left() -> None:
    looks = Looks(ascii=True)
    assert looks.fit("20 N·m ± 1") == "20 N.m +/- 1"
    assert looks.fit("音").isascii()
    assert Looks().fit("20 N·m") == "20 N·m"


# -- without colour


@pytest.mark.parametrize("day", [False, True])
def test_without_colour_there_is_none(day: bool) -> None:
    looks = Looks(day=day, colour=False)
    for look in LOOKS:
        drawn = style(look, looks)
        assert drawn.color is None
        assert drawn.bgcolor is None


def test_without_colour_the_signal_words_are_reversed_and_nothing_else_of_a_walk_is() -> None:
    looks = Looks(colour=False)
    assert [look for look in LOOKS if style(look, looks).reverse] == ["warning", "caution"]
    assert all(style(look, looks).bold for look in ("warning", "caution", "strong", "key"))
    assert not style("plain", looks).bold


def test_without_colour_no_colour_code_is_written() -> None:
    """What is written for a piece of text has no code but those of bold (1) and reversed (7): ECMA-48, 8.3.117, SGR."""
    for look in LOOKS:
        written = style(look, Looks(colour=False)).render("x")
        codes = written.partition("m")[0].removeprefix("\x1b[") if written != "x" else ""
        assert set(codes.split(";")) <= {"", "1", "7"}


def test_night_is_dark_and_day_is_light() -> None:
    night, day = (inks(Looks(day=day), "plain") for day in (False, True))
    assert contrast(night[1], "#ffffff") == 21
    assert contrast(day[1], "#000000") == 21


def test_night_ink_is_warm() -> None:
    """Less blue than green than red, for eyes that are used to the dark."""
    red, green, blue = Color.parse(Looks().colours.ink).get_truecolor()
    assert red > green > blue


def test_looks_of_one_page_can_be_told_apart() -> None:
    """What asks for something is never drawn like what is only there to be found."""
    for looks in (Looks(), Looks(day=True)):
        drawn = {look: style(look, looks) for look in ("plain", "strong", "faint", "warning", "caution")}
        assert all(drawn[one] != drawn[other] for one, other in combinations(drawn, 2))
