"""A walk that goes on with another revision of its tree: what stands of its way, and where it is asked again.

What was answered stands up to the first step that is not as it was, shared entries that it uses included; there the
walk is asked again, as after going back. What was done to the equipment is not undone by a new revision: the log and
what is open stay, and each line of the log keeps the revision that it was made by.
"""

from __future__ import annotations

from faulttree.digest import step_meaning
from faulttree.keys import Kind, Move, Phase
from faulttree.model import Library, Tree
from faulttree.problems import MoveError
from faulttree.site import Site
from faulttree.value import replace
from faulttree.walk import GOING, STOPPED, Visit, Walk, logged

WAIT = "the walk goes on as it was then"


def revising(walk: Walk, tree: Tree, library: Library) -> Move:
    """The move by which ``walk`` goes on with ``tree`` of ``library``.

    Raises MoveError where it cannot: it is over, or the revision has not its model, a role or an item that is open.
    """
    site = _site(walk, tree, library)
    stand = _standing(walk, site)
    if stand == len(walk.way):
        return Move(Kind.REVISED, text=str(tree.revision), line=stand)
    again = walk.way[stand].step if stand else site.variant.start
    return Move(Kind.REVISED, text=str(tree.revision), line=stand, to=again)


def on_revision(walk: Walk, tree: Tree, library: Library, move: Move) -> Walk:
    """The walk after ``move``, made by `revising`: it waits for somebody to take it over. Raises MoveError."""
    site = _site(walk, tree, library)
    way = walk.way[: move.line]
    steps = {*(visit.step for visit in way), move.to or walk.key.step}
    if len(way) != move.line or bool(move.to) == (way == walk.way) or not steps <= site.variant.steps.keys():
        raise MoveError("the revision does not fit the walk", WAIT)
    # Whoever goes on reads the warnings of this revision, whatever was acknowledged of another.
    key = walk.key._replace(acknowledged=frozenset(), phase=walk.key.phase._replace(people=False, read=False))
    if move.to:
        way, key = (*way, Visit(move.to)), key._replace(step=move.to, phase=Phase())
    state = STOPPED if walk.state == GOING else walk.state
    return logged(replace(walk, tree=tree, site=site, key=key, way=way, state=state), walk, move)


def _site(walk: Walk, tree: Tree, library: Library) -> Site:
    """Where the walk would go on. Raises MoveError where it is over or the revision lacks what the walk has."""
    if walk.over:
        raise MoveError("the walk is over", "begin a new walk")
    if tree.id != walk.tree.id:
        raise MoveError(f'"{tree.id}" is another tree', WAIT)
    if walk.key.model not in tree.variants:
        raise MoveError(f"the revision in use does not have {walk.key.model or 'one way for every model'}", WAIT)
    site = Site(library, tree.variants[walk.key.model], tree.fallback)
    gone = [name for name in sorted(walk.key.open_items) if not _is_known(site, name)]
    if gone:
        text = walk.library.open_items[gone[0]].text
        raise MoveError(f'the revision in use does not know what is open: "{text}"', WAIT)
    if walk.key.role not in library.roles:
        raise MoveError(f'the revision in use has no role "{walk.key.role}"', WAIT)
    return site


def _is_known(site: Site, item: str) -> bool:
    """Whether the revision says what an item is and, of a hazard or a disturbance, whose it is to close."""
    known = site.library.open_items.get(item)
    return known is not None and (not known.must_close or site.is_opened(item))


def _standing(walk: Walk, site: Site) -> int:
    """How many steps of the way are as they were, from the first on."""
    if walk.way[0].step != site.variant.start:
        return 0
    for at, visit in enumerate(walk.way):
        new = site.variant.steps.get(visit.step)
        old = walk.site.variant.steps[visit.step]
        if new is None or step_meaning(old, walk.library) != step_meaning(new, site.library):
            return at
    return len(walk.way)
