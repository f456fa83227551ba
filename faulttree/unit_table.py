"""The one table of units: each with its factor, and the spellings by which it is known.

Conversion factors are exact by definition (inch, pound, foot, standard gravity) or follow from those. Temperatures are
points on the scale, not differences.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple


class Unit(NamedTuple):
    """A unit: ``base = value * factor + offset`` in the base unit of its quantity; ``spellings`` beside the symbol."""

    quantity: str
    factor: Fraction
    spellings: tuple[str, ...] = ()
    offset: Fraction = Fraction(0)


_INCH = Fraction("0.0254")
_FOOT = Fraction("0.3048")
_POUND = Fraction("0.45359237")
_GRAVITY = Fraction("9.80665")
_POUND_FORCE = _POUND * _GRAVITY  # 4.4482216152605 N

UNITS = {
    "mm": Unit("length", Fraction(1, 1000), ("millimetre", "millimetres", "millimeter", "millimeters")),
    "cm": Unit("length", Fraction(1, 100), ("centimetre", "centimetres", "centimeter", "centimeters")),
    "m": Unit("length", Fraction(1), ("metre", "metres", "meter", "meters")),
    "in": Unit("length", _INCH, ("inch", "inches", '"', "″", "''")),
    "ft": Unit("length", _FOOT, ("foot", "feet", "'", "′")),
    "g": Unit("mass", Fraction(1, 1000), ("gram", "grams", "gramme", "grammes")),
    "kg": Unit("mass", Fraction(1), ("kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes")),
    "lb": Unit("mass", _POUND, ("lbs", "lbm", "pound", "pounds")),
    "N": Unit("force", Fraction(1), ("newton", "newtons")),
    "kN": Unit("force", Fraction(1000), ("kilonewton", "kilonewtons")),
    "lbf": Unit("force", _POUND_FORCE, ("lbsf", "lbfs", "pound force", "pounds force")),
    "kgf": Unit("force", _GRAVITY, ("kp", "kilogram force", "kilograms force")),
    "N·m": Unit("torque", Fraction(1), ("newton metre", "newton metres", "newton meter", "newton meters")),
    "lbf·in": Unit("torque", _POUND_FORCE * _INCH, ("in lbf", "lb in", "in lb", "lbs in", "in lbs", "inch lb",
                                                    "inch lbs", "inch pound", "inch pounds", "pound inch",
                                                    "pound inches")),
    "lbf·ft": Unit("torque", _POUND_FORCE * _FOOT, ("ft lbf", "lb ft", "ft lb", "lbs ft", "ft lbs", "foot lb",
                                                    "foot lbs", "foot pound", "foot pounds", "pound foot",
                                                    "pound feet")),
    "ozf·in": Unit("torque", _POUND_FORCE * _INCH / 16, ("in ozf", "oz in", "in oz", "inch ounce", "inch ounces")),
    "Pa": Unit("pressure", Fraction(1), ("pascal", "pascals")),
    "kPa": Unit("pressure", Fraction(1000), ("kilopascal", "kilopascals")),
    "MPa": Unit("pressure", Fraction(1_000_000), ("megapascal", "megapascals")),
    "bar": Unit("pressure", Fraction(100_000), ("bars",)),
    "psi": Unit("pressure", _POUND_FORCE / _INCH**2, ("lbf/in2", "lbf/in²", "lb/in2", "lb/in²")),
    "°C": Unit("temperature", Fraction(1), ("C", "deg C", "degree C", "degrees C", "celsius", "degrees celsius")),
    "°F": Unit("temperature", Fraction(5, 9), ("F", "deg F", "degree F", "degrees F", "fahrenheit",
                                                     "degrees fahrenheit"), Fraction(-160, 9)),
    "mV": Unit("voltage", Fraction(1, 1000), ("millivolt", "millivolts")),
    "V": Unit("voltage", Fraction(1), ("volt", "volts", "VDC", "V DC")),
    "mA": Unit("current", Fraction(1, 1000), ("milliamp", "milliamps", "milliampere", "milliamperes")),
    "A": Unit("current", Fraction(1), ("amp", "amps", "ampere", "amperes")),
    "Ω": Unit("resistance", Fraction(1), ("ohm", "ohms")),
    "kΩ": Unit("resistance", Fraction(1000), ("kohm", "kohms", "kilohm", "kilohms")),
    "s": Unit("time", Fraction(1), ("sec", "secs", "second", "seconds")),
    "min": Unit("time", Fraction(60), ("mins", "minute", "minutes")),
    "h": Unit("time", Fraction(3600), ("hr", "hrs", "hour", "hours")),
    "°": Unit("angle", Fraction(1), ("deg", "degs", "degree", "degrees")),
    "%": Unit("share", Fraction(1), ("percent", "per cent", "pct")),
}  # fmt: skip
"""Every unit by its symbol."""

_JOINTS = re.compile(r"[\s.·⋅∙•*×_\-‐-―−]+")
_LOOKALIKES = str.maketrans({"º": "°", "˚": "°", "”": '"', "“": '"', "’": "'", "‘": "'"})


def key_of(spelling: str) -> str:
    """``spelling`` without the marks that people put between the parts of a unit, and without capitals."""
    return _JOINTS.sub("", spelling.translate(_LOOKALIKES)).casefold()


SYMBOLS = {key_of(spelling): symbol for symbol, unit in UNITS.items() for spelling in (symbol, *unit.spellings)}
"""Every spelling, without marks and capitals, with its symbol."""
