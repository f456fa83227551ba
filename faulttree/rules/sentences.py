"""Sentences and words of a text, and what stands in them: numbers, a second verb, a row of nouns."""

from __future__ import annotations

from functools import lru_cache

from faulttree.rules.words import (
    ALSO_NOUNS,
    FUNCTION_WORDS,
    NO_NOUN_ENDINGS,
    PARTICIPLES,
    PLAIN_ADJECTIVES,
    STATE_VERBS,
    TOLD_AFTER,
    VERBS,
    compiled,
    lower,
)

_MARKS_OF_SENTENCE = str.maketrans(dict.fromkeys(",:;!?()[]{}\"'“”‘’/=<>–—", " "))
_MARKS = {**_MARKS_OF_SENTENCE, ord("."): " "}
"""Marks as blanks; within a sentence a point belongs to a number or to a short form."""

_END = r"(?<=[.!?])(?<!\bno\.)(?<!\bNo\.)(?<!\bapprox\.)(?<!\be\.g\.)(?<!\bi\.e\.)\s+"


def has_digit(text: str) -> bool:
    """Whether a text has a number in figures."""
    return lower("[0-9]").search(text) is not None


@lru_cache(maxsize=4096)
def sentences(text: str) -> tuple[str, ...]:
    """The sentences of ``text``; the point of a number or of a short form such as "no." ends none."""
    return tuple(compiled(_END).split(text.strip()))


@lru_cache(maxsize=4096)
def words_of(sentence: str) -> tuple[str, ...]:
    """The words of a sentence in lower case, without marks; words with a hyphen and numbers stay whole."""
    return tuple(word.strip("-.") for word in sentence.lower().translate(_MARKS_OF_SENTENCE).split())


def singular(word: str) -> str:
    """A word without the ending of its plural, good enough to compare words of one text with those of another."""
    if len(word) > 4 and word.endswith("ies"):
        return f"{word[:-3]}y"
    if word.endswith(("ches", "shes", "xes")):
        return word[:-2]
    return word.removesuffix("s") if len(word) > 3 else word


def first_word(text: str, beginnings: tuple[str, ...]) -> str:
    """The first word of a text that begins with one of ``beginnings``, in lower case; empty where there is none."""
    return next((word for word in words_of(text) if word.startswith(beginnings)), "")


def all_words(lowered: str) -> frozenset[str]:
    """Every word of texts in lower case; a word with a hyphen stands as a whole and in its parts."""
    every = set(lowered.translate(_MARKS).split())
    joined = [word for word in every if "-" in word]
    return frozenset(every.union(*(word.split("-") for word in joined)) if joined else every)


# -- what all texts of a file are searched for at once

LIKELY = r"(?:and|then|[,;]) (?:then )?(\w+)"
MOST_NOUNS = 3
ENDS_OF_ROW = FUNCTION_WORDS | PLAIN_ADJECTIVES | STATE_VERBS | (PARTICIPLES - ALSO_NOUNS)


def told_more_in(lowered: str) -> bool:
    """Whether a second verb of an instruction stands in texts in lower case."""
    return any(found[1] in TOLD_AFTER for found in lower(LIKELY).finditer(lowered))


ROW = r"the ((?:[a-z][a-z-]+ ){3,}[a-z][a-z-]+)"
"""Words without a mark between them, behind "the": there nearly all rows of nouns stand."""


def nouns(words: list[str]) -> list[str]:
    """The nouns at the beginning of a row of words, where they are too many."""
    row: list[str] = []
    for word in words:
        if word in ENDS_OF_ROW or lower(NO_NOUN_ENDINGS).search(word):
            break
        if row and word in VERBS and word not in ALSO_NOUNS:
            break
        row.append(word)
        if word.endswith("s") and not word.endswith("ss") and len(row) > MOST_NOUNS:
            break
    return row if len(row) > MOST_NOUNS else []
