"""A text is a blank that nobody has filled in.

Meaning:
    A text of the tree, or of an entry that trees share, is `___` and nothing else. `faulttree new` writes such blanks
    where an author has something to say. A blank inside a text, such as a reading in `found` or `report`, is filled in
    on the day and is no problem.

Why:
    Somebody on the ramp would be shown a blank in place of what to look at or what to do.

Wrong:
    contacts:
      check: ___
      who: crew

Right:
    contacts:
      check: Are the contacts clean?
      who: crew
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from faulttree.model import Check, End, Fix, Library, Step
from faulttree.rules.context import Context, Hit, Path, Shared
from faulttree.value import Value, stated

BLANK = "___"
_SIGNS = frozenset("_ .?")
_WRITTEN = {"text": "is", "title": "is"}
"""Fields of shared entries that the file calls otherwise."""


def is_blank(text: object) -> bool:
    """Whether a text has nothing but a blank."""
    return isinstance(text, str) and BLANK in text and _SIGNS.issuperset(text)


def check(context: Context) -> Iterator[Hit]:
    """One hit for each blank, in the order of the header, the causes and the steps."""
    if not _has_any(context):
        return
    tree = context.tree
    for name in ("symptom", "also", "equipment", "author", "before", "report"):
        yield from _texts((name,), getattr(tree, name))
    for name in ("first_actions", "fallback"):
        for at, action in enumerate(getattr(tree, name)):
            yield from _texts((name, at, "do"), action.do)
    for cause in context.variant.causes.values():
        for key, value in (("is", cause.text), ("why", cause.why), ("found", cause.found), ("note", cause.note)):
            yield from _texts(("causes", cause.id, key), value)
        yield from _texts(("causes", cause.id, "also_look"), cause.also_look)
    for step in context.variant.steps.values():
        yield from _of_step(step)


def _has_any(context: Context) -> bool:
    """Whether a blank stands in the prose or in the few texts that are none; paths are made only where one does."""
    tree = context.tree
    others = (tree.symptom, *tree.also, *tree.equipment, tree.author, *(end.until for end in context.ends))
    return any(is_blank(text) for texts in (context.prose.strings, others) for text in texts if BLANK in text)


def _of_step(step: Step) -> Iterator[Hit]:
    path: Path = ("steps", step.id)
    if isinstance(step, End):
        for name in ("do", "report", "until", "when"):
            yield from _texts((*path, name), getattr(step, name))
    elif step.base == step.id:
        yield from _texts((*path, "check" if isinstance(step, Check) else "fix"), step.text)
        yield from _texts((*path, "do"), step.do)
        if isinstance(step, Check):
            for finding in step.findings:
                yield from _texts((*path, "findings", finding.label, "says"), finding.says)
        if isinstance(step, Fix):
            yield from _texts((*path, "did"), step.did)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each blank in the shared entries. Mostly there is none, so paths are made only where there is."""
    if _has_blank(shared.library):
        for key, entries in stated(shared.library).items():
            yield from _below((key,), entries)


def _has_blank(library: Library) -> bool:
    waiting: list[object] = [library]
    while waiting:
        value = waiting.pop()
        if isinstance(value, str):
            if BLANK in value and is_blank(value):
                return True
        elif isinstance(value, Value):
            waiting += stated(value).values()
        elif isinstance(value, dict):
            waiting += value.values()
        elif isinstance(value, tuple):
            waiting += value
    return False


def _below(path: Path, value: object) -> Iterator[Hit]:
    if isinstance(value, Value):
        for name, each in stated(value).items():
            yield from _below((*path, _WRITTEN.get(name, name)), each)
    elif isinstance(value, dict):
        for name, each in value.items():
            yield from _below((*path, name), each)
    elif isinstance(value, str | tuple):
        yield from _texts(path, value)


def _texts(path: Path, value: str | Iterable[object]) -> Iterator[Hit]:
    """A hit for a text, or for each of several, that is blank."""
    if isinstance(value, str):
        if is_blank(value):
            yield Hit(path, f'"{path[-1]}" is a blank', "write what belongs there, or delete the key if nothing does")
        return
    for at, each in enumerate(value):
        if is_blank(each):
            yield Hit((*path, at), f'"{path[-1]}" has a blank', "write what belongs there, or delete the line")
