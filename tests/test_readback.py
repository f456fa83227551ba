"""Read-back codes: what they carry comes back, what was misheard is refused, another routing is refused."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shipped import shipped
from strategies import MODEL, filled, trees

from faulttree.check_characters import check_characters
from faulttree.keys import OFF, ON, UNANSWERED, Kind, Move, Stage
from faulttree.model import Check, Fix, Tree, Variant
from faulttree.moves import allowed
from faulttree.present.ends import said_beside
from faulttree.problems import CodeError
from faulttree.readback import ALPHABET, begin, encode, find_tree, routing_digest, take_apart
from faulttree.value import replace
from faulttree.walk import apply


def walked(tree, library, random, moves=30):
    """A random walk of all moves that change it: forward, back, the fallback, taking over."""
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=random.choice((ON, OFF, UNANSWERED))))
    for _ in range(random.randrange(moves)):
        choice = list(allowed(walk.site, walk.key))
        if not choice:
            break
        if len(walk.way) > 1 and random.random() < 0.1:
            choice = [Move(Kind.BACK)]
        elif random.random() < 0.1:
            choice = [Move(Kind.FALLBACK, line=1), Move(Kind.TAKE_OVER, role="mechanic")]
        walk = apply(walk, filled(random.choice(choice)))
    return walk


@given(trees(), st.randoms(use_true_random=False))
@settings(max_examples=200, deadline=None)
def test_round_trip(drawn, random) -> None:
    tree, library = drawn
    walk = walked(tree, library, random)
    code = encode(walk)
    back = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=walk.key.occupant, code=code))
    assert back.key.step == walk.key.step
    assert [visit.step for visit in back.way] == [visit.step for visit in walk.way]
    assert stage_said(back) == stage_said(walk)
    assert back.key.open_items >= open_on_the_way(walk), "more may stand open, never less"
    assert not back.key.acknowledged
    if back.key.occupant == walk.key.occupant and not occupant_stated(back):
        assert encode(back) == code


def stage_said(walk) -> str:
    """The stage as far as a code says it: work begun, gates passed and waiting are not in it."""
    stage = walk.key.phase.stage
    if stage in (Stage.ARRIVED, Stage.ASK, Stage.DO, Stage.TICK):
        return "begun"
    if stage in (Stage.LEFT_OPEN, Stage.ENDED):
        return "over"
    # That the time is over is said only by what comes after it: without a second inspection it is waited for again.
    waits_anew = isinstance(walk.step, Fix) and walk.step.wait and not walk.step.second_inspection
    return "prove" if stage == Stage.PROVE and not waits_anew else "done"


def open_on_the_way(walk) -> frozenset[str]:
    """What is open by the way that is left, as a walk without going back would have it."""
    not_carried = (Kind.BACK, Kind.CLOSED, Kind.FALLBACK)
    return frozenset() if any(line.move.kind in not_carried for line in walk.log) else walk.key.open_items


def occupant_stated(walk) -> bool:
    return walk.log[-1].move.kind in (Kind.OCCUPANT_OFF, Kind.OCCUPANT_ON)


@given(trees(), st.randoms(use_true_random=False), st.data())
@settings(max_examples=100, deadline=None)
def test_one_misheard_character_or_a_swap_is_refused(drawn, random, data) -> None:
    tree, library = drawn
    plain = encode(walked(tree, library, random)).replace("-", "")
    at = data.draw(st.integers(0, len(plain) - 1))
    other = data.draw(st.sampled_from([sign for sign in ALPHABET if sign != plain[at]]))
    with pytest.raises(CodeError):
        take_apart(plain[:at] + other + plain[at + 1 :])
    at = data.draw(st.integers(0, len(plain) - 2))
    if plain[at] != plain[at + 1]:
        with pytest.raises(CodeError):
            take_apart(plain[:at] + plain[at + 1] + plain[at] + plain[at + 2 :])


@given(trees(), st.text("0123456789UDIYNXFPE", max_size=20))
@settings(max_examples=200, deadline=None)
def test_any_moves_with_right_check_characters_are_walked_or_refused_in_words(drawn, signs) -> None:
    tree, library = drawn
    text = f"{tree.short}{routing_digest(tree)}1P{signs}"
    code = text + check_characters(text)
    try:
        outcome = begin(tree, library, Move(Kind.BEGIN, code=code))
    except CodeError as refused:
        outcome = refused
    assert outcome.advice if isinstance(outcome, CodeError) else outcome.tree is tree


def rerouted(tree: Tree) -> Tree:
    """The tree with the first route of its first step turned to the last step."""
    variant = next(iter(tree.variants.values()))
    first = variant.steps[variant.start]
    last = list(variant.steps)[-1]
    if isinstance(first, Check):
        turned = replace(first, findings=(replace(first.findings[0], goto=last), *first.findings[1:]))
    else:
        assert isinstance(first, Fix)
        turned = replace(first, failed=replace(first.failed, to=last))
    return replace(tree, variants={MODEL: replace(variant, steps={**variant.steps, variant.start: turned})})


@given(trees())
@settings(max_examples=100, deadline=None)
def test_another_routing_is_refused_whatever_the_revision_says(drawn) -> None:
    tree, library = drawn
    other = rerouted(tree)
    if routing_digest(other) == routing_digest(tree):
        return
    code = encode(begin(tree, library, Move(Kind.BEGIN)))
    with pytest.raises(CodeError, match="another routing"):
        find_tree(code, {other.id: other})
    worded = replace(tree, revision=tree.revision + 1, symptom="Another wording")
    assert find_tree(code, {worded.id: worded}) is worded


@given(trees())
@settings(max_examples=50, deadline=None)
def test_a_code_knows_its_tree_and_says_when_there_is_none(drawn) -> None:
    tree, library = drawn
    code = encode(begin(tree, library, Move(Kind.BEGIN)))
    with pytest.raises(CodeError, match='no tree here has the short name "STK"'):
        find_tree(code, {})


def test_routing_digests_differ_for_most_routings() -> None:
    """Two characters out of 1,296 values: of a hundred other routings hardly any may look the same."""
    drawn = []
    for at in range(100):
        finding = f"s{at}"
        variant = Variant(MODEL, finding, {}, {})
        tree = Tree("t", "STK", "", (), (), "", 1, "", "draft", {MODEL: variant})
        drawn.append(routing_digest(tree))
    assert len(set(drawn)) > 85


@pytest.mark.parametrize("code", ["", "-", "REL", "REL7-K1P2-U1DQ-Y", "€", "REL7K1P2U1DQX" * 20])
def test_what_is_no_code_is_refused_in_words(code) -> None:
    with pytest.raises(CodeError) as refused:
        take_apart(code)
    assert "no read-back code" in refused.value.what


def test_what_the_fallback_opened_is_said_beside_the_code() -> None:
    """A line of the fallback is no part of the code, so whoever goes on from it would not know what is open."""
    found = shipped()
    tree = found.trees["cot-will-not-release"]
    assert found.library
    walk = begin(tree, found.library, Move(Kind.BEGIN, role="crew", model=tree.models[0], occupant=ON))
    assert said_beside(walk, encode(walk)) == ()
    walk = apply(walk, Move(Kind.FALLBACK, line=1))
    heard = begin(tree, found.library, Move(Kind.BEGIN, role="crew", code=encode(walk)))
    missing = set(walk.key.open_items) - set(heard.key.open_items)
    assert "lock-open" in missing
    said = said_beside(walk, encode(walk))
    assert len(said) == len(missing)
    assert any(line.startswith("SAY ALSO, it is not in the code: HAZARD: The lock is open.") for line in said)
