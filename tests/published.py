"""Printed values that the tests compare with, each with its source and how sure the value is.

How sure: *seen* is read in the source; *quoted* is read in another text that quotes the source; *from memory* is
neither; *common practice* has no source.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Final

# ISO/IEC 7064, MOD 1271-36: the standard's example string and its two check characters.
# Quoted: printed as "ISO 79" to "ISO 793W" in the documentation of an open implementation of ISO/IEC 7064:2003.
ISO_7064_EXAMPLE: Final = ("ISO79", "3W")

# Spelling alphabet of ICAO Annex 10, volume II, figure 5-1. The same words stand in the ITU Radio Regulations,
# Appendix 14. Seen in the EU's copy of it, Regulation 923/2012, SERA.14020, table S14-2; quoted for Appendix 14.
SPELLING_ALPHABET: Final = (
    ("A", "Alfa"), ("B", "Bravo"), ("C", "Charlie"), ("D", "Delta"), ("E", "Echo"), ("F", "Foxtrot"), ("G", "Golf"),
    ("H", "Hotel"), ("I", "India"), ("J", "Juliett"), ("K", "Kilo"), ("L", "Lima"), ("M", "Mike"), ("N", "November"),
    ("O", "Oscar"), ("P", "Papa"), ("Q", "Quebec"), ("R", "Romeo"), ("S", "Sierra"), ("T", "Tango"), ("U", "Uniform"),
    ("V", "Victor"), ("W", "Whiskey"), ("X", "X-ray"), ("Y", "Yankee"), ("Z", "Zulu"),
)  # fmt: skip

# Pronunciation of figures, as the UK Radiotelephony Manual (CAP 413), chapter 2, table 2, prints it; quoted. ICAO
# Annex 10, volume II, 5.2.1.4.3.1 has the same, with hyphens in ZE-RO, FOW-er, SEV-en and NIN-er: from memory.
FIGURES_PRONOUNCED: Final = ("ZERO", "WUN", "TOO", "TREE", "FOWER", "FIFE", "SIX", "SEVEN", "AIT", "NINER")

# "All numbers ... shall be transmitted by pronouncing each digit separately": ICAO Annex 10, volume II,
# 5.2.1.4.1.1, with the example "squawk two four zero zero" for 2 400. Quoted.
DIGITS_SAID_SINGLY: Final = ("2400", ("two", "four", "zero", "zero"))

# Figure words 0 to 9 of the ITU Radio Regulations, Appendix 14. Quoted.
ITU_FIGURE_WORDS: Final = (
    "Nadazero", "Unaone", "Bissotwo", "Terrathree", "Kartefour", "Pantafive", "Soxisix", "Setteseven", "Oktoeight",
    "Novenine",
)  # fmt: skip

# NIST Special Publication 811, appendix B, factors to seven significant figures.
NIST_LBF_IN_N: Final = Decimal("4.448222")  # pound-force; quoted
NIST_LBF_FT_IN_NM: Final = Decimal("1.355818")  # pound-force foot; quoted
NIST_LBF_IN_IN_NM: Final = Decimal("0.1129848")  # pound-force inch; quoted
NIST_OZF_IN_IN_NM: Final = Decimal("0.007061552")  # ounce-force inch; quoted
NIST_PSI_IN_PA: Final = Decimal("6894.757")  # pound-force per square inch; quoted
NIST_KGF_IN_N: Final = Decimal("9.80665")  # kilogram-force, exact; quoted

# Pound-force inch in N·m to sixteen figures, as several open unit libraries print it; quoted.
LBF_IN_IN_NM_LONG: Final = Decimal("0.1129848290276167")

# Exact by definition (international yard and pound, 1959); from memory.
INCH_IN_MM: Final = Decimal("25.4")
FOOT_IN_M: Final = Decimal("0.3048")
POUND_IN_KG: Final = Decimal("0.45359237")

# Fixed points of the two scales, °F and °C: water freezes, water boils, the scales meet. Common knowledge, no source.
FAHRENHEIT_AND_CELSIUS: Final = ((Decimal(32), Decimal(0)), (Decimal(212), Decimal(100)), (Decimal(-40), Decimal(-40)))

# Masses in lb and in kg to two decimals. Common practice, no source.
POUNDS_AND_KILOGRAMS: Final = ((Decimal(62), Decimal("28.12")), (Decimal(70), Decimal("31.75")))
