"""Which answer was most probably misread where no cause is left: by hand, and by brute force over random trees."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shipped import sample, shipped
from strategies import filled
from test_present_resting import rules_out, telling_trees

from faulttree.keys import OFF, Kind, Move
from faulttree.model import Band, Check, Limit, Scale
from faulttree.moves import allowed
from faulttree.possible import FIRM, NEAR_AN_EDGE, Misread, misread, possible
from faulttree.present import screen
from faulttree.present.answer import understand
from faulttree.present.remaining import NO_SINGLE, look_again
from faulttree.present.resting import resting, resting_blocks
from faulttree.value import replace
from faulttree.walk import apply, begin, possible_moves

LAMP = sample()
LIGHTS, CLEAN, FILM = (Move(Kind.FINDING, label=label) for label in ("Lights", "Clean", "Film"))
GOOD, NEARLY_FLAT = Move(Kind.READING, value="1.4 V"), Move(Kind.READING, value="1.105 V")
ACKNOWLEDGE, DONE, FAILED = (Move(kind) for kind in (Kind.ACKNOWLEDGE, Kind.DONE, Kind.FAILED))
UNABLE = Move(Kind.UNABLE, text="no meter")


def lamp(*moves: Move, role: str = "repairer", **weights: float):
    """A walk of the lamp; weights of causes as given, by their names with a low line."""
    tree = LAMP.trees["lamp-does-not-light"]
    variant = tree.variants["Finch"]
    new = {name.replace("_", "-"): weight for name, weight in weights.items()}
    causes = {name: replace(each, weight=new.get(name, each.weight)) for name, each in variant.causes.items()}
    tree = replace(tree, variants={**tree.variants, "Finch": replace(variant, causes=causes)})
    walk = begin(tree, LAMP.library, Move(Kind.BEGIN, role=role, model="Finch"))
    for move in (ACKNOWLEDGE, *moves):
        walk = apply(walk, move)
    return walk


def page(blocks) -> str:
    return "\n".join(line for block in blocks for line in block.lines)


# -- by hand: of the sample the cell weighs 60, the contacts 25, the switch 10, the head 5


def test_the_answer_without_which_most_weight_is_left() -> None:
    """Lights alone rules out switch and head (15), the voltage the cell (60), the clean contacts the contacts (25)."""
    walk = lamp(LIGHTS, GOOD, CLEAN)
    assert possible(walk) == ()
    assert misread(walk) == Misread(1, ("cell-flat",))
    assert misread(lamp(LIGHTS, GOOD, CLEAN, cell_flat=14)) == Misread(2, ("contacts-dirty",))
    assert misread(lamp(LIGHTS, GOOD, CLEAN, cell_flat=3, contacts_dirty=2)) == Misread(
        0, ("switch-worn", "head-failed")
    )


def test_of_equals_the_latest() -> None:
    assert misread(lamp(LIGHTS, GOOD, CLEAN, cell_flat=25)) == Misread(2, ("contacts-dirty",))
    none = {"cell_flat": 0, "contacts_dirty": 0, "switch_worn": 0, "head_failed": 0}
    assert misread(lamp(LIGHTS, GOOD, CLEAN, **none)) == Misread(2, ("contacts-dirty",))


def test_a_reading_near_an_edge_is_misread_more_easily() -> None:
    """The edge is 1.1 V, the gauge resolves 0.01 V: 10 times 5 is more than 25, 10 is less."""
    assert NEAR_AN_EDGE == 5 * FIRM
    assert misread(lamp(LIGHTS, NEARLY_FLAT, CLEAN, cell_flat=10)) == Misread(1, ("cell-flat",))
    assert misread(lamp(LIGHTS, GOOD, CLEAN, cell_flat=10)) == Misread(2, ("contacts-dirty",))


def test_a_failed_operational_check_may_be_the_one() -> None:
    """The film alone rules out the cell, the failed check alone the contacts; switch and head are ruled out twice."""
    moves = (LIGHTS, UNABLE, FILM, DONE, DONE, FAILED)
    assert misread(lamp(*moves)) == Misread(2, ("cell-flat",))
    assert misread(lamp(*moves, cell_flat=20)) == Misread(3, ("contacts-dirty",))


def test_nothing_was_misread_while_something_is_left() -> None:
    assert misread(lamp()) is None
    assert misread(lamp(LIGHTS, GOOD)) is None


# -- by brute force

LABELS = ("Good", "Worn", "Gone")
READINGS = {"Good": ("0.4", "1.0", "0.93"), "Worn": ("1.5", "1.04", "2.0"), "Gone": ("2.05", "3.7", "2.2")}
NEAR = {"1.0", "0.93", "1.04", "2.0", "2.05"}
"""Within 0.1 of 1 or of 2."""

WEIGHTS = st.one_of(st.none(), st.integers(0, 5).map(float))


@st.composite
def doubtful_trees(draw: Any):
    """Trees whose causes have weights or none, and of whose checks some are measured."""
    tree, library = draw(telling_trees())
    (variant,) = tree.variants.values()
    bands = (Band("Good", 1.0, inclusive=True), Band("Worn", 2.0, inclusive=True), Band("Gone", None))
    limit = Limit("depth", "Depth", "mm", {variant.model: Scale(0.0, 9.0, bands)}, 0.1)
    steps = {
        name: replace(step, measure="depth")
        if isinstance(step, Check) and len(step.findings) == 3 and draw(st.booleans())
        else step
        for name, step in variant.steps.items()
    }
    causes = {name: replace(cause, weight=draw(WEIGHTS)) for name, cause in variant.causes.items()}
    variant = replace(variant, steps=steps, causes=causes)
    return replace(tree, variants={variant.model: variant}), replace(library, limits={"depth": limit})


def by_brute_force(walk) -> Misread | None:
    """Leave out each answer in turn, and look at every cause whether anything of the rest speaks against it."""
    causes = walk.site.variant.causes

    def fit(visits) -> list[str]:
        speak = [(visit, name) for visit in visits for name in causes]
        out = {name for visit, name in speak if rules_out(walk.site.variant, visit, name, causes[name])}
        return [name for name in causes if name not in out]

    if fit(walk.way):
        return None
    known = [cause.weight for cause in causes.values() if cause.weight is not None]
    usual = sum(known) / len(known) if known else 1.0
    found = []
    for at, visit in enumerate(walk.way):
        left = fit([other for other in walk.way if other is not visit])
        weight = sum(usual if causes[name].weight is None else causes[name].weight for name in left)
        read = visit.moves[-1].value.split() if visit.moves else []
        near = bool(read) and read[0] in NEAR
        found += [(weight * (5.0 if near else 1.0), at, tuple(left))] if left else []
    return Misread(*max(found)[1:]) if found else None


@given(doubtful_trees(), st.randoms(use_true_random=False))
@settings(max_examples=150, deadline=None)
def test_as_by_brute_force(drawn, random) -> None:
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=OFF))
    for _ in range(30):
        assert misread(walk) == by_brute_force(walk)
        moves = [move for move in possible_moves(walk) if move.kind not in (Kind.STOP, Kind.HAND_OVER)]
        if random.random() < 0.85:
            moves = list(allowed(walk.site, walk.key)) or moves
        move = random.choice(moves)
        if move.kind == Kind.FINDING and walk.step.measure and random.random() < 0.8:
            move = Move(Kind.READING, value=f"{random.choice(READINGS[move.label])} mm")
        if move.kind == Kind.TAKE_OVER:
            move = Move(move.kind, role=random.choice(list(library.roles)), occupant=OFF)
        walk = apply(walk, filled(move))


def ways(tree_id: str, wanted):
    """The first walk of the tree, of findings and failed checks, for which ``wanted`` holds."""
    tree = shipped().trees[tree_id]
    start = Move(Kind.BEGIN, role="mechanic", model=tree.models[0], occupant=OFF)
    walks, seen = [begin(tree, shipped().library, start)], set()
    while walks:
        walk = walks.pop()
        way = tuple((visit.step, visit.moves) for visit in walk.way)
        if way in seen:
            continue
        seen.add(way)
        if wanted(walk):
            return walk
        moves = [move for move in allowed(walk.site, walk.key) if not move.kind.startswith("occupant")]
        walks += [apply(walk, filled(move)) for move in reversed(moves) if move.kind not in (Kind.UNABLE, Kind.CANNOT)]
    raise AssertionError(f"no such walk in {tree_id}")


# -- in words


def is_asked_with_nothing_left(walk) -> bool:
    asked = isinstance(walk.step, Check) and walk.site.gate(walk.key) is None
    return asked and not possible(walk) and any(line.move.kind == Kind.FINDING for line in walk.log)


def test_the_check_to_look_at_again_first_is_named_with_what_is_left_without_it() -> None:
    walk = ways("cot-will-not-release", lambda walk: is_asked_with_nothing_left(walk) and misread(walk))
    found, again = misread(walk), look_again(walk)
    assert again is not None
    text = page(screen(walk))
    said = re.search(r"No listed cause fits all that was found\. Look again first at line (\d+): (.*)", text)
    assert said is not None
    assert int(said[1]) == again.line
    assert walk.site.variant.steps[walk.way[found.at].step].text in said[2]
    assert len(found.left) > 1
    assert said[2].endswith(f" Without it {len(found.left)} of {len(walk.site.variant.causes)} are possible.")
    assert "Still possible" not in text
    assert "%" not in text
    assert f"To look there again, type: back {again.line}" in text
    meant = understand(walk, f"back {again.line}")
    assert apply(walk, meant.move).key.step == again.step == walk.way[found.at].step


def test_where_no_single_answer_explains_it_that_is_said() -> None:
    walk = ways("cot-will-not-release", lambda walk: is_asked_with_nothing_left(walk) and not misread(walk))
    text = page(screen(walk))
    assert f"No listed cause fits all that was found. {NO_SINGLE}" in text
    assert "To look there again" not in text
    assert look_again(walk) is None


ALWAYS_LEFT = frozenset({"strap-or-buckle"})
"""In these something is left at every check, whatever is found."""


@pytest.mark.parametrize("tree", sorted(ALWAYS_LEFT))
def test_only_where_something_is_always_left_is_there_no_such_walk(tree) -> None:
    with pytest.raises(AssertionError, match="no such walk"):
        ways(tree, is_asked_with_nothing_left)
    assert ways(tree, lambda walk: walk.ended)


@pytest.mark.parametrize("tree", sorted(shipped().trees.keys() - ALWAYS_LEFT))
def test_the_first_role_sees_nothing_of_it(tree) -> None:
    walk = ways(tree, is_asked_with_nothing_left)
    crew = replace(walk, key=walk.key._replace(role="crew"))
    assert "No listed cause" in page(screen(walk))
    assert "No listed cause" not in page(screen(crew))
    assert look_again(crew) is None


def test_the_last_look_says_so_too() -> None:
    walk = lamp(LIGHTS, GOOD, CLEAN)
    shown = page(resting_blocks(walk, resting(walk)))
    assert "No listed cause fits all that was found." in shown
    fits = lamp(LIGHTS, Move(Kind.READING, value="0.9 V"))
    assert "No listed cause" not in page(resting_blocks(fits, resting(fits)))
