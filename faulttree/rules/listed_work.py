"""Whether a line of what a role may do names a part to fit or a consumable to use.

A line names it where it tells to fit, change or use something and, in the same clause and as its object, has the name:
all of it, or the two words that the name ends with, as "Change a complete strap set" names a hip strap set. So "Push
every handle" names no push handle to fit, and "Use the override bar" allows no new bar. Behind a preposition stands no
object: "Change the tape on the wheel" names no wheel. Of what is used, "with" has the object too.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from faulttree.rules.sentences import singular, words_of
from faulttree.rules.words import ALSO_NOUNS, FITS, FUNCTION_WORDS, PREPOSITIONS, USES, VERBS, compiled

CONDITION = r"\b(?:if|when|where|while|after|before|until|unless|except|only)\b.*"
"""What follows says when, and names nothing that may be done."""
CLAUSE = r"([,;:.]\s|\b(?:and|or)\b)"
BEHIND_THE_NAME = r"[(,;]|\b\w*\d|\b(?:at|for|from|in|of|on|to|with|without)\b"
"""Where the name itself ends: "Wheel | with bearings", "Foot bumper | 25 mm"."""
DENIED = frozenset(("no", "not", "never"))
NO_PART_OF_IT = FUNCTION_WORDS | {"complete"}


def named_in(lines: Iterable[str], name: str, verbs: frozenset[str]) -> bool:
    """Whether one of ``lines`` tells to do one of ``verbs`` with what is called ``name``."""
    whole, short = _content(name), _content(compiled(BEHIND_THE_NAME).split(name)[0])[-2:]
    return any(_has(words, whole, short) for line in lines for words in _clauses(line, verbs))


def _content(text: str) -> list[str]:
    return [singular(word) for word in words_of(text) if word not in NO_PART_OF_IT]


def _clauses(line: str, verbs: frozenset[str]) -> Iterator[list[str]]:
    """The objects of each of ``verbs``, small words as gaps; a clause without a verb goes with the one before.

    Behind an object it is one more; "and" behind a preposition goes on with what is no object.
    """
    also = PREPOSITIONS if verbs <= FITS else PREPOSITIONS - {"with"}
    told = aside = False
    pieces = ["", *re.split(CLAUSE, f"{compiled(CONDITION).sub('', line)} ".lower())]
    for mark, clause in zip(pieces[::2], pieces[1::2], strict=True):
        words = words_of(clause)
        if words and _is_verb(words):
            told, words = words[0] in verbs, words[1:]
        elif words and aside and mark in ("and", "or"):
            told = False
        found = _objects(words, also)
        aside = len(found) > 0 and found[-1] is None
        if told and DENIED.isdisjoint(words):
            yield ["" if word in FUNCTION_WORDS else singular(word) for word in found if word and word != "complete"]
        # "Without the strap or the wheel", "no strap or wheel": neither.
        told = told and DENIED.isdisjoint(words) and "without" not in words


def _objects(words: Iterable[str], prepositions: frozenset[str]) -> list[str | None]:
    """The words, and None for all that stands behind a preposition up to one that is none of these."""
    found: list[str | None] = []
    for word in words:
        if word in prepositions:
            found.append(None)
        elif word == "with" or not found or found[-1] is not None:
            found.append(word)
    return found


def _is_verb(words: tuple[str, ...]) -> bool:
    """Whether the first word is told to be done, and is not the last thing that is counted up: "... and lock"."""
    return words[0] in VERBS | USES and (len(words) > 1 or words[0] not in ALSO_NOUNS)


def _has(words: list[str], whole: list[str], short: list[str]) -> bool:
    """Whether a name stands in the words, and no noun behind it makes it the name of something else."""
    for at in range(len(words) - len(short) + 1 if short else 0):
        to = at + len(short)
        if words[at:to] == short and not any(words[to : to + 1]):
            return True
    said = [word for word in words if word]
    return bool(whole) and said[-len(whole) :] == whole
