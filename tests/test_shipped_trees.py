"""Every cause of every shipped tree, walked by the engine to a fix that clears it or an end that names it."""

from __future__ import annotations

import pytest
from shipped import shipped, variants
from strategies import filled

from faulttree.checking import check_library
from faulttree.explore import explore
from faulttree.graph import graph_of
from faulttree.keys import OFF, Gate, Kind, Move, Stage
from faulttree.model import Check, End, Fix
from faulttree.moves import allowed
from faulttree.possible import possible
from faulttree.present import choices, hand_over_page, screen, start_page
from faulttree.present.draft import entry_draft
from faulttree.readback import begin, encode
from faulttree.value import replace
from faulttree.walk import apply

EVERY = [pytest.param(*each[1:], id=each[0]) for each in variants()]
GATES = {Gate.PEOPLE: Kind.PEOPLE_HERE, Gate.WARNINGS: Kind.ACKNOWLEDGE}
WORK = {Stage.DO: Kind.DONE, Stage.WAIT: Kind.WAITED, Stage.INSPECT: Kind.INSPECTED, Stage.LEFT_OPEN: Kind.CLOSED}


def test_the_shipped_library_has_no_problems() -> None:
    assert check_library(shipped()) == []


@pytest.mark.parametrize(("library", "tree", "variant"), EVERY)
def test_every_rule_holds_in_every_key(library, tree, variant) -> None:
    explored = explore(library, variant, graph_of(variant))
    assert explored.broken == ()
    assert explored.keys > len(graph_of(variant).order)
    assert explored.ways > 1


@pytest.mark.parametrize(("library", "tree", "variant"), EVERY)
def test_every_cause_is_walked_to_its_fix(library, tree, variant) -> None:
    for cause in variant.causes:
        walks = [begin(tree, library, Move(Kind.BEGIN, role=able(library), model=variant.model, occupant=OFF))]
        finished = 0
        while walks:
            walk = walks.pop()
            if walk.ended:
                finished += 1
                arrived_well(walk, cause)
            else:
                walks += [apply(walk, move) for move in answers(walk, cause)]
        assert finished


def able(library) -> str:
    """The role that may do the most of what the library has."""
    return max(library.roles, key=lambda name: len(library.roles[name].covers))


def answers(walk, cause):
    """What somebody with this cause answers: gates passed, work done, each finding that the cause may show."""
    gate, step, stage = walk.site.gate(walk.key), walk.step, walk.key.phase.stage
    if gate == Gate.ROLE:
        return [Move(Kind.TAKE_OVER, role=walk.site.needs(walk.key).who, occupant=OFF)]
    if gate is not None:
        return [Move(GATES[gate])]
    if isinstance(step, Check):
        return [
            Move(Kind.FINDING, label=label) for label in walk.site.variant.shown(step, walk.site.variant.causes[cause])
        ]
    if stage == Stage.TICK:
        return [Move(Kind.DONE)]
    if stage == Stage.PROVE:
        return [Move(Kind.PASSED if cause in step.clears else Kind.FAILED)]
    return [Move(WORK[stage], text="AB")]


def arrived_well(walk, cause) -> None:
    if walk.passed:
        assert cause in walk.step.clears
        assert cause in possible(walk)
        found = walk.site.variant.causes[cause].found
        draft = "\n".join(entry_draft(walk, walk.step))
        assert found.split("___")[0] in draft
        assert "NOT YET APPROVED FOR RETURN TO SERVICE" in page(screen(walk))
    else:
        assert isinstance(walk.step, End)
        assert cause in walk.step.named
    assert "NOT" in page(screen(walk)) or walk.step.kind == "out of service"
    assert encode(walk).startswith(walk.tree.short)


def page(blocks) -> str:
    return "\n".join(line for block in blocks for line in block.lines)


@pytest.mark.parametrize(("library", "tree", "variant"), EVERY)
def test_crew_sees_no_figures_documents_parts_or_causes(library, tree, variant) -> None:
    """Of the first role, in every key that it can come to: design for people in a hurry, not for the mechanic."""
    hidden = [
        *library.documents,
        *library.parts,
        *(cause.text for cause in variant.causes.values() if len(cause.text) > 12),
    ]
    tree = marked(tree, variant)
    for occupant in ("on", "off", ""):
        walks = [begin(tree, library, Move(Kind.BEGIN, model=variant.model, occupant=occupant))]
        seen = set()
        while walks:
            walk = walks.pop()
            if walk.key in seen:
                continue
            seen.add(walk.key)
            shown = page(screen(walk)) if not walk.ended else ""
            if not walk.way[:-1]:
                shown += page(start_page(walk))
            for name in hidden:
                assert name not in shown, f"{name} at {walk.key.step}"
            assert "7777" not in shown, "minutes are for the desk"
            assert "8888" not in shown, "likelihoods are for the desk"
            walks += [apply(walk, filled(move)) for move in forward_of(walk)]


def marked(tree, variant):
    """The tree with minutes and weights that are easily found in what is shown."""
    steps = {
        name: replace(step, minutes=7777.0) if isinstance(step, Check | Fix) else step
        for name, step in variant.steps.items()
    }
    causes = {name: replace(cause, weight=8888.0) for name, cause in variant.causes.items()}
    return replace(tree, variants={**tree.variants, variant.model: replace(variant, steps=steps, causes=causes)})


def forward_of(walk):
    return [move for move in allowed(walk.site, walk.key) if not move.kind.startswith("occupant")]


HANDED_OVER_EVERY = 5
"""At every so many keys the page for the next person is made too; it takes longer than all the rest."""


@pytest.mark.parametrize(("library", "tree", "variant"), EVERY)
def test_every_key_can_be_shown_and_offers_what_is_allowed(library, tree, variant) -> None:
    for role in library.roles:
        walks = [begin(tree, library, Move(Kind.BEGIN, role=role, model=variant.model, occupant=OFF))]
        seen = set()
        while walks:
            walk = walks.pop()
            if walk.key in seen:
                continue
            seen.add(walk.key)
            assert page(screen(walk))
            if len(seen) % HANDED_OVER_EVERY == 0:
                assert page(hand_over_page(walk))
            offered = choices(walk)
            assert len({choice.number for choice in offered}) == len(offered)
            moves = {move for move in allowed(walk.site, walk.key) if not move.kind.startswith("occupant")}
            assert moves <= {choice.move for choice in offered}
            gate_shows_all(walk)
            walks += [apply(walk, filled(move)) for move in moves]


def gate_shows_all(walk) -> None:
    """Warnings and cautions that are new stand in full before the step's work is shown."""
    shown = page(screen(walk))
    if walk.site.gate(walk.key) == Gate.WARNINGS:
        for notice in walk.site.pending(walk.key):
            assert notice.hazard.rstrip(".") in shown
            assert notice.result.rstrip(".") in shown
            assert all(line.rstrip(".") in shown for line in notice.avoid)
        step = walk.step
        assert not isinstance(step, Fix) or not step.do or step.do[-1].rstrip(".") not in shown


@pytest.mark.parametrize(("library", "tree", "variant"), EVERY)
def test_whoever_is_told_to_hang_a_tag_leaves_its_duty_open(library, tree, variant) -> None:
    """So that it stays in the list of what waits once the page is closed; each end out of service has a tag."""
    duties = {"mount": "mount-out-of-use", "cot": "cot-out-of-use"}
    if not set(duties.values()) <= set(library.open_items):
        pytest.skip("a library without duties")
    for end in variant.steps.values():
        if isinstance(end, End):
            said = " ".join(line.partition(".")[0] for line in end.do if line.startswith("Hang "))
            wanted = {duty for where, duty in duties.items() if f"the {where}" in said}
            assert set(end.opens) == wanted, end.id
            assert wanted or end.kind != "out of service", end.id
