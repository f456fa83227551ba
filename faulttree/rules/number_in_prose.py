"""A text repeats a number that stands in limits.yaml.

Meaning:
    A text of the tree has a number with its unit that is the end of a band, or the set value, of a limit. The limit is
    one that the step names by `measure` or `limits`, or it and the text speak of the same thing.

Why:
    Every number that decides stands once. When the manual changes it, the limit is changed and the text is forgotten,
    and the page then says two things.

Wrong:
    set-gap:
      fix: Set the gap
      do: Set the gap to 3 mm.
      limits: [shoe-gap]

Right:
    set-gap:
      fix: Set the gap
      do: Set the gap to its set value.
      limits: [shoe-gap]
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from faulttree.model import Check, Fix, Limit
from faulttree.rules.context import Context, Hit
from faulttree.rules.prose import Text
from faulttree.rules.sentences import has_digit, sentences, singular, words_of
from faulttree.rules.words import FUNCTION_WORDS, compiled
from faulttree.set_values import RANGE, set_to

QUANTITY = rf"(?<![\w.,]){RANGE} ?([a-z°%Ωµ][a-z·]*(?:[ -]met(?:re|er)s?\b)?)"
SAME_THING = 2
"""Words that a limit and a text must share, where the step does not name the limit."""

SPELLED = {
    "millimetre": "mm", "newton": "N", "newton metre": "N·m", "nm": "N·m", "volt": "V", "kilogram": "kg", "second": "s",
    "minute": "min",
}  # fmt: skip
"""Units in words, for one of them, and in a short form that many write."""


def check(context: Context) -> Iterator[Hit]:
    """One hit for each text and limit."""
    if not context.library.limits or not context.prose.has_digit:
        return
    for text in context.prose.texts:
        if not has_digit(text.text):
            continue
        for sentence in sentences(text.text):
            for found in compiled(QUANTITY).finditer(sentence):
                if limit := _limit(context, text, sentence, found):
                    message = f'"{found[0]}" stands in limits.yaml as well, in "{limit.id}"'
                    yield Hit(text.path, message, _help(context, text, limit))


def _limit(context: Context, text: Text, sentence: str, found: re.Match[str]) -> Limit | None:
    """The first limit that has the number and that the sentence is about."""
    numbers = {float(each.replace("−", "-")) for each in found.groups()[:2] if each}
    units = (found[3], _unit(found[3]))
    for limit in context.library.limits.values():
        same = limit.unit in units and numbers & _numbers(limit, context.variant.model)
        if same and _about(context, text, sentence, limit):
            return limit
    return None


def _unit(written: str) -> str:
    """A unit as limits have it."""
    said = singular(written.lower().replace("-", " ").replace("meter", "metre"))
    return SPELLED.get(said, written)


def _numbers(limit: Limit, model: str) -> set[float]:
    """The ends of the bands and what is set."""
    scale = limit.scales.get(model)
    ends = {band.limit for band in scale.bands if band.limit is not None} if scale else set[float]()
    return ends | set(map(float, set_to(limit.settings.get(model, "")).numbers))


def _about(context: Context, text: Text, sentence: str, limit: Limit) -> bool:
    """Whether the sentence speaks of what the limit is about."""
    ours = {singular(word) for word in words_of(sentence)}
    theirs = {singular(word) for word in words_of(limit.text)} - FUNCTION_WORDS
    shared = len(ours & theirs)
    return shared >= (1 if limit.id in _named(context, text) else SAME_THING)


def _named(context: Context, text: Text) -> tuple[str, ...]:
    """The limits that the step of the text names."""
    step = context.variant.steps.get(str(text.path[1])) if text.path[0] == "steps" else None
    if isinstance(step, Fix):
        proof = context.library.operational_checks.get(step.operational_check)
        return (*step.limits, *(proof.limits if proof else ()))
    return (step.measure,) if isinstance(step, Check) and step.measure else ()


def _help(context: Context, text: Text, limit: Limit) -> str:
    if limit.id in _named(context, text):
        return 'write "its limit" or "its set value": the limit is shown beside the step'
    return "name the limit by `limits` or `measure`, and write no number"
