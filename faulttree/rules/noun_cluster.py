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
from faulttree.rules.prose import Prose, rows_of_nouns
from faulttree.rules.sentences import ROW, nouns
from faulttree.rules.words import lower


def check(context: Context) -> Iterator[Hit]:
    """One hit for each row of nouns."""
    yield from _hits(context.prose)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each row of nouns."""
    yield from _hits(shared.prose)


def _hits(prose: Prose) -> Iterator[Hit]:
    for path, text, _ in prose.texts if rows_of_nouns(prose) else ():
        for found in lower(ROW).finditer(text.lower()):
            if row := nouns(found[1].split()):
                yield Hit(path, f'a row of {len(row)} nouns: "{" ".join(row)}"', 'part them by "of", "for" or "at"')
                break
