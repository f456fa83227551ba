"""A text uses a consumable that the step does not list.

Meaning:
    A line of a fix or a check names a consumable of parts.yaml that needs time before what it was used on may be
    operated, and `consumables` of the step lacks it.

Why:
    The wait before the operational check comes from that list: without it nobody waits. Nor is the consumable among
    what must be at hand.

Wrong:
    fit-ring:
      fix: Fit a new ring
      do:
        - Put locking compound on the thread.

Right:
    fit-ring:
      fix: Fit a new ring
      consumables: [locking-compound]
      do:
        - Put locking compound on the thread.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from faulttree.model import Consumable, Work
from faulttree.rules.context import Context, Hit
from faulttree.rules.sentences import words_of


def check(context: Context) -> Iterator[Hit]:
    """One hit for each consumable and step."""
    words = context.prose.words
    names = {
        name: each
        for name, each in context.library.consumables.items()
        if each.service > 0 and words.issuperset(_spoken(name))
    }
    for step in context.own_work if names else ():
        yield from _in_step(context, step, names)


def _in_step(context: Context, step: Work, names: Mapping[str, Consumable]) -> Iterator[Hit]:
    listed = {name for each in step.consumables for name in (each, *_longer(each, names))}
    seen: set[str] = set()
    for at, line in enumerate(step.do):
        spoken = f" {' '.join(words_of(line)).replace('-', ' ')} "
        for name in names:
            if name not in listed and name not in seen and f" {' '.join(_spoken(name))} " in spoken:
                seen.add(name)
                message = f'"{step.id}" uses "{name}" and does not list it'
                yield Hit(
                    (*context.do_path(step.id), at), message, "add it to `consumables`, so that its time is waited for"
                )


def _longer(name: str, names: Mapping[str, Consumable]) -> Iterator[str]:
    """The consumables whose names are part of this one's, as threadlocker is of activated threadlocker."""
    parts = set(_spoken(name))
    return (other for other in names if parts.issuperset(_spoken(other)))


def _spoken(name: str) -> list[str]:
    """A name as it would be said."""
    return name.lower().replace("_", "-").split("-")
