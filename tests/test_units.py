"""Readings as people type them, conversion against published factors, and quantities as text."""

from __future__ import annotations

from decimal import Context, Decimal
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import (
    FAHRENHEIT_AND_CELSIUS,
    FOOT_IN_M,
    INCH_IN_MM,
    LBF_IN_IN_NM_LONG,
    NIST_KGF_IN_N,
    NIST_LBF_FT_IN_NM,
    NIST_LBF_IN_IN_NM,
    NIST_LBF_IN_N,
    NIST_OZF_IN_IN_NM,
    NIST_PSI_IN_PA,
    POUND_IN_KG,
    POUNDS_AND_KILOGRAMS,
)

from faulttree.problems import MoveError
from faulttree.unit_table import UNITS
from faulttree.units import Reading, convert, format_quantity, parse_reading, torque_in_two_units, unit_symbol

numbers = st.decimals(-10_000, 10_000, places=3)


def one(unit: str, to_unit: str) -> Decimal:
    return convert(Reading(Decimal(1), unit), to_unit)


def refusal(text: str) -> MoveError:
    with pytest.raises(MoveError) as caught:
        parse_reading(text)
    return caught.value


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("3 mm", "3", "mm"),
        ("3mm", "3", "mm"),
        (" 3 MM. ", "3", "mm"),
        ("0.12 in", "0.12", "in"),
        ('0.12"', "0.12", "in"),
        ("0,5 mm", "0.5", "mm"),
        ("1,5 V", "1.5", "V"),
        ("12 v", "12", "V"),
        ("850 mV", "850", "mV"),
        ("15 lbf", "15", "lbf"),
        ("15 kgf", "15", "kgf"),
        ("62 lb", "62", "lb"),
        ("62 lbs", "62", "lb"),
        ("4 N·m", "4", "N·m"),
        ("4 N.m", "4", "N·m"),
        ("4 Nm", "4", "N·m"),
        ("4 N m", "4", "N·m"),
        ("4 N-m", "4", "N·m"),
        ("4 N", "4", "N"),
        ("35 in-lb", "35", "lbf·in"),
        ("35 in lb", "35", "lbf·in"),
        ("35 lbf.in", "35", "lbf·in"),
        ("35 lbf in", "35", "lbf·in"),
        ("35 inch-pounds", "35", "lbf·in"),
        ("20 ft-lbs", "20", "lbf·ft"),
        ("-5 deg C", "-5", "°C"),
        ("-5 C", "-5", "°C"),
        ("−5°C", "-5", "°C"),
        ("70 ˚F", "70", "°F"),
        ("5 deg", "5", "°"),
        ("32 psi", "32", "psi"),
        ("2 bar", "2", "bar"),
        ("10 min", "10", "min"),
        ("1.5 hours", "1.5", "h"),
        ("80%", "80", "%"),
        ("5 ohm", "5", "Ω"),
        ("3", "3", ""),
        ("-3", "-3", ""),
        ("+3 mm", "3", "mm"),
        ("- 3 mm", "-3", "mm"),
        (".5 V", "0.5", "V"),
        (",5 V", "0.5", "V"),
        ("5. mm", "5", "mm"),
        ("3/8 in", "0.375", "in"),
        ("1 1/2 in", "1.5", "in"),
        ("-1-1/64 in", "-1.015625", "in"),
        ("0,500 mm", "0.500", "mm"),
        ("1.500 in", "1.500", "in"),
        ("1234,567 mm", "1234.567", "mm"),
        ("1,2345 mm", "1.2345", "mm"),
    ],
)
def test_what_people_type(text: str, value: str, unit: str) -> None:
    reading = parse_reading(text)
    assert reading == Reading(Decimal(value), unit)
    assert str(reading.value) == value, "the zeros that were typed stay"


@pytest.mark.parametrize(
    ("text", "what", "advice"),
    [
        ("", "no reading was typed", "3 mm"),
        ("  ", "no reading was typed", "3 mm"),
        ("mm", '"mm" does not begin with a number', "3 mm"),
        ("nan", '"nan" does not begin with a number', "3 mm"),
        ("NaN mm", '"NaN mm" does not begin with a number', "3 mm"),
        ("inf V", '"inf V" does not begin with a number', "3 mm"),
        ("-Infinity", '"-Infinity" does not begin with a number', "3 mm"),
        ("OL", '"OL" does not begin with a number', "3 mm"),
        ("<3 mm", '"<3 mm" does not begin with a number', "3 mm"),
        ("٣ mm", '"٣ mm" does not begin with a number', "3 mm"),
        ("1,500 mm", '"1,500" can be read in two ways', "type 1500 mm or 1.500 mm"),
        ("12,345", '"12,345" can be read in two ways', "type 12345 or 12.345"),
        ("1,234,567 mm", '"1,234,567" has more than one point or comma', "thousands"),
        ("1.234,5 N", '"1.234,5" has more than one point or comma', "thousands"),
        ("1.2.3 mm", '"1.2.3" has more than one point or comma', "thousands"),
        ("1 500 mm", '"1 500 mm" holds more than one number', "without blanks"),
        ("1'500 mm", '"1\'500 mm" holds more than one number', "one number"),
        ("3-4 mm", '"3-4 mm" holds more than one number', "one number"),
        ("1e3 mm", '"1e3 mm" holds more than one number', "one number"),
        ("1/3 in", '"1/3" is no fraction of an inch rule', "decimal"),
        ("1/0 in", '"1/0" is no fraction of an inch rule', "decimal"),
        ("3 mmm", 'unit "mmm" is not known', "type mm"),
        ("4 lbf·inch", 'unit "lbf·inch" is not known', "lbf·in"),
        ("4 vols", 'unit "vols" is not known', "V"),
        ("3 furlongs", 'unit "furlongs" is not known', "such as mm"),
        ("3 -", 'unit "-" is not known', "such as mm"),
        ("9" * 16 + " mm", f'"{"9" * 16}" has too many digits', "15 digits"),
        ("3" + " " * 50 + "mm", "a reading of 53 characters is too long", "3 mm"),
        ("3 \x1b[31m", '"3 ?[31m" holds more than one number', "one number"),
    ],
)
def test_what_is_refused(text: str, what: str, advice: str) -> None:
    error = refusal(text)
    assert error.what == what
    assert error.advice.startswith("type ")
    assert advice in error.advice


@given(st.text(max_size=50) | st.text("0123456789.,-/ '\"einNmlbf·°C\x1b", max_size=45))
def test_any_text_gives_a_reading_or_a_sentence(text: str) -> None:
    reading, said = Reading(Decimal(0), ""), ("", "-")
    try:
        reading = parse_reading(text)
    except MoveError as error:
        said = (error.what, error.advice)
    assert reading.value.is_finite()
    assert reading.unit in {"", *UNITS}
    assert all(part.isprintable() for part in said)
    assert said[1]


@given(numbers, st.sampled_from(sorted(UNITS)))
def test_what_is_written_is_read_again(value: Decimal, unit: str) -> None:
    assert parse_reading(format_quantity(value, unit)) == Reading(value, unit)


def test_every_spelling_means_one_unit() -> None:
    """A spelling that stood at two units would silently be the later one."""
    for symbol, unit in UNITS.items():
        for spelling in (symbol, *unit.spellings, symbol.upper(), symbol.replace("·", ""), symbol.replace("·", ".")):
            assert unit_symbol(spelling) == symbol, spelling


@pytest.mark.parametrize(
    ("unit", "to_unit", "factor"),
    [
        ("lbf", "N", NIST_LBF_IN_N),
        ("lbf·ft", "N·m", NIST_LBF_FT_IN_NM),
        ("lbf·in", "N·m", NIST_LBF_IN_IN_NM),
        ("ozf·in", "N·m", NIST_OZF_IN_IN_NM),
        ("psi", "Pa", NIST_PSI_IN_PA),
    ],
)
def test_factors_of_nist_sp_811(unit: str, to_unit: str, factor: Decimal) -> None:
    """NIST SP 811, appendix B, to the seven figures that it prints."""
    assert Context(prec=7).plus(one(unit, to_unit)) == factor


def test_pound_force_inch_to_sixteen_figures() -> None:
    assert Context(prec=16).plus(one("lbf·in", "N·m")) == LBF_IN_IN_NM_LONG


def test_exact_factors() -> None:
    """NIST SP 811 for kgf; inch, foot and pound by definition, from memory."""
    assert one("kgf", "N") == NIST_KGF_IN_N
    assert one("in", "mm") == INCH_IN_MM
    assert one("ft", "m") == FOOT_IN_M
    assert one("lb", "kg") == POUND_IN_KG


@pytest.mark.parametrize(("pounds", "kilograms"), POUNDS_AND_KILOGRAMS)
def test_masses(pounds: Decimal, kilograms: Decimal) -> None:
    """Common practice, no source."""
    assert round(convert(Reading(pounds, "lb"), "kg"), 2) == kilograms


@pytest.mark.parametrize(("fahrenheit", "celsius"), FAHRENHEIT_AND_CELSIUS)
def test_temperatures(fahrenheit: Decimal, celsius: Decimal) -> None:
    assert convert(Reading(fahrenheit, "°F"), "°C") == celsius
    assert convert(Reading(celsius, "°C"), "°F") == fahrenheit


@pytest.mark.parametrize(
    ("unit", "to_unit", "number"),
    [("V", "mV", 1000), ("kg", "g", 1000), ("h", "min", 60), ("min", "s", 60), ("m", "cm", 100), ("bar", "kPa", 100),
     ("MPa", "bar", 10), ("ft", "in", 12), ("lbf·ft", "lbf·in", 12), ("lbf·in", "ozf·in", 16), ("kN", "N", 1000),
     ("A", "mA", 1000), ("kΩ", "Ω", 1000)],
)  # fmt: skip
def test_whole_steps(unit: str, to_unit: str, number: int) -> None:
    assert one(unit, to_unit) == number


def test_the_edge_of_a_band_is_the_edge_in_every_unit() -> None:
    """0.12 in is 3.048 mm exactly: neither just above nor just below."""
    assert convert(parse_reading("0.12 in"), "mm") == Decimal("3.048")
    assert convert(parse_reading("0.1 in"), "mm") == Decimal("2.54")
    assert convert(parse_reading("212 °F"), "deg C") == 100


@given(numbers, st.sampled_from([pair for pair in permutations(UNITS, 2) if UNITS[pair[0]][0] == UNITS[pair[1]][0]]))
def test_there_and_back_is_the_same(value: Decimal, pair: tuple[str, str]) -> None:
    there = convert(Reading(value, pair[0]), pair[1])
    assert abs(convert(Reading(there, pair[1]), pair[0]) - value) <= Decimal("1e-20")


def test_the_same_unit_leaves_the_number_as_typed() -> None:
    assert str(convert(parse_reading("3.00 mm"), "mm")) == "3.00"


def test_every_two_quantities_are_kept_apart() -> None:
    for unit, to_unit in permutations(UNITS, 2):
        if UNITS[unit].quantity != UNITS[to_unit].quantity:
            with pytest.raises(MoveError, match=f"a reading in {unit} does not fit a limit in {to_unit}"):
                one(unit, to_unit)


def test_pounds_on_a_spring_scale() -> None:
    with pytest.raises(MoveError) as caught:
        convert(parse_reading("15 lb"), "N")
    assert caught.value.advice.startswith("type lbf or kgf")
    with pytest.raises(MoveError) as caught:
        convert(parse_reading("15 kg"), "mm")
    assert caught.value.advice == "read again in mm"


def test_a_bare_number_is_not_converted() -> None:
    with pytest.raises(MoveError) as caught:
        convert(parse_reading("3"), "mm")
    assert (caught.value.what, caught.value.advice) == ("a reading of 3 has no unit", "type 3 mm, if that was read")


def test_an_unknown_unit_of_a_limit_is_named() -> None:
    with pytest.raises(MoveError, match='unit "turns" is not known'):
        convert(parse_reading("3 mm"), "turns")


@pytest.mark.parametrize(
    ("typed", "like", "advice"),
    [
        ("3 parsec", "mm", "type mm, cm, m, in or ft"),
        ("3 parsec", "inches", "type in, mm, cm, m or ft"),
        ("3 milimeter", "mm", "type mm"),
        ("3 vots", "V", "type V"),
        ("3 vots", "mm", "type mm, cm, m, in or ft"),
        ("3 psii", "bar", "type psi"),
        ("3 parsec", "min", "type s"),
        ("3 zz", "min", "type min, s or h"),
        ("3 parsec", "%", "type %"),
        ("3 furlongs", "turns", "type a unit such as mm, kg, N·m or V"),
    ],
)
def test_where_a_quantity_is_asked_for_only_its_units_are_named(typed: str, like: str, advice: str) -> None:
    with pytest.raises(MoveError) as caught:
        parse_reading(typed, like)
    assert caught.value.advice == advice


@pytest.mark.parametrize(
    ("value", "unit", "figures", "text"),
    [
        (3, "mm", None, "3 mm"),
        (3.0, "mm", None, "3 mm"),
        (0.5, "V", None, "0.5 V"),
        (Decimal("0.50"), "in", None, "0.50 in"),
        (35, "in-lb", None, "35 lbf·in"),
        (20, "deg C", None, "20 °C"),
        (5, "°", None, "5°"),
        (80, "%", None, "80 %"),
        (3, "", None, "3"),
        (3, "turns", None, "3 turns"),
        (Decimal("1E+3"), "N", None, "1000 N"),
        (Decimal("1E-7"), "m", None, "0.0000001 m"),
        (Decimal("28.12272694"), "kg", 4, "28.12 kg"),
        (Decimal("0.11811023622"), "in", 3, "0.118 in"),
        (Decimal("1234.5"), "N", 3, "1235 N"),
        (Decimal("99.96"), "N", 3, "100 N"),
        (Decimal("-2.345"), "mm", 3, "-2.35 mm"),
        (Decimal("3.0"), "mm", 3, "3.0 mm"),
        (1e300, "Pa", 3, "1" + "0" * 300 + " Pa"),
    ],
)
def test_quantities_as_text(value: Decimal | int | float, unit: str, figures: int | None, text: str) -> None:
    assert format_quantity(value, unit, figures) == text


@pytest.mark.parametrize("value", [float("nan"), float("inf"), Decimal("-Infinity"), Decimal("sNaN")])
def test_no_number_is_refused(value: Decimal | float) -> None:
    for act in (torque_in_two_units, lambda number: format_quantity(number, "mm")):
        with pytest.raises(MoveError):
            act(value)


@pytest.mark.parametrize(
    ("newton_metres", "text"),
    [
        (4, "4.0 N·m (35 lbf·in)"),
        (4.0, "4.0 N·m (35 lbf·in)"),
        (0.5, "0.50 N·m (4.4 lbf·in)"),
        (1.2, "1.2 N·m (10.6 lbf·in)"),
        (Decimal("4.50"), "4.50 N·m (39.8 lbf·in)"),
        (29, "29 N·m (257 lbf·in)"),
        (29.9, "29.9 N·m (265 lbf·in)"),
        (30, "30 N·m (22 lbf·ft)"),
        (45, "45 N·m (33 lbf·ft)"),
        (135, "135 N·m (99.6 lbf·ft)"),
        (1500, "1500 N·m (1110 lbf·ft)"),
        (0, "0 N·m (0 lbf·in)"),
    ],
)
def test_torque_in_two_units(newton_metres: Decimal | int | float, text: str) -> None:
    """Common practice, no source: lbf·in for small torques, lbf·ft for large; computed with the factors above."""
    assert torque_in_two_units(newton_metres) == text


@given(st.decimals("0.01", 2000, places=2))
def test_the_two_torques_agree(newton_metres: Decimal) -> None:
    """Read back from the text, the first is what was given and the second is within 2 percent of it."""
    first, second = torque_in_two_units(newton_metres).removesuffix(")").split(" (")
    assert parse_reading(first) == Reading(newton_metres, "N·m")
    back = convert(parse_reading(second), "N·m")
    assert abs(back - newton_metres) <= newton_metres / 50
    assert len(second.split()[0].replace(".", "").strip("0")) <= 3
