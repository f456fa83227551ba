"""A check takes something apart and does not say that it is put back.

Meaning:
    A line of a check unhooks, removes or undoes something. No line after it puts it back, and neither the check, nor a
    finding, nor its access opens an item that would keep it in sight. The first that is left apart is told.

Why:
    A fix follows on one way only. On the others the pin stays out, and nothing on the screen says so.

Wrong:
    drag:
      check: Does the cable run free?
      do:
        - Unhook the cable eye.
        - Pull the cable by hand.

Right:
    drag:
      check: Does the cable run free?
      do:
        - Unhook the cable eye.
        - Pull the cable by hand.
        - Hook the cable eye again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from faulttree.model import Check
from faulttree.rules.context import Context, Hit
from faulttree.rules.sentences import sentences, words_of
from faulttree.rules.words import BACK, DISTURB_WORDS, FASTENED, IN_USE, PUTS, REMOVES, RESTORES, TAKES, UNDOES

REACH = 7
"""Words within which what is taken is followed by off or out."""


def check(context: Context) -> Iterator[Hit]:
    """At most one hit for each check."""
    if context.prose.words.isdisjoint(DISTURB_WORDS):
        return
    for step in context.checks:
        if step.do and step.base == step.id and not step.opens:
            apart = next(_left_apart(context, step), None)
            if apart and not _opens(context, step):
                yield apart


def _opens(context: Context, step: Check) -> bool:
    accesses = context.library.accesses
    return any(finding.opens for finding in step.findings) or any(
        accesses[name].opens for name in step.accesses if name in accesses
    )


def _left_apart(context: Context, step: Check) -> Iterator[Hit]:
    every = [(at, words_of(sentence)) for at, line in enumerate(step.do) for sentence in sentences(line)]
    for number, (at, words) in enumerate(every):
        if found := _disturbs(words):
            begin, end = found
            after = [words[end:], *(later for _, later in every[number + 1 :])]
            if not any(map(_restores, after)):
                what = " ".join(words[begin:end])
                message = f'the check "{step.id}" disturbs something, "{what}", and does not restore it'
                advice = "add a line that puts it back, or keep it in sight by `opens`"
                yield Hit((*context.do_path(step.id), at), message, advice)


def _disturbs(words: Sequence[str]) -> tuple[int, int] | None:
    """From where to where words tell to take something apart; what is taken out in use is left alone."""
    for at, word in enumerate(words):
        within = words[at + 1 : at + REACH]
        if word in UNDOES:
            return at, min(at + 3, len(words))
        if word in TAKES:
            away = next((to for to, other in enumerate(within, at + 1) if other in ("off", "out")), 0)
            if away and words[away + 1 : away + 2] != ("of",) and IN_USE.isdisjoint(words[at:away]):
                return at, away + 1
        if word in REMOVES and not FASTENED.isdisjoint(within[:4]):
            return at, min(at + 4, len(words))
    return None


def _restores(words: Sequence[str]) -> bool:
    return any(
        word in RESTORES or (word in PUTS and not BACK.isdisjoint(words[at + 1 :])) for at, word in enumerate(words)
    )
