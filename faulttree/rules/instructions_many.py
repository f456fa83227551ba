"""A sentence tells somebody to do two things.

Meaning:
    A sentence in the imperative has a second verb with an object of its own: "Take the ring off and wipe the seal."
    What is done to one thing at the same time ("Push and pull the rim") or while something is held or watched is one.
    A word that is as often a noun ("dust and grease") is a second verb only before an article, "it" or "them".

Why:
    One of the two is forgotten, and a line that is half done is ticked. The idea is that of ASD-STE100: one instruction
    a sentence.

Wrong:
    do:
      - Take the ring off and wipe the seal.

Right:
    do:
      - Take the ring off. Wipe the seal.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.prose import Prose, told_more
from faulttree.rules.sentences import sentences, told_more_in
from faulttree.rules.words import ALSO_NOUNS, TOLD_AFTER, lower

LEAD_IN = (
    r"^(?:if|with|when|before|after|while|on|where|once|until|then|at|in|by|for)\b[^,]*,\s*"
    r"(?:\w+(?: or [^,]*)?,\s*)*"
)
"""What stands before an instruction, with all that it counts up: "If it is frayed, cut, stiff or old, "."""
SECOND = r"(,? then|,? and then|[,;]? and|[,;])\s+(\w+)\s*(\w*)"
ADVERBS = frozenset(
    ("again", "back", "out", "off", "in", "on", "up", "down", "and", "or", "once", "twice", "slowly", "home")
)
ARTICLES = frozenset(("the", "a", "an", "its", "their", "your", "each", "all", "every", "one", "both"))
SAME_OBJECT = frozenset(("it", "them", "its", ""))
OBJECTS = ARTICLES | {"it", "them"}


def check(context: Context) -> Iterator[Hit]:
    """One hit for each sentence."""
    yield from _hits(context.prose)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each sentence."""
    yield from _hits(shared.prose)


def _hits(prose: Prose) -> Iterator[Hit]:
    for path, text, _ in prose.instructions if told_more(prose) else ():
        if told_more_in(text.lower()):
            for sentence in sentences(text):
                if told := _second(sentence):
                    message = f'a sentence tells to do more than one thing: "{told}"'
                    yield Hit(path, message, "write a sentence for each")


def _second(sentence: str) -> str:
    """The second instruction of the sentence, with the word that joins it; empty where there is none."""
    told = lower(LEAD_IN).sub("", sentence.lower())
    first = told.split(" ", 1)[0].strip(",.").lower()
    if first not in TOLD_AFTER:
        return ""
    for found in lower(SECOND).finditer(told):
        joint, verb, following = found.groups()
        alone = found.start() <= len(first)
        if verb not in TOLD_AFTER or alone:
            continue
        if verb in ALSO_NOUNS and _a_noun(joint, following):
            continue
        if joint.endswith("then") or (following.lower() not in SAME_OBJECT and following.lower() not in ADVERBS):
            return found[0].strip(" ,;")
    return ""


def _a_noun(joint: str, following: str) -> bool:
    """Whether a word that may be a verb is none: "dust and grease from the rail", "the lock and release levers"."""
    return not joint.endswith("then") and following not in OBJECTS
