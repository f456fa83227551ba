"""A forgiving search: words in any form and spelling, in symptoms, their other wordings and the equipment."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from difflib import SequenceMatcher
from typing import NamedTuple

Wording = tuple[str, tuple[str, ...], tuple[str, ...]]
"""The symptom, its other wordings, the equipment."""

SAID_ALIKE = 0.75
"""From this likeness on a word counts as misspelt: one wrong letter in four, two in eight."""

LEAST_LIKE = 0.3
MOST_NEAREST = 3
_WORD = re.compile(r"[^\W_]+")
_SMALL = frozenset(
    _WORD.findall("""
    a an and are as at be but by do does doesn did didn for from has have if in into is isn it its my no not of off
    on or out s so t that the then there this to up was wasn when while will with won would
    """)
)
_ENDINGS = ("ings", "ing", "edly", "ed", "ies", "es", "s", "ly", "er", "y", "e")


class Hit(NamedTuple):
    """Which entry, and the other wording that the words fit better than the symptom, if one does.

    ``all`` says whether every word that counts fits.
    """

    at: int
    wording: str
    all: bool = True


def search(words: Sequence[str], wordings: Sequence[Wording]) -> list[Hit]:
    """The entries that most of the words fit, in their own order; empty where no word fits anywhere.

    Where small words (is, not, the) stand beside others, only the others count.
    """
    wanted = _wanted(words)
    scores = [_score(wanted, wording) for wording in wordings]
    most = max((fitting for fitting, _ in scores), default=0)
    if not most:
        return []
    return [Hit(at, other, most == len(wanted)) for at, (fitting, other) in enumerate(scores) if fitting == most]


def _wanted(words: Sequence[str]) -> list[str]:
    every = words_in(" ".join(words))
    return [word for word in every if word not in _SMALL] or every


def words_in(text: str) -> list[str]:
    """The words of a text, in lower case and without accents."""
    plain = "".join(each for each in unicodedata.normalize("NFKD", text.casefold()) if not unicodedata.combining(each))
    return _WORD.findall(plain)


def stem(word: str) -> str:
    """The word without its commonest English ending and the letter doubled before it."""
    for ending in _ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            word = word.removesuffix(ending)
            break
    return word[:-1] if len(word) > 3 and word[-1] == word[-2] else word


def _score(wanted: Sequence[str], wording: Wording) -> tuple[int, str]:
    """How many of the words fit, and the other wording that more of them fit than the symptom."""
    symptom, others, equipment = wording
    in_equipment = [word for text in equipment for word in words_in(text)]
    best, where = _fitting(wanted, [*words_in(symptom), *in_equipment]), ""
    for other in others:
        fitting = _fitting(wanted, [*words_in(other), *in_equipment])
        if fitting > best:
            best, where = fitting, other
    every = [word for text in (symptom, *others) for word in words_in(text)]
    return max(best, _fitting(wanted, [*every, *in_equipment])), where


def _fitting(wanted: Sequence[str], words: Sequence[str]) -> int:
    return sum(any(fits(want, word) for word in words) for want in wanted)


def fits(wanted: str, word: str) -> bool:
    """Whether the two are forms of one word, one begins like the other, or one is the other misspelt."""
    one, other = stem(wanted), stem(word)
    if one == other or (len(wanted) >= 3 and word.startswith(wanted)):
        return True
    if word in _SMALL:
        return False
    if min(len(one), len(other)) < 4 or one[0] != other[0]:
        return False
    return _alike(one, other) >= SAID_ALIKE


def _alike(one: str, other: str) -> float:
    matcher = SequenceMatcher(None, one, other, autojunk=False)
    return matcher.ratio() if matcher.real_quick_ratio() >= LEAST_LIKE else 0.0


def nearest(words: Sequence[str], wordings: Sequence[Wording]) -> list[int]:
    """The entries whose wording is most like the words as a whole, nearest first."""
    asked = " ".join(words_in(" ".join(words)))[:200]
    scored = []
    for at, (symptom, others, _) in enumerate(wordings):
        like = max(_alike(asked, " ".join(words_in(text))) for text in (symptom, *others))
        if like >= LEAST_LIKE:
            scored.append((-like, at))
    return [at for _, at in sorted(scored)[:MOST_NEAREST]]
