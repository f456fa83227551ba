"""Two check characters after ISO/IEC 7064, system MOD 1271-36, so that a slip in a code is seen.

Read as a number to the radix 36 (``0`` to ``9``, then ``A`` to ``Z``), a code with its check characters leaves the
remainder 1 when divided by 1271 = 31 × 41. Because 1271 shares no factor with 36 or 35 and every two characters
differ by less than 1271, each single wrong character and each swap of two neighbours is found. Other errors slip
through about once in 1271.

Zeros in front do not count in a number, so a ``0`` lost or added at the front is not found: let a code begin with a
letter.
"""

from __future__ import annotations

from faulttree.problems import CodeError

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
LENGTH = 2
"""How many check characters a code ends with."""

_MODULUS = 1271
_RADIX = 36
_VALUES = {character: value for value, character in enumerate(ALPHABET)}


def check_characters(text: str) -> str:
    """The two check characters for ``text``, which is over ``0`` to ``9`` and ``A`` to ``Z`` only, not empty.

    :raises CodeError: where ``text`` is empty or has another character, a small letter or hyphen included.

    Source: ISO/IEC 7064:2003, pure systems with two check characters.
    """
    if not text:
        raise CodeError("an empty code has no check characters", "type the code")
    for character in text:
        if character not in _VALUES:
            what = f'"{_shown(character)}" cannot stand in a code'
            raise CodeError(what, "use the digits 0 to 9 and the letters A to Z")
    check = (1 - _remainder(text) * _RADIX**LENGTH) % _MODULUS
    return ALPHABET[check // _RADIX] + ALPHABET[check % _RADIX]


def has_valid_check(text: str) -> bool:
    """Whether ``text`` is at least one character followed by the check characters that belong to it."""
    if len(text) <= LENGTH or any(character not in _VALUES for character in text):
        return False
    return _remainder(text) == 1


def _remainder(text: str) -> int:
    """``text`` as a number to the radix 36, modulo 1271; character by character, so that any length is quick."""
    remainder = 0
    for character in text:
        remainder = (remainder * _RADIX + _VALUES[character]) % _MODULUS
    return remainder


def _shown(character: str) -> str:
    """A character that does no harm to a terminal."""
    return character if character.isprintable() else f"U+{ord(character):04X}"
