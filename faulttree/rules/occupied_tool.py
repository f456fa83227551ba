"""A step that is allowed with an occupant uses a maintenance tool or material.

Meaning:
    A step or an operational check has `occupied: allowed` and uses, itself or for its access, a tool that is not for
    the first role, or a part or a torque, or a consumable that no line of `may` of the first role tells to use: grease,
    adhesive and the like are maintenance material, a wipe that the crew uses is not.

Why:
    Work with tools is not done above or beside a patient: a tool slips, a part falls, a spring lets go. Whoever is on
    the equipment gets off first.

Wrong:
    contacts:
      check: Are the contacts clean?
      occupied: allowed
      tools: [volt-meter]

Right:
    contacts:
      check: Are the contacts clean?
      tools: [volt-meter]
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from faulttree.model import Fix, Library
from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.listed_work import named_in
from faulttree.rules.words import USES

HELP = "take `occupied` out, so that the occupant is off first, or do it without"


def check(context: Context) -> Iterator[Hit]:
    """One hit for each tool and consumable, and one for parts and torque each."""
    library = context.library
    for step in context.own_work:
        if not step.occupied:
            continue
        accesses = [library.accesses[name] for name in step.accesses if name in library.accesses]
        tools = [*step.tools, *(tool for access in accesses for tool in access.tools)]
        for name in _maintenance(library, tools):
            message = f'"{step.id}" is allowed with an occupant and uses the maintenance tool "{name}"'
            yield Hit(("steps", step.id, "occupied", "~"), message, HELP)
        for name in _material(library, step.consumables):
            message = f'"{step.id}" is allowed with an occupant and uses the maintenance material "{name}"'
            yield Hit(("steps", step.id, "occupied", "~"), message, HELP)
        if isinstance(step, Fix):
            for key, used, what in (("parts", step.parts, "fits a part"), ("torque", step.torques, "uses a torque")):
                if used:
                    message = f'"{step.id}" is allowed with an occupant and {what}'
                    yield Hit(("steps", step.id, key, "~"), message, HELP)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each tool of an operational check."""
    for proof in shared.library.operational_checks.values():
        if proof.occupied:
            for name in _maintenance(shared.library, proof.tools):
                message = f'"{proof.id}" is allowed with an occupant and uses the maintenance tool "{name}"'
                yield Hit(("operational_checks", proof.id, "occupied", "~"), message, HELP)


def _maintenance(library: Library, tools: Iterable[str]) -> Iterator[str]:
    """The tools that are not for the first role."""
    for name in dict.fromkeys(tools):
        tool = library.tools.get(name)
        if tool and (not tool.who or not library.may(library.first_role, tool.who)):
            yield name


def _material(library: Library, consumables: Iterable[str]) -> Iterator[str]:
    """The consumables that the first role is not told to use."""
    known = [name for name in dict.fromkeys(consumables) if name in library.consumables]
    may = library.roles[library.first_role].may
    return (name for name in known if not named_in(may, library.consumables[name].text, USES))
