"""More than three nouns stand in a row.

Meaning:
    Four or more words stand together that are no verbs, no small words and no known adjectives, such as "cot lock pin
    wear limit". Names of parts with a hyphen count as one. The limit of three is that of ASD-STE100.

Why:
    Which word belongs to which has to be guessed, and most of all by those whose first language is another.

Wrong:
    do:
      - Measure the cot lock pin wear limit.

Right:
    do:
      - Measure the wear of the cot lock pin.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.prose import Prose
from faulttree.rules.words import (
    ALSO_NOUNS,
    FUNCTION_WORDS,
    NO_NOUN_ENDINGS,
    PLAIN_ADJECTIVES,
    STATE_VERBS,
    VERBS,
    compiled,
    lower,
)

MOST = 3
ENDS = FUNCTION_WORDS | PLAIN_ADJECTIVES | STATE_VERBS


def check(context: Context) -> Iterator[Hit]:
    """One hit for each row of nouns."""
    yield from _hits(context.prose)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each row of nouns."""
    yield from _hits(shared.prose)


def _hits(prose: Prose) -> Iterator[Hit]:
    search = lower(ROW).finditer
    likely = any(_nouns(found[1].split()) for found in search(prose.lowered))
    for path, text, _ in prose.texts if likely else ():
        for found in search(text.lower()):
            if row := _nouns(found[1].split()):
                yield Hit(path, f'a row of {len(row)} nouns: "{" ".join(row)}"', 'part them by "of", "for" or "at"')
                break


ROW = r"the ((?:[a-z][a-z-]+ ){3,}[a-z][a-z-]+)"
"""Words without a mark between them, behind "the": there nearly all rows of nouns stand."""


def _nouns(words: list[str]) -> list[str]:
    """The nouns at the beginning of a row of words, where they are too many."""
    row: list[str] = []
    for word in words:
        if word in ENDS or compiled(NO_NOUN_ENDINGS).search(word):
            break
        if row and word in VERBS and word not in ALSO_NOUNS:
            break
        row.append(word)
        if word.endswith("s") and not word.endswith("ss") and len(row) > MOST:
            break
    return row if len(row) > MOST else []
