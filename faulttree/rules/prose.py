"""The prose of a tree and of the shared entries: each text with its place and kind, and the words that stand in it.

The rules on wording, and those that look for words which betray something, read what is gathered here once for a tree
on a model. `words` has every word of it in lower case: a rule whose words are not among them need read no text.
Texts are cut into sentences only where a rule asks for it, and each text once, however many trees and models share it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

from faulttree.rules.sentences import ROW, all_words, has_digit, nouns, told_more_in
from faulttree.rules.words import lower
from faulttree.value import Value

Path = tuple[str | int, ...]

INSTRUCTION = "instruction"
DESCRIPTION = "description"
ENTRY = "entry"
"""A text with blanks that goes into a report or a maintenance record, in the wording of these."""


class Text(NamedTuple):
    """A text as it stands at ``path``, and whether it tells somebody to do something or describes."""

    path: Path
    text: str
    kind: str


class Prose(Value):
    """What a file says. The texts with their places are made only when a rule has a reason to read them."""

    strings: Sequence[str]
    """The texts alone, in no order that means anything; there may be more than in `texts`."""
    make: Callable[[], Sequence[Text]]

    @cached_property
    def texts(self) -> Sequence[Text]:
        """Texts in the order of the file."""
        return self.make()

    @cached_property
    def joined(self) -> str:
        """All texts, one a line: what is not in it, is in none of them."""
        return "\n".join(self.strings)

    @cached_property
    def lowered(self) -> str:
        """The same in lower case."""
        return self.joined.lower()

    @cached_property
    def words(self) -> frozenset[str]:
        """Every word of the texts, in lower case; a word with a hyphen stands as a whole and in its parts."""
        return all_words(self.lowered)

    @cached_property
    def has_digit(self) -> bool:
        """Whether there is a number in figures anywhere."""
        return has_digit(self.joined)

    @cached_property
    def blanks(self) -> int:
        """The blanks of the text that has most; texts that can have only few are not counted."""
        return max([string.count(" ") for string in self.strings if len(string) > 2 * LONG], default=0)

    @property
    def instructions(self) -> Iterator[Text]:
        """The texts that tell somebody to do something."""
        return (text for text in self.texts if text.kind == INSTRUCTION)

    def with_pieces(self, pieces: Iterable[str]) -> Iterator[Text]:
        """The instructions in which one of ``pieces`` stands; none is read where no text has any."""
        found = [piece for piece in pieces if piece in self.lowered]
        for text in self.instructions if found else ():
            lowered = text.text.lower()
            if any(piece in lowered for piece in found):
                yield text


LONG = 20
"""Blanks from which on a text may have a sentence that is too long."""


def told_more(prose: Prose) -> bool:
    """Whether a second verb of an instruction stands in any text."""
    return told_more_in(prose.lowered)


def rows_of_nouns(prose: Prose) -> bool:
    """Whether too many nouns stand in a row in any text."""
    return any(nouns(found[1].split()) for found in lower(ROW).finditer(prose.lowered))
