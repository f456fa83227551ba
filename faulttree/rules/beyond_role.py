"""Somebody is asked for more than their role has or may do.

Meaning:
    A step, an access or an operational check uses a tool that is for another role; a tool without `who` is not for the
    first role. Or, in a library with an occupant, a step of the first role tightens to a torque, fits a part or uses a
    consumable. A part or a consumable may be used if a line of `may` of the role tells so: it begins with a verb such
    as change or fit (for a consumable also use or wipe), and what follows is the name in `is`, or the two words that
    this ends with, as "Change a complete strap set" allows a hip strap set. "Change the tape on the wheel" allows no
    wheel; what a consumable is may also stand behind "with". A line for each is read most surely.

Why:
    The first role is led to work it is neither trained nor equipped for, or stands at the step without the tool and
    makes do with another.

Wrong:
    fit-cell:
      fix: Fit a new cell
      who: crew
      parts: {SL-10: 1}
      tools: [volt-meter]

Right:
    fit-cell:
      fix: Fit a new cell
      who: mechanic
      parts: {SL-10: 1}
      tools: [volt-meter]
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from faulttree.model import Fix, Library, Work
from faulttree.rules.context import Context, Hit, Path, Shared


def check(context: Context) -> Iterator[Hit]:
    """One hit for each tool, part and consumable, and one for torque."""
    library, first = context.library, context.library.first_role
    for step in context.own_work:
        path = ("steps", step.id)
        if step.tools:
            yield from _tools(library, step.tools, step.who, f'"{step.id}"', (*path, "tools"))
        if step.who == first and library.occupant and (step.consumables or isinstance(step, Fix)):
            for below, what in _beyond(library, step):
                message = f'"{step.id}" is for {first}, the first role, and {what}'
                yield Hit((*path, *below, "~"), message, "give the step to another role, or take it out")


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each tool of an access or an operational check."""
    library = shared.library
    for access in library.accesses.values():
        path = ("accesses", access.id, "tools")
        yield from _tools(library, access.tools, access.who or library.first_role, f'"{access.id}"', path)
    for proof in library.operational_checks.values():
        path = ("operational_checks", proof.id, "tools")
        yield from _tools(library, proof.tools, proof.who, f'"{proof.id}"', path)


def _tools(library: Library, tools: Iterable[str], who: str, whose: str, path: Path) -> Iterator[Hit]:
    for name in tools:
        tool = library.tools.get(name)
        if tool is None or who not in library.roles:
            continue
        if not tool.who and who == library.first_role:
            message = f'{whose} is for {who}, and the tool "{name}" is not for the first role'
        elif tool.who and not library.may(who, tool.who):
            message = f'{whose} is for {who}, and the tool "{name}" is for {tool.who}'
        else:
            continue
        yield Hit((*path, name), message, "give the step to another role, or name a tool that this one may use")


def _beyond(library: Library, step: Work) -> Iterator[tuple[Path, str]]:
    """What is beyond the first role, with its place in the step."""
    # Few steps of the first role fit or use anything, so few files pay for what reads the lines of a role.
    from faulttree.rules.listed_work import named_in
    from faulttree.rules.words import FITS, USES

    may = library.roles[library.first_role].may
    if isinstance(step, Fix):
        if step.torques:
            yield ("torque",), "tightens to a torque"
        for name in step.parts:
            if name in library.parts and not named_in(may, library.parts[name].text, FITS):
                yield ("parts", name), f'fits the part "{name}"'
    for name in step.consumables:
        if name in library.consumables and not named_in(may, library.consumables[name].text, USES):
            yield ("consumables", name), f'uses the consumable "{name}"'
