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

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.prose import INSTRUCTION, Prose, sentences
from faulttree.rules.words import MODAL, MODAL_WORDS, compiled


def check(context: Context) -> Iterator[Hit]:
    """One hit for each sentence."""
    yield from _hits(context.prose)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each sentence."""
    yield from _hits(shared.prose)


def _hits(prose: Prose) -> Iterator[Hit]:
    search = compiled(MODAL).search
    for path, text, kind in prose.with_any(MODAL_WORDS):
        for sentence in sentences(text) if kind == INSTRUCTION else ():
            if found := search(sentence):
                yield Hit(path, f'an instruction is not in the imperative: "{found[0]}"', "begin with the verb")
