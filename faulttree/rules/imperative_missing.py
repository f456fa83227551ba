"""An instruction is not in the imperative.

Meaning:
    A line that somebody is to do says that something should, must or has to be done, or that somebody should do it.

Why:
    "The nut should be tightened" leaves open who does it, and whether it is done already. "Tighten the nut" does not.
    The idea is that of ASD-STE100.

Wrong:
    do:
      - The ring should be tightened by hand.

Right:
    do:
      - Tighten the ring by hand.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.prose import Prose
from faulttree.rules.sentences import sentences, words_of
from faulttree.rules.words import DUTY, DUTY_WITH_TO, MODAL_PIECES, PARTICIPLES, PERSONS


def check(context: Context) -> Iterator[Hit]:
    """One hit for each sentence."""
    yield from _hits(context.prose)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each sentence."""
    yield from _hits(shared.prose)


def _hits(prose: Prose) -> Iterator[Hit]:
    for path, text, _ in prose.with_pieces(MODAL_PIECES):
        for sentence in sentences(text):
            if told := _told_otherwise(words_of(sentence)):
                yield Hit(path, f'an instruction is not in the imperative: "{told}"', "begin with the verb")


def _told_otherwise(words: Sequence[str]) -> str:
    """The words that tell somebody to do something in another form than the imperative; empty where none do."""
    if words[:1] == ("please",):
        return "please"
    if words[:1] == ("you",) or (words[:1] == ("the",) and not PERSONS.isdisjoint(words[1:2])):
        told = words[: 2 if words[0] == "you" else 3]
        if told[-1] in DUTY or told[-1] in ("will", "has", "have", "needs", "need"):
            return " ".join(told)
    for at, word in enumerate(words):
        to = at + (2 if word in DUTY_WITH_TO and words[at + 1 : at + 2] == ("to",) else 1)
        if (word in DUTY or to == at + 2) and words[to : to + 1] == ("be",):
            done = words[to + 1 : to + 2]
            if done and (done[0] in PARTICIPLES or (done[0].endswith("ed") and len(done[0]) > 4)):
                return " ".join(words[at : to + 2])
    return ""
