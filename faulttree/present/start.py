"""The pages before the first step: for whoever starts with an occupant or may have one, and for the mechanic."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from faulttree.model import Check, End, Fix, Library, Step, Work
from faulttree.present.blocks import (
    HURRY,
    Block,
    action_blocks,
    document_words,
    first_line,
    revision_words,
    sees_figures,
    sentence,
    sentences,
    tools_of,
)
from faulttree.walk import Walk


def start_page(walk: Walk, practice: bool = False, short: bool = False) -> Iterator[Block]:
    """What stands before the first step.

    With an occupant, or not answered: the occupant's line, the first actions, what must be so; no parts, documents,
    minutes or causes. The first role without an occupant sees the same without the occupant's line. Other roles see
    the tools, parts, consumables, people and documents that may be needed as well. ``short`` cuts the notices of the
    first actions for a page that has no room for them.
    """
    tree = walk.tree
    yield from first_line(walk)
    yield Block("title", (sentence(tree.symptom),))
    urgency = walk.library.urgencies.get(tree.urgency, "")
    yield Block("text", (sentence(urgency),) if urgency else ())
    if walk.tree.fallback and walk.library.occupant:
        yield Block("hurry", (HURRY,))
    yield Block("text", (revision_words(walk, practice),))
    yield from action_blocks(walk, "At once", tree.first_actions, short)
    yield Block("before", ("Before anything is touched:", *sentences(tree.before)) if tree.before else ())
    if sees_figures(walk) and not first_line(walk):
        yield Block("aids", tuple(_needs(walk)))


def _needs(walk: Walk) -> Iterator[str]:
    library, steps = walk.library, list(walk.site.variant.steps.values())
    work = [step for step in steps if isinstance(step, Work) and not (isinstance(step, Check) and step.table_only)]
    fixes = [step for step in work if isinstance(step, Fix)]
    proofs = [library.operational_checks[fix.operational_check] for fix in fixes]
    people = max((each.people for each in (*work, *proofs)), default=1)
    yield f"People that may be needed: {people}. Roles: {', '.join(roles_needed(library, steps))}."
    tools = [
        *(name for step in work for name in tools_of(walk, step)),
        *(name for proof in proofs for name in proof.tools),
    ]
    yield from _listed("Tools", (library.tools[name].text for name in tools))
    yield from _listed("Parts", (f"{name} {library.parts[name].text}" for fix in fixes for name in fix.parts))
    yield from _listed("Consumables", (library.consumables[name].text for step in work for name in step.consumables))
    model = walk.key.model
    limits = [library.limits[step.measure] for step in work if isinstance(step, Check) and step.measure]
    data = [step.data for step in work]
    data += [proof.data.get(model, {}) for proof in proofs] + [limit.data.get(model, {}) for limit in limits]
    data += [each for step in steps if isinstance(step, End) for each in (step.under, step.data)]
    yield from _listed("Documents", (words for each in data for words in document_words(library, each)))


def _listed(title: str, names: Iterable[str]) -> Iterator[str]:
    once = list(dict.fromkeys(names))
    if once:
        yield f"{title} that may be needed: {'; '.join(once)}."


def roles_needed(library: Library, steps: Iterable[Step]) -> tuple[str, ...]:
    """The roles whose steps, operational checks and inspections a way can come to, in the library's order."""
    needed = {step.who for step in steps}
    for step in steps:
        if isinstance(step, Fix):
            needed.add(library.operational_checks[step.operational_check].who)
            needed |= {step.second_inspection.who} if step.second_inspection else set()
    return tuple(role for role in library.roles if role in needed)
