"""A step has a hazard and no notice of it.

Meaning:
    A step says, by a key or by a word, that there is a hazard: it has a `lift`, it is `occupied: allowed`, or its text
    speaks of stored force, pinching, lifting, rotors, vapour, sharps or body fluids. It has warnings or cautions, those
    of its accesses included, and none of them speaks of the same. So may an operational check, a first action and a
    line of the fallback. A step with such a key and no warning or caution at all is told by notices-none.

Why:
    Who reads the step in noise and hurry is warned by the notice before it, not by a word in its third line.

Wrong:
    fit-springs:
      fix: Fit new springs
      do:
        - Unhook the spring at its lower end.

Right:
    fit-springs:
      fix: Fit new springs
      notices: [stored-spring-force]
      do:
        - Unhook the spring at its lower end.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from faulttree.model import Library, Work
from faulttree.rules.advice import listed
from faulttree.rules.context import Context, Hit, Path, Shared
from faulttree.rules.hazard_words import HAZARDS, PATIENT, Hazard
from faulttree.rules.sentences import first_word
from faulttree.rules.words import lower

LIFT = next(hazard for hazard in HAZARDS if hazard.name == "a lift")


class Place(NamedTuple):
    """Something that is done: what it is called, where it stands, its lines, its notices."""

    name: str
    path: Path
    lines: Sequence[tuple[Path, str]]
    notices: Sequence[str]


def check(context: Context) -> Iterator[Hit]:
    """One hit for each hazard of a step, a first action or a line of the fallback."""
    library = context.library
    for step in context.own_work:
        if step.lift or (step.occupied and library.occupant):
            yield from _by_key(library, step)
    said = [action.do for action in (*context.tree.first_actions, *context.tree.fallback)]
    hazards = _spoken_of([*said, *[line for step in context.own_work for line in (step.text, *step.do)]])
    if hazards:
        for place in (*_actions(context), *_steps(context)):
            yield from _by_words(library, place, hazards)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each hazard of an operational check."""
    library = shared.library
    checks = library.operational_checks.values()
    for proof in checks:
        if proof.occupied and library.occupant and is_warned(library, proof.notices):
            yield from of_occupant(library, proof.notices, proof.id, ("operational_checks", proof.id))
    hazards = _spoken_of(line for each in checks for lines in (each.do, *each.do_by_model.values()) for line in lines)
    for proof in checks if hazards else ():
        path = ("operational_checks", proof.id)
        models = proof.do_by_model or {"": proof.do}
        lines = [
            ((*path, "do", *((model,) if model else ()), at), line)
            for model, each in models.items()
            for at, line in enumerate(each)
        ]
        yield from _by_words(library, Place(f'"{proof.id}"', path, lines, proof.notices), hazards)


def is_warned(library: Library, names: Iterable[str]) -> bool:
    """Whether there is a warning or a caution among the notices, or one that nobody knows."""
    return any(name not in library.notices or library.notices[name].needs_acknowledging for name in names)


def _spoken_of(lines: Iterable[str]) -> list[Hazard]:
    """The hazards that some line speaks of. A pattern is made only where one of its words stands somewhere."""
    said = "\n".join(lines).lower()
    likely = [hazard for hazard in HAZARDS if any(word in said for word in hazard.words)]
    return [hazard for hazard in likely if lower(hazard.betrays).search(said)]


def _by_key(library: Library, step: Work) -> Iterator[Hit]:
    if not is_warned(library, step.notices):
        return
    path = ("steps", step.id)
    if step.occupied and library.occupant:
        yield from of_occupant(library, step.notices, step.id, path)
    if step.lift:
        yield from of_lift(library, step.notices, step.id, path)


SILENT = "and no notice speaks of"


def of_occupant(library: Library, notices: Iterable[str], name: str, path: Path, lack: str = "") -> Iterator[Hit]:
    """A hit where no notice says that somebody is on the equipment; many others end with the patient hurt."""
    if not _of_occupant(library, notices):
        message = f'"{name}" is allowed with an occupant, {lack or f"{SILENT} the occupant"}'
        yield Hit((*path, "occupied", "~"), message, _name(_of_occupant(library, library.notices)))


def of_lift(library: Library, notices: Iterable[str], name: str, path: Path, lack: str = "") -> Iterator[Hit]:
    """A hit where no notice speaks of a lift."""
    if not _known(library, notices, LIFT.noticed):
        message = f'"{name}" has a lift, {lack or f"{SILENT} it"}'
        yield Hit((*path, "lift", "~"), message, _help(library, LIFT.noticed))


def _actions(context: Context) -> Iterator[Place]:
    tree = context.tree
    for key, name, actions in (
        ("first_actions", "a first action", tree.first_actions),
        ("fallback", "a line of the fallback", tree.fallback),
    ):
        for at, action in enumerate(actions):
            yield Place(name, (key, at), [((key, at, "do"), action.do)], action.notices)


def _steps(context: Context) -> Iterator[Place]:
    for step in context.own_work:
        path = ("steps", step.id)
        do = context.do_path(step.id)
        head: Path = (*path, "check" if hasattr(step, "findings") else "fix")
        lines = [(head, step.text), *(((*do, at), line) for at, line in enumerate(step.do))]
        yield Place(f'"{step.id}"', path, lines, step.notices)


def _by_words(library: Library, place: Place, hazards: Iterable[Hazard]) -> Iterator[Hit]:
    for hazard in hazards:
        betrays = lower(hazard.betrays)
        for path, line in place.lines:
            if found := betrays.search(line.lower()):
                if not _known(library, place.notices, hazard.noticed):
                    message = f'{place.name} speaks of {hazard.name}, "{found[0]}", and has no notice of it'
                    yield Hit(path, message, _help(library, hazard.noticed))
                break


def _known(library: Library, names: Iterable[str], beginnings: tuple[str, ...]) -> list[str]:
    """The warnings and cautions that have a word with one of these beginnings."""
    every = [library.notices[name] for name in names if name in library.notices]
    return [
        each.id
        for each in every
        if each.needs_acknowledging and first_word(f"{each.hazard}. {each.result}.", beginnings)
    ]


def _of_occupant(library: Library, names: Iterable[str]) -> list[str]:
    """The warnings and cautions whose hazard is that somebody is on the equipment."""
    every = [library.notices[name] for name in names if name in library.notices]
    return [each.id for each in every if each.needs_acknowledging and first_word(each.hazard, PATIENT)]


def _help(library: Library, beginnings: tuple[str, ...]) -> str:
    return _name(_known(library, library.notices, beginnings))


def _name(known: list[str]) -> str:
    return f"name one by `notices`: {listed(known[:3])}" if known else "write one in notices.yaml and name it here"
