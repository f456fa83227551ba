"""The pages before the first step: for whoever starts with an occupant or may have one, and for the mechanic."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from faulttree.keys import OFF, Kind
from faulttree.model import Check, End, Fix, Library, OperationalCheck, Step, Work
from faulttree.present.blocks import (
    HURRY,
    Block,
    document_words,
    first_action_blocks,
    first_line,
    revision_words,
    sees_figures,
    sentence,
    sentences,
    tools_of,
)
from faulttree.walk import GOING, Walk

LIST_TITLE = "Nobody is on it now. For the work that may come:"


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
    yield from first_action_blocks(walk, "At once", short)
    yield Block("before", ("Before anything is touched:", *sentences(tree.before)) if tree.before else ())
    if list_is_shown(walk):
        yield Block("aids", tuple(_needs(walk)))


def list_is_due(walk: Walk) -> bool:
    """Whether the last move took somebody off the equipment, and the list of what may be needed was not shown yet.

    Pages before the first step leave it out while somebody is on it: then nobody is to look for tools.
    """
    if walk.ended or walk.state != GOING or not list_is_shown(walk):
        return False
    *before, last = walk.log
    shown_before = any(line.role == walk.key.role and line.occupant == OFF for line in before)
    return last.move.kind == Kind.OCCUPANT_OFF and not shown_before


def list_page(walk: Walk) -> Iterator[Block]:
    """What may be needed, for whoever began with somebody on the equipment."""
    yield Block("title", (LIST_TITLE,))
    yield Block("aids", tuple(_needs(walk)))


def list_is_shown(walk: Walk) -> bool:
    """Whether the role of now sees what may be needed: not the first one, and not while somebody is on it."""
    return sees_figures(walk) and not first_line(walk)


class Needed(NamedTuple):
    """What may be needed of one sort: ``Tools``, and their names, each once."""

    title: str
    names: tuple[str, ...]


def people_needed(walk: Walk) -> tuple[int, tuple[str, ...]]:
    """The most people that any step of the tree or its operational check takes, and the roles that it can come to."""
    steps, work, proofs = _work(walk)
    return max((each.people for each in (*work, *proofs)), default=1), roles_needed(walk.library, steps)


def things_needed(walk: Walk) -> tuple[Needed, ...]:
    """Tools, parts, consumables and documents that the steps of the tree may need."""
    library, model = walk.library, walk.key.model
    steps, work, proofs = _work(walk)
    fixes = [step for step in work if isinstance(step, Fix)]
    tools = [
        *(name for step in work for name in tools_of(walk, step)),
        *(name for proof in proofs for name in proof.tools),
    ]
    limits = [library.limits[step.measure] for step in work if isinstance(step, Check) and step.measure]
    data = [step.data for step in work]
    data += [proof.data.get(model, {}) for proof in proofs] + [limit.data.get(model, {}) for limit in limits]
    data += [each for step in steps if isinstance(step, End) for each in (step.under, step.data)]
    found = {
        "Tools": [library.tools[name].text for name in tools],
        "Parts": [f"{name} {library.parts[name].text}" for fix in fixes for name in fix.parts],
        "Consumables": [library.consumables[name].text for step in work for name in step.consumables],
        "Documents": [words for each in data for words in document_words(library, each)],
    }
    return tuple(Needed(title, tuple(dict.fromkeys(names))) for title, names in found.items() if names)


def _work(walk: Walk) -> tuple[list[Step], list[Check | Fix], list[OperationalCheck]]:
    """The steps of the tree, those that are work, and the operational checks of these."""
    steps = list(walk.site.variant.steps.values())
    work = [step for step in steps if isinstance(step, Work) and not (isinstance(step, Check) and step.table_only)]
    proofs = [walk.library.operational_checks[step.operational_check] for step in work if isinstance(step, Fix)]
    return steps, work, proofs


def people_line(walk: Walk) -> str:
    """How many people, and of which roles."""
    people, roles = people_needed(walk)
    return f"People that may be needed: {people}. Roles: {', '.join(roles)}."


def needed_line(needed: Needed) -> str:
    """One sort of things with their names."""
    return f"{needed.title} that may be needed: {'; '.join(needed.names)}."


def _needs(walk: Walk) -> Iterator[str]:
    yield people_line(walk)
    yield from map(needed_line, things_needed(walk))


def roles_needed(library: Library, steps: Iterable[Step]) -> tuple[str, ...]:
    """The roles whose steps, operational checks and inspections a way can come to, in the library's order."""
    needed = {step.who for step in steps}
    for step in steps:
        if isinstance(step, Fix):
            needed.add(library.operational_checks[step.operational_check].who)
            needed |= {step.second_inspection.who} if step.second_inspection else set()
    return tuple(role for role in library.roles if role in needed)
