"""A word leaves it to the reader what is meant.

Meaning:
    A text has a word such as "properly", "sufficient", "normal" or "if necessary". The words of an entry
    (`did`, `found`, `proved`, `report`) are those of the trade, and are not asked. The list is short, and stands with
    all others in faulttree/rules/words.py.

Why:
    Two people do two different things, and both have done what the page says.

Wrong:
    do:
      - Make sure that the ring is properly tight.

Right:
    do:
      - Turn the ring until it stops.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.prose import ENTRY, Prose
from faulttree.rules.sentences import words_of
from faulttree.rules.words import VAGUE_PHRASES, VAGUE_WORDS


def check(context: Context) -> Iterator[Hit]:
    """One hit for each text and word."""
    yield from _hits(context.prose)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each text and word."""
    yield from _hits(shared.prose)


def _hits(prose: Prose) -> Iterator[Hit]:
    phrases = [phrase for phrase in VAGUE_PHRASES if phrase in prose.lowered]
    singles = prose.words & VAGUE_WORDS
    for path, text, kind in prose.texts if phrases or singles else ():
        lowered = text.lower()
        if kind == ENTRY or not any(each in lowered for each in (*singles, *phrases)):
            continue
        found = [*(word for word in words_of(text) if word in singles), *(each for each in phrases if each in lowered)]
        for each in dict.fromkeys(found):
            yield Hit(path, f'"{each}" leaves open what is meant', "write what is to be seen, felt or measured")
