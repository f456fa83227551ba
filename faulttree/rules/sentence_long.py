"""A sentence is too long.

Meaning:
    A sentence that tells somebody to do something has more than 20 words, or one that describes has more than 25. The
    limits are those of ASD-STE100, Simplified Technical English.

Why:
    Long sentences are read to the middle. On the ramp there is no second reading.

Wrong:
    do:
      - >-
        Take the ring off and look at the seal from both sides with the torch, because a seal that is cut at one place
        lets water in.

Right:
    do:
      - Take the ring off.
      - Look at the seal from both sides with the torch. A cut lets water in.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.prose import INSTRUCTION, LONG, Prose
from faulttree.rules.sentences import sentences

MOST = {INSTRUCTION: LONG}
MOST_OF_DESCRIPTION = 25


def check(context: Context) -> Iterator[Hit]:
    """One hit for each text, with its longest sentence."""
    yield from _hits(context.prose)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each text, with its longest sentence."""
    yield from _hits(shared.prose)


def _hits(prose: Prose) -> Iterator[Hit]:
    for path, text, kind in prose.texts if prose.blanks >= LONG else ():
        most = MOST.get(kind, MOST_OF_DESCRIPTION)
        # Blanks bound the words from above, and most texts are that short.
        if text.count(" ") >= most:
            longest = max(map(_words, sentences(text)))
            if longest > most:
                kind_of = "an instruction" if kind == INSTRUCTION else "a description"
                message = f'{kind_of} has a sentence of {longest} words: "{_start(text, most)}"'
                yield Hit(path, message, f"write it in sentences of at most {most} words")


def _words(sentence: str) -> int:
    return sum(1 for word in sentence.split() if any(character.isalnum() or character == "_" for character in word))


def _start(text: str, most: int) -> str:
    """The first words of the longest sentence."""
    longest = max(sentences(text), key=_words)
    return " ".join(longest.split()[:5]) + " ..."
