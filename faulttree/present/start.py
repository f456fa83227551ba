"""The pages before the first step: for whoever starts with an occupant or may have one, and for the mechanic."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from faulttree.model import Check, Fix, Library, Step, Work
from faulttree.present.blocks import (
    Block,
    action_blocks,
    document_words,
    first_line,
    revision_words,
    sees_figures,
    sentence,
    sentences,
)
from faulttree.walk import Walk


def start_page(walk: Walk, practice: bool = False) -> Iterator[Block]:
    """What stands before the first step.

    With an occupant, or not answered: the occupant's line, the first actions, what must be so; no parts, documents,
    minutes or causes. The first role without an occupant sees the same without the occupant's line. Other roles see
    the tools, parts, consumables, people and documents that may be needed as well.
    """
    tree = walk.tree
    yield from first_line(walk)
    yield Block("title", (sentence(tree.symptom),))
    urgency = walk.library.urgencies.get(tree.urgency, "")
    yield Block("text", (sentence(urgency),) if urgency else ())
    if walk.tree.fallback and walk.library.occupant:
        yield Block("text", ("It cannot wait? Type: fallback",))
    yield Block("text", (revision_words(walk, practice),))
    yield from action_blocks(walk, "At once", tree.first_actions)
    yield Block("how", ("Before anything is touched:", *sentences(tree.before)) if tree.before else ())
    if sees_figures(walk) and not first_line(walk):
        yield Block("text", tuple(_needs(walk)))


def _needs(walk: Walk) -> Iterator[str]:
    library, steps = walk.library, list(walk.site.variant.steps.values())
    work = [step for step in steps if isinstance(step, Work) and not (isinstance(step, Check) and step.table_only)]
    fixes = [step for step in work if isinstance(step, Fix)]
    people = max((step.people for step in work), default=1)
    yield f"People that may be needed: {people}. Roles: {', '.join(roles_needed(library, steps))}."
    yield from _listed("Tools", (library.tools[name].text for step in work for name in step.tools))
    yield from _listed("Parts", (f"{name} {library.parts[name].text}" for fix in fixes for name in fix.parts))
    yield from _listed("Consumables", (library.consumables[name].text for step in work for name in step.consumables))
    yield from _listed("Documents", (words for step in work for words in document_words(library, step.data)))


def _listed(title: str, names: Iterable[str]) -> Iterator[str]:
    once = list(dict.fromkeys(names))
    if once:
        yield f"{title} that may be needed: {'; '.join(once)}."


def roles_needed(library: Library, steps: Iterable[Step]) -> tuple[str, ...]:
    """The roles whose steps a way can come to, in the library's order."""
    needed = {step.who for step in steps}
    return tuple(role for role in library.roles if role in needed)
