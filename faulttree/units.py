"""Readings with their units as a person types them, exact conversion, and quantities as text.

The number stays the decimal that was typed, and conversion is exact, so a reading at the edge of a band falls on the
same side in every unit. The units stand in `unit_table`.
"""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Context, Decimal
from difflib import get_close_matches
from fractions import Fraction
from typing import NamedTuple

from faulttree.problems import MoveError
from faulttree.unit_table import SYMBOLS, UNITS, Unit, key_of


class Reading(NamedTuple):
    """A number as it was typed and the symbol of its unit in ``UNITS``; ``""`` where no unit was typed."""

    value: Decimal
    unit: str


_LONGEST = 40
_MOST_DIGITS = 15
_NUMBER = re.compile(r"([+\-−–]?)\s*([0-9.,]*[0-9][.,]?)\s*(.*)", re.DOTALL)
_INCH_FRACTION = re.compile(r"([+\-−–]?)\s*(?:([0-9]+)(?:\s*-\s*|\s+))?([0-9]+)\s*[/⁄]\s*([0-9]+)\s*(.*)", re.DOTALL)
_THOUSANDS = re.compile(r"([1-9][0-9]{0,2}),([0-9]{3})")
_ONE_NUMBER = "type the one number that was read, without blanks in it, and its unit, such as 3 mm"


def parse_reading(text: str, like: str = "") -> Reading:
    """The number and unit in ``text``: ``3 mm``, ``0,5 mm``, ``3/8 in``, ``35 in-lb``, ``-5 deg C``, ``3``.

    A comma is a decimal comma, except where it may part off thousands (``1,500``): that is refused, not guessed.
    ``like`` is a unit of what was to be read, for the advice where the one that was typed is not known.

    :raises MoveError: no number, several numbers, an ambiguous or overlong number, or a unit that is not known.
    """
    text = text.strip()
    if not text:
        raise MoveError("no reading was typed", _ONE_NUMBER)
    if len(text) > _LONGEST:
        raise MoveError(f"a reading of {len(text)} characters is too long", _ONE_NUMBER)
    if fraction := _INCH_FRACTION.fullmatch(text):
        sign, whole, over, under, rest = fraction.groups()
        size = _from_fraction(whole or "0", over, under)
    elif number := _NUMBER.fullmatch(text):
        sign, digits, rest = number.groups()
        size = _from_digits(digits, rest)
    else:
        raise MoveError(f'"{_shown(text)}" does not begin with a number', _ONE_NUMBER)
    return Reading(-size if sign not in ("", "+") and size else size, _unit_of(rest, text, like) if rest else "")


def unit_symbol(spelling: str, like: str = "") -> str:
    """The symbol in ``UNITS`` of a unit however it is spelled: ``in-lb`` gives ``lbf·in``.

    :raises MoveError: where the unit is not known; the advice names units that are spelled alike. With ``like``, a
        unit that would fit, it names only units of the same quantity, and all of them where none is spelled alike.
    """
    key = key_of(spelling)
    if key in SYMBOLS:
        return SYMBOLS[key]
    fitting = _of_the_quantity(like)
    known = [each for each, symbol in SYMBOLS.items() if not fitting or symbol in fitting]
    matches = get_close_matches(key[:_LONGEST], known, n=3, cutoff=0.6)
    near = list(dict.fromkeys(SYMBOLS[match] for match in matches)) or fitting
    what = f'unit "{_shown(spelling.strip()[:_LONGEST])}" is not known'
    raise MoveError(what, f"type {_one_of(near)}" if near else "type a unit such as mm, kg, N·m or V")


def _of_the_quantity(like: str) -> list[str]:
    """The units of the quantity that ``like`` is a unit of, itself first; none where it is no unit."""
    symbol = SYMBOLS.get(key_of(like), "")
    quantity = UNITS[symbol].quantity if symbol else ""
    return sorted((each for each, unit in UNITS.items() if unit.quantity == quantity), key=lambda each: each != symbol)


def _one_of(names: list[str]) -> str:
    return " or ".join(", ".join(part) for part in (names[:-1], names[-1:]) if part)


def convert(reading: Reading, to_unit: str) -> Decimal:
    """The number of ``reading`` in ``to_unit``, exact, or to 34 digits where the decimal does not end.

    :raises MoveError: where the reading has no unit, a unit is not known, or the units are of different quantities.

    Source of the factors: inch, foot and pound by definition (1959), standard gravity by definition (CGPM 1901).
    """
    to_symbol = unit_symbol(to_unit)
    if not reading.unit:
        what = f"a reading of {format_quantity(reading.value, '')} has no unit"
        raise MoveError(what, f"type {format_quantity(reading.value, to_symbol)}, if that was read")
    from_symbol = unit_symbol(reading.unit)
    if from_symbol == to_symbol:
        return reading.value
    source, target = UNITS[from_symbol], UNITS[to_symbol]
    if source.quantity != target.quantity:
        what = f"a reading in {from_symbol} does not fit a limit in {to_symbol}"
        raise MoveError(what, _advice_on_quantity(source, to_symbol))
    return _to_decimal((Fraction(reading.value) * source.factor + source.offset - target.offset) / target.factor)


def format_quantity(value: Decimal | int | float, unit: str, figures: int | None = None) -> str:
    """``value`` and the unit's symbol: ``3 mm``, ``0.50 in``, ``5°``; a unit that is not in ``UNITS`` stays as written.

    The value is written as it is given, zeros included. With ``figures``, for converted values, decimals beyond that
    many significant figures are rounded off; whole digits never are.
    """
    symbol = SYMBOLS.get(key_of(unit), unit)
    exact = _exact(value)
    if figures is not None and _figures(exact) > figures:
        exact = _rounded(exact, max(figures, exact.adjusted() + 1))
    return f"{exact:f}{'' if symbol in ('', '°') else ' '}{symbol}"


def torque_in_two_units(newton_metres: Decimal | int | float) -> str:
    """A torque in N·m as it is given, and in lbf·in (below 30 N·m) or lbf·ft: ``4.0 N·m (35 lbf·in)``.

    The value in N·m is the one that counts and is not rounded. The other has two figures, or three where the value
    given has three, where it is 100 or more, or where two would be off by more than 2 percent.
    """
    given = _exact(newton_metres)
    symbol = "lbf·in" if abs(given) < 30 else "lbf·ft"
    other = convert(Reading(given, "N·m"), symbol)
    two = _rounded(other, 2)
    enough = abs(other) < 100 and _figures(given) < 3 and abs(two - other) <= abs(other) / 50
    shown = _rounded(given, 2) if _figures(given) < 2 else given
    return f"{shown:f} N·m ({two if enough else _rounded(other, 3):f} {symbol})"


def _from_digits(digits: str, rest: str) -> Decimal:
    """The number that ``digits`` write, with a decimal point or comma; ``rest`` is for the advice."""
    if parts := _THOUSANDS.fullmatch(digits):
        whole, tail = parts.groups()
        advice = f"type {f'{whole}{tail} {rest}'.strip()} or {f'{whole}.{tail} {rest}'.strip()}"
        raise MoveError(f'"{digits}" can be read in two ways', _shown(advice))
    if digits.count(".") + digits.count(",") > 1:
        what = f'"{digits}" has more than one point or comma'
        raise MoveError(what, "type the number without marks between thousands, such as 1500 mm")
    _refuse_many_digits(digits)
    return Decimal(digits.replace(",", ".").removesuffix("."))


def _from_fraction(whole: str, over: str, under: str) -> Decimal:
    """``whole`` and ``over``/``under``, for the fractions on an inch rule, which are exact decimals."""
    _refuse_many_digits(whole + over)
    if under not in ("2", "4", "8", "16", "32", "64"):
        raise MoveError(f'"{over}/{under}" is no fraction of an inch rule', "type the number as a decimal")
    return Decimal(whole) + Decimal(over) / Decimal(under)


def _refuse_many_digits(digits: str) -> None:
    if len(digits) > _MOST_DIGITS:
        raise MoveError(f'"{digits}" has too many digits', f"type at most {_MOST_DIGITS} digits")


def _unit_of(rest: str, text: str, like: str) -> str:
    """The symbol of the unit in ``rest``, what stands behind the number in ``text``."""
    if key_of(rest) not in SYMBOLS and re.search(r"[0-9]", rest):
        raise MoveError(f'"{_shown(text)}" holds more than one number', _ONE_NUMBER)
    return unit_symbol(rest, like)


def _advice_on_quantity(source: Unit, to_symbol: str) -> str:
    """What to do about a reading of another quantity than the limit's."""
    if source.quantity == "mass" and UNITS[to_symbol].quantity == "force":
        return f"type lbf or kgf, if a spring scale showed pounds or kilograms, or read again in {to_symbol}"
    return f"read again in {to_symbol}"


def _exact(value: Decimal | int | float) -> Decimal:
    """``value`` as the decimal that it is written as; a float that is whole loses its ``.0``."""
    exact = Decimal(str(value).removesuffix(".0") if isinstance(value, float) else value)
    if not exact.is_finite():
        raise MoveError(f'"{value}" is no number that can be read', "read again")
    return exact


def _to_decimal(fraction: Fraction) -> Decimal:
    return Context(prec=34).divide(Decimal(fraction.numerator), Decimal(fraction.denominator))


def _figures(value: Decimal) -> int:
    """How many significant figures ``value`` is written with; zeros at the end of a whole number count."""
    return len(f"{abs(value):f}".replace(".", "").lstrip("0")) or 1


def _rounded(value: Decimal, figures: int) -> Decimal:
    """``value`` to ``figures`` significant figures, halves away from zero, with zeros at the end where it has fewer."""
    context = Context(prec=figures, rounding=ROUND_HALF_UP)
    short = context.plus(value)
    return short.quantize(Decimal(1).scaleb(short.adjusted() - figures + 1), context=context) if short else short


def _shown(text: str) -> str:
    """``text`` so that it does no harm to a terminal."""
    return "".join(character if character.isprintable() else "?" for character in text)
