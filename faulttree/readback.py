"""Read-back codes: a walk in a few characters that can be said over the radio.

``REL7-K1P2-U1DQ-X``: the tree's short name (``REL``), two characters of the digest of its routing (``7K``), the model
in the tree's order (``1``), P where the equipment was occupied at the beginning or E where it was empty, one
character a move, and two check characters of ISO/IEC 7064 MOD 1271-36 over all before. Hyphens mean nothing.

A code says what was answered on the way that is left after going back. It does not carry notes, readings (only their
band), times, names, waiting, hand-overs, an occupant back on, fallback lines and work begun and not done. Steps given
up, and the step that the code comes to, are taken as after their gates: more may stand open in the walk that goes on
from a code than is open, never less. Whoever goes on says which of it is not (``closed`` of the move), and by whom.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from hashlib import sha256
from typing import NamedTuple

from faulttree.check_characters import ALPHABET, check_characters, has_valid_check
from faulttree.closing import check_paired, check_said_closed
from faulttree.keys import OFF, ON, UNANSWERED, Key, Kind, Move, Stage
from faulttree.model import Check, End, Fix, Library, Tree, Variant
from faulttree.moves import after, routes
from faulttree.open_items import opened
from faulttree.problems import CodeError
from faulttree.site import Site
from faulttree.value import replace
from faulttree.walk import Logged, Visit, Walk, apply
from faulttree.walk import begin as begin_new

SIGNS = {
    Kind.UNABLE: "U",
    Kind.DONE: "D",
    Kind.INSPECTED: "I",
    Kind.PASSED: "Y",
    Kind.FAILED: "N",
    Kind.CANNOT: "X",
    Kind.OCCUPANT_OFF: "F",
}
KINDS = {sign: kind for kind, sign in SIGNS.items()}
HEAD = 7
"""Characters before the moves: short name, two of the routing's digest, model, occupied or empty."""


class Parts(NamedTuple):
    """A code taken apart: short name, routing's digest, model's place from 1, occupied at the beginning, moves."""

    short: str
    routing: str
    model: int
    occupied: bool
    moves: str


def routing_digest(tree: Tree) -> str:
    """Two characters that change (all but one time in 1,296) whenever a way through the tree leads elsewhere."""
    lines = [line for variant in tree.variants.values() for line in _routing(variant)]
    number = int.from_bytes(sha256("\n".join(lines).encode()).digest()[:8])
    return ALPHABET[number // 36 % 36] + ALPHABET[number % 36]


def _routing(variant: Variant) -> Iterator[str]:
    yield f"{variant.model}\t{variant.start}"
    for step in variant.steps.values():
        numbers = {finding.label: finding.number for finding in step.findings} if isinstance(step, Check) else {}
        kind = step.kind if isinstance(step, End) else type(step).__name__
        waits = isinstance(step, Fix) and step.second_inspection is not None
        yield f"{step.id}\t{kind}\t{waits}"
        yield from (f"{numbers.get(answer, answer)}\t{to}" for answer, to in routes(step))


def encode(walk: Walk) -> str:
    """The code of the way that ``walk`` has now, in groups of four."""
    models = walk.tree.models
    begun = next(line.move for line in walk.log if line.move.kind == Kind.BEGIN)
    occupied = "P" if walk.library.occupant and begun.occupant != OFF else "E"
    head = f"{walk.tree.short}{routing_digest(walk.tree)}{models.index(walk.key.model) + 1}{occupied}"
    text = head + _once_off("".join(sign for visit in walk.way for sign in _signs(walk, visit)), occupied == "P")
    text += check_characters(text)
    return "-".join(text[at : at + 4] for at in range(0, len(text), 4))


def _once_off(signs: str, occupied: bool) -> str:
    """The signs without those for an occupant off that change nothing: a code never says that one is on again."""
    first, off, rest = signs.partition(SIGNS[Kind.OCCUPANT_OFF])
    return first + (off if occupied else "") + rest.replace(SIGNS[Kind.OCCUPANT_OFF], "")


def _signs(walk: Walk, visit: Visit) -> Iterator[str]:
    """One character a move; the ticked lines of a fix or a deferral are one D, once all are done."""
    step = walk.site.variant.steps[visit.step]
    lines = 0 if isinstance(step, Check) else len(step.lines)
    for move in visit.moves:
        if move.kind == Kind.DONE:
            lines -= 1
            if lines:
                continue
        if move.kind in (Kind.FINDING, Kind.READING) and isinstance(step, Check):
            finding = step.finding(move.label)
            yield str(finding.number) if finding else ""
        elif move.kind in SIGNS:
            yield SIGNS[move.kind]


def take_apart(code: str) -> Parts:
    """The parts of ``code``, hyphens and blanks ignored. Raises CodeError where its check characters do not fit."""
    text = "".join(character for character in code.upper() if character in ALPHABET)
    if len(text) < HEAD + 2 or not has_valid_check(text):
        raise CodeError(
            f'"{code}" is no read-back code: its check characters do not fit',
            "have it said again, letter by letter, and compare each group",
        )
    model, occupied = text[5], text[6]
    if not model.isdigit() or occupied not in "PE":
        raise CodeError(f'"{code}" is no read-back code of a walk', "have it said again, letter by letter")
    return Parts(text[:3], text[3:5], int(model), occupied == "P", text[HEAD:-2])


def tree_of(parts: Parts, trees: Iterable[Tree]) -> Tree:
    """The tree that a code belongs to. Raises CodeError where there is none, or where its routing is another."""
    tree = next((each for each in trees if each.short == parts.short), None)
    if tree is None:
        raise CodeError(
            f'no tree here has the short name "{parts.short}"', "use the library that the code was made with"
        )
    if routing_digest(tree) != parts.routing:
        raise CodeError(
            f'the code was made with another routing of "{tree.symptom}" than revision {tree.revision} here has',
            "ask for the findings in words and walk the tree from its start",
        )
    if not 1 <= parts.model <= len(tree.models):
        raise CodeError("the code names a model that the tree does not have", "have it said again, letter by letter")
    return tree


def begin(tree: Tree, library: Library, move: Move, was_recorded: bool = False) -> Walk:
    """A new walk, from the start or, where ``move`` carries a code, from where the code's walk was.

    ``was_recorded`` says that the move comes out of a journal, as in `walk.apply`.
    """
    if not move.code:
        return begin_new(tree, library, move)
    parts = take_apart(move.code)
    tree_of(parts, [tree])
    model = tree.models[parts.model - 1]
    occupied = replace(move, model=model, occupant=ON if parts.occupied else OFF)
    walk = _replayed(begin_new(tree, library, occupied), parts.moves)
    check_paired(move)
    if not was_recorded:
        check_said_closed(walk.site, walk.key, move)
    items = walk.key.open_items - set(move.closed)
    walk = replace(walk, key=walk.site.settle(walk.key._replace(open_items=items)))
    return _stated(walk, move.occupant or UNANSWERED)


def _stated(walk: Walk, occupant: str) -> Walk:
    """The walk with the occupant as the reader states it: a code cannot tell whether it is occupied again."""
    if not walk.library.occupant or walk.key.occupant == occupant or walk.ended:
        return walk
    if occupant == UNANSWERED:
        return replace(walk, key=walk.key._replace(occupant=UNANSWERED))
    return apply(walk, Move(Kind.OCCUPANT_OFF if occupant == OFF else Kind.OCCUPANT_ON))


def _replayed(walk: Walk, signs: str) -> Walk:
    key = walk.site.before_start(walk.key.role, walk.key.occupant)
    way: list[Visit] = [Visit(key.step)]
    log = list(walk.log)
    for at, sign in enumerate(signs):
        moves = _moves_of(walk.site, key, sign)
        if not moves:
            raise CodeError(
                f'character {HEAD + at + 1} of the code, "{sign}", does not fit the step it comes to',
                "have it said again, letter by letter",
            )
        for move in moves:
            log.append(Logged(move, key.step, key.phase, key.role, key.occupant, walk.site))
            way[-1] = replace(way[-1], moves=(*way[-1].moves, move))
            here, key = key.step, after(walk.site, _begun(walk.site, key, move), move)
            if key.step != here:
                way.append(Visit(key.step))
    return replace(walk, key=_arrived(walk.site, key), way=tuple(way), log=tuple(log))


def _arrived(site: Site, key: Key) -> Key:
    """The step that the code comes to may have been begun, so what it opens may be open; its gates come anew."""
    if key.phase.stage != Stage.ARRIVED:
        return site.settle(key)
    both = key.open_items | opened(site.library, site.step(key), key.open_items)
    return site.settle(key._replace(open_items=both)) if isinstance(site.step(key), End) else _entered(site, key, both)


def _entered(site: Site, key: Key, items: frozenset[str]) -> Key:
    """The step as after its gates, with these items open."""
    return site.enter(key)._replace(open_items=items)


def _begun(site: Site, key: Key, move: Move) -> Key:
    """A code says what was answered, so the step's gates were passed and what it opens is open.

    One that was given up may have been given up before its gates: what its accesses would have closed may be open.
    """
    if key.phase.stage != Stage.ARRIVED or move.kind == Kind.OCCUPANT_OFF:
        return key
    given_up = key.open_items if move.kind in (Kind.UNABLE, Kind.CANNOT) else frozenset()
    return _entered(site, key, opened(site.library, site.step(key), key.open_items) | given_up)


def _moves_of(site: Site, key: Key, sign: str) -> tuple[Move, ...]:
    """The moves that a character stands for at ``key``; none where it does not fit."""
    step = site.step(key)
    kind = KINDS.get(sign)
    if kind == Kind.OCCUPANT_OFF:
        return (Move(kind),) if site.library.occupant and key.occupant != OFF else ()
    if isinstance(step, Check):
        if kind == Kind.UNABLE:
            return (Move(kind),) if step.unable else ()
        labels = [finding.label for finding in step.findings if str(finding.number) == sign]
        return tuple(Move(Kind.FINDING, label=label) for label in labels)
    return _work_moves(site, key, step, kind)


def _work_moves(site: Site, key: Key, step: Fix | End, kind: Kind | None) -> tuple[Move, ...]:
    stage = key.phase.stage if key.phase.stage != Stage.ARRIVED else site.enter(key).phase.stage
    if kind == Kind.CANNOT:
        return (Move(kind),) if step.cannot and stage != Stage.ENDED else ()
    if kind == Kind.DONE and stage in (Stage.DO, Stage.TICK):
        return (Move(kind),) * (len(step.lines) - key.phase.line)
    waited = (Move(Kind.WAITED),) if stage == Stage.WAIT else ()
    if isinstance(step, End) or kind is None:
        return ()
    inspects = step.second_inspection is not None and stage in (Stage.WAIT, Stage.INSPECT)
    if kind == Kind.INSPECTED and inspects:
        return (*waited, Move(kind, text="recorded with the code"))
    if kind in (Kind.PASSED, Kind.FAILED) and stage in (Stage.WAIT, Stage.PROVE) and not inspects:
        return (*waited, Move(kind))
    return ()


def find_tree(code: str, trees: Mapping[str, Tree]) -> Tree:
    """The tree among ``trees`` that ``code`` belongs to. Raises CodeError."""
    return tree_of(take_apart(code), trees.values())
