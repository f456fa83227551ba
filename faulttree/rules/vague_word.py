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
from faulttree.rules.words import VAGUE, VAGUE_WORDS, compiled


def check(context: Context) -> Iterator[Hit]:
    """One hit for each text and word."""
    yield from _hits(context.prose)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each text and word."""
    yield from _hits(shared.prose)


def _hits(prose: Prose) -> Iterator[Hit]:
    search = compiled(VAGUE).finditer
    for path, text, kind in prose.with_any(VAGUE_WORDS):
        if kind == ENTRY:
            continue
        for found in dict.fromkeys(each[0].lower() for each in search(text)):
            yield Hit(path, f'"{found}" leaves open what is meant', "write what is to be seen, felt or measured")
