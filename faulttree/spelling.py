"""A code in the words that are said over the radio, and back from what was heard and typed.

Letters take the words of the spelling alphabet of ICAO Annex 10, volume II, and of the ITU Radio Regulations,
Appendix 14, in their spelling (Alfa, Juliett, X-ray). Digits are said singly in plain English, as Annex 10 writes
them. On input the spellings that people use are taken too, with the pronunciations of Annex 10 (tree, fife, niner)
and the figure words of Appendix 14 (unaone).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches

from faulttree.problems import CodeError

LETTERS = (
    "Alfa", "Bravo", "Charlie", "Delta", "Echo", "Foxtrot", "Golf", "Hotel", "India", "Juliett", "Kilo", "Lima", "Mike",
    "November", "Oscar", "Papa", "Quebec", "Romeo", "Sierra", "Tango", "Uniform", "Victor", "Whiskey", "X-ray",
    "Yankee", "Zulu",
)  # fmt: skip
DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")

_WORDS = {word[0].upper(): word for word in LETTERS} | {str(value): word for value, word in enumerate(DIGITS)}
_HEARD = {word.lower(): character for character, word in _WORDS.items()} | {
    "alpha": "A", "foxtrott": "F", "juliet": "J", "juliette": "J",
    "oskar": "O", "viktor": "V", "whisky": "W", "xray": "X",
    "wun": "1", "too": "2", "tree": "3", "fower": "4", "fife": "5", "ait": "8", "niner": "9",
    "nadazero": "0", "unaone": "1", "bissotwo": "2", "terrathree": "3", "kartefour": "4",
    "pantafive": "5", "soxisix": "6", "setteseven": "7", "oktoeight": "8", "novenine": "9",
    "dash": "", "hyphen": "",
}  # fmt: skip
_IN_TWO_PARTS = {
    ("x", "ray"): "X", ("fox", "trot"): "F",
    ("ze", "ro"): "0", ("fow", "er"): "4", ("sev", "en"): "7", ("nin", "er"): "9",
}  # fmt: skip

_BETWEEN = re.compile(r"""[\s\-‐-―−_.,;:/'"“”‘’()]+""")
_GROUP = 4
"""Characters in a group of a code as it is written; longer runs of letters are words."""
_LONGEST = 1000


def spell(code: str) -> tuple[str, ...]:
    """The word for each character of ``code``, in order; hyphens and blanks mean nothing, small letters are as good.

    :raises CodeError: where ``code`` has a character other than a letter A to Z or a digit.
    """
    return tuple(_WORDS[character] for character in "".join(_pieces(code)).upper())


def despell(words: str | Iterable[str]) -> str:
    """The code that ``words`` spell: words, groups of the code itself, or both mixed; the first of ``readings``.

    :raises CodeError: as ``readings`` does.
    """
    return readings(words)[0]


def readings(words: str | Iterable[str]) -> tuple[str, ...]:
    """The code that was meant, one or two readings, the likelier first.

    ``ZULU`` may be the letter Z as a word or four characters of a code as they are written. Where that makes a
    difference the second reading takes what fits in a group of four as written; the check characters tell which it is.

    :raises CodeError: for a long word that is not of the spelling alphabet, a character that is neither letter nor
        digit, and a text of more than a thousand characters.
    """
    pieces = _pieces(words if isinstance(words, str) else " ".join(words))
    as_words = _read(pieces)
    as_written = "".join(piece.upper() if len(piece) <= _GROUP else _character(piece) for piece in pieces)
    return (as_words,) if as_words == as_written else (as_words, as_written)


def _pieces(text: str) -> list[str]:
    """``text`` in small letters, cut at hyphens, blanks and punctuation."""
    if len(text) > _LONGEST:
        raise CodeError(f"a code of {len(text)} characters is too long", "type one code or its words")
    pieces = [piece for piece in _BETWEEN.split(text) if piece]
    for character in "".join(pieces):
        if not (character.isascii() and character.isalnum()):
            shown = character if character.isprintable() else f"U+{ord(character):04X}"
            raise CodeError(f'"{shown}" cannot stand in a code', "use the digits 0 to 9 and the letters A to Z")
    return [piece.lower() for piece in pieces]


def _read(pieces: list[str]) -> str:
    """The code with every piece that can be a word taken as a word."""
    code = []
    left = list(reversed(pieces))
    while left:
        piece = left.pop()
        if left and (piece, left[-1]) in _IN_TWO_PARTS:
            code.append(_IN_TWO_PARTS[piece, left.pop()])
        else:
            code.append(_character(piece))
    return "".join(code)


def _character(piece: str) -> str:
    """What one piece stands for: the character of a word, or the characters of a group of the code."""
    if piece in _HEARD:
        return _HEARD[piece]
    if len(piece) <= _GROUP or not piece.isalpha():
        return piece.upper()
    near = get_close_matches(piece[:24], _HEARD, n=1, cutoff=0.7)
    known = _WORDS.get(_HEARD[near[0]]) if near else None
    advice = "type words such as Alfa or seven, or the code in groups of four"
    if known:
        advice = f"type {known}, if that was meant"
    raise CodeError(f'"{piece[:24]}" is no word of the spelling alphabet', advice)
