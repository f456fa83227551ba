"""Names of people as files and commands have them: one or several in a text, and who is named in two texts."""

from __future__ import annotations

import re

BETWEEN = r"\band\b|[&;/+]"
"""Parts people in any case; a comma may also stand within a name."""


def people(text: str) -> frozenset[tuple[str, ...]]:
    """The people that ``text`` names: "A. Moss and B. Tarn" are two.

    Blanks, capitals, dots, Unicode forms and the order of the words of a name part nobody from themselves. Behind a
    comma initials alone belong to a name before that has none yet: "Moss, A." is A. Moss, and "C. D., A. B." are two.
    """
    # Only who releases, and what is released, is asked about; most files never come here.
    from unicodedata import normalize

    found: list[list[str]] = []
    for part in re.split(BETWEEN, normalize("NFKC", text).casefold()):
        named: list[list[str]] = []
        for piece in part.split(","):
            words = piece.replace(".", " ").split()
            if named and all(map(_is_initial, words)) and not any(map(_is_initial, named[-1])):
                named[-1] += words
            elif words:
                named.append(words)
        found += named
    return frozenset(tuple(sorted(words)) for words in found)


def _is_initial(word: str) -> bool:
    return len(word) == 1


def share_somebody(one: str, other: str) -> bool:
    """Whether somebody is named in both texts."""
    return not people(one).isdisjoint(people(other))
