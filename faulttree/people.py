"""Names of people as files and commands have them: one or several in a text, and who is named in two texts."""

from __future__ import annotations

import re

BETWEEN = r"\band\b|[&,;/+]"


def people(text: str) -> frozenset[tuple[str, ...]]:
    """The people that ``text`` names: "A. Moss and B. Tarn" are two.

    Blanks, capitals, dots, Unicode forms and the order of the words of a name part nobody from themselves. Behind a
    comma initials alone belong to the name before: "Moss, A." is A. Moss.
    """
    # Only who releases, and what is released, is asked about; most files never come here.
    from unicodedata import normalize

    found: list[list[str]] = []
    for piece in re.split(BETWEEN, normalize("NFKC", text).casefold()):
        words = piece.replace(".", " ").split()
        if found and words and all(len(word) == 1 for word in words):
            found[-1] += words
        elif words:
            found.append(words)
    return frozenset(tuple(sorted(words)) for words in found)


def share_somebody(one: str, other: str) -> bool:
    """Whether somebody is named in both texts."""
    return not people(one).isdisjoint(people(other))
