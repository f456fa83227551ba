"""A text repeats a number that stands in limits.yaml.

Meaning:
    A text of the tree, or of what is done at an operational check, has a number with its unit that is the end of a
    band, or the set value, of a limit. The limit is one that is named there by `measure` or `limits`, or it and the
    text speak of the same thing. What `proved` says was met on the day is not looked at.

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
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from functools import partial

from faulttree.model import Check, Fix, Library, Limit
from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.prose import ENTRY, Text
from faulttree.rules.sentences import has_digit, sentences, singular, words_of
from faulttree.rules.words import FUNCTION_WORDS, compiled
from faulttree.set_values import RANGE, set_to

QUANTITY = rf"(?<![\w.,]){RANGE} ?([a-z°%Ωµ][a-z·]*(?:[ -]met(?:re|er)s?\b)?)"
SAME_THING = 2
"""Words that a limit and a text must share, where the step does not name the limit."""

SAME_AT_CHECK = 3
"""The same at an operational check, which looks at more things, and with more tools."""

CHECKS = "operational_checks"

Named = Callable[[Text], tuple[str, ...]]
"""The limits that the step, or the operational check, of a text names."""

SPELLED = {
    "millimetre": "mm", "newton": "N", "newton metre": "N·m", "nm": "N·m", "volt": "V", "kilogram": "kg", "second": "s",
    "minute": "min",
}  # fmt: skip
"""Units in words, for one of them, and in a short form that many write."""

NO_THINGS = FUNCTION_WORDS | {each.lower() for each in (*SPELLED, *SPELLED.values())}
"""Words of a limit that do not say what it is about."""


def check(context: Context) -> Iterator[Hit]:
    """One hit for each text and limit."""
    if context.prose.has_digit:
        named = partial(_named, context)
        yield from _hits(context.library, context.prose.texts, named, (context.variant.model,), SAME_THING)


def check_library(shared: Shared) -> Iterator[Hit]:
    """The same of what is done at an operational check; what is written afterwards says what was met on that day."""
    if shared.prose.has_digit:
        texts = (text for text in shared.prose.texts if text.path[0] == CHECKS and text.kind != ENTRY)
        named = partial(_named_at_check, shared.library)
        yield from _hits(shared.library, texts, named, tuple(shared.library.models), SAME_AT_CHECK)


def _hits(library: Library, texts: Iterable[Text], named: Named, models: Sequence[str], same: int) -> Iterator[Hit]:
    if not library.limits:
        return
    for text in texts:
        if not has_digit(text.text):
            continue
        for sentence, about in _with_subjects(sentences(text.text)):
            for found in compiled(QUANTITY).finditer(sentence):
                limits = _limits(library, found, models)
                if limit := next((each for each in limits if _about(each, named(text), about, same)), None):
                    message = f'"{found[0]}" stands in limits.yaml as well, in "{limit.id}"'
                    yield Hit(text.path, message, _help(limit, named(text)))


def _with_subjects(said: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Each sentence with the words that say what it is about: "it" is what the sentence before is about."""
    before = ""
    for sentence in said:
        about = f"{before} {sentence}" if sentence.lower().startswith("it ") else sentence
        yield sentence, about
        before = about


def _limits(library: Library, found: re.Match[str], models: Sequence[str]) -> Iterator[Limit]:
    """The limits that have the number."""
    numbers = {float(each.replace("−", "-")) for each in found.groups()[:2] if each}
    units = (found[3], _unit(found[3]))
    for limit in library.limits.values():
        if limit.unit in units and any(numbers & _numbers(limit, model) for model in models):
            yield limit


def _unit(written: str) -> str:
    """A unit as limits have it."""
    said = singular(written.lower().replace("-", " ").replace("meter", "metre"))
    return SPELLED.get(said, written)


def _numbers(limit: Limit, model: str) -> set[float]:
    """The ends of the bands and what is set."""
    scale = limit.scales.get(model)
    ends = {band.limit for band in scale.bands if band.limit is not None} if scale else set[float]()
    return ends | set(map(float, set_to(limit.settings.get(model, "")).numbers))


def _about(limit: Limit, named: Collection[str], sentence: str, same: int) -> bool:
    """Whether the sentence speaks of what the limit is about."""
    ours = {singular(word) for word in words_of(sentence)}
    theirs = {singular(word) for word in words_of(limit.text) if not has_digit(word)} - NO_THINGS
    shared = len(ours & theirs)
    return shared >= (1 if limit.id in named else same)


def _named(context: Context, text: Text) -> tuple[str, ...]:
    """The limits that the step of the text names."""
    step = context.variant.steps.get(str(text.path[1])) if text.path[0] == "steps" else None
    if isinstance(step, Fix):
        proof = context.library.operational_checks.get(step.operational_check)
        return (*step.limits, *(proof.limits if proof else ()))
    return (step.measure,) if isinstance(step, Check) and step.measure else ()


def _named_at_check(library: Library, text: Text) -> tuple[str, ...]:
    """The limits that the operational check of the text names."""
    return library.operational_checks[str(text.path[1])].limits


def _help(limit: Limit, named: Collection[str]) -> str:
    if limit.id in named:
        return 'write "its limit" or "its set value": the limit is shown beside the step'
    return "name the limit by `limits` or `measure`, and write no number"
