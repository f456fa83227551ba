"""A walk goes on with another revision of its tree: what stands, where it is asked again, what is never lost.

The oracle replays what stands, answer by answer, on the new revision from its beginning.
"""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shipped import shipped
from strategies import MODEL, filled, trees
from test_present_after import DONE, FAILED, INSPECTED, WAITED, all_done, further, minutely, rel

from faulttree.digest import tree_digest
from faulttree.keys import OFF, Kind, Move, Phase, Stage
from faulttree.model import Fix, Library, Tree, Work
from faulttree.moves import after
from faulttree.present.after import not_before_lines, order_lines
from faulttree.present.draft import work_done
from faulttree.problems import MoveError
from faulttree.readback import begin as begin_by_code
from faulttree.readback import encode
from faulttree.revised import on_revision, revising
from faulttree.value import replace
from faulttree.walk import GOING, HANDED_OVER, STOPPED, Walk, apply, begin, possible_moves


def revised(walk: Walk, tree: Tree, library: Library) -> Walk:
    return on_revision(walk, tree, library, revising(walk, tree, library))


def with_step(tree: Tree, name: str, **changes: object) -> Tree:
    """The tree with one step changed, on every model."""
    variants = {
        model: replace(variant, steps={**variant.steps, name: replace(variant.steps[name], **changes)})
        for model, variant in tree.variants.items()
    }
    return replace(tree, revision=tree.revision + 1, variants=variants)


def by_chance(tree: Tree, library: Library, chance: random.Random, moves: int) -> Walk:
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=OFF))
    for _ in range(moves):
        possible = [move for move in possible_moves(walk) if move.kind not in (Kind.STOP, Kind.HAND_OVER)]
        forward = [move for move in possible if move.kind not in (Kind.NOTE, Kind.ALSO_FOUND, Kind.TAKE_OVER)]
        walk = apply(walk, filled(chance.choice(forward or possible)))
    return walk


@settings(max_examples=200)
@given(st.data(), trees())
def test_what_stands_leads_on_the_new_revision_to_where_it_is_asked_again(data, found) -> None:
    tree, library = found
    walk = by_chance(tree, library, random.Random(data.draw(st.integers(0, 9999))), data.draw(st.integers(0, 14)))
    names = data.draw(st.sets(st.sampled_from(sorted(tree.variants[MODEL].steps))))
    new = tree
    for name in names:
        new = with_step(new, name, who="engineering")
    really = {name for name in names if new.variants[MODEL].steps[name] != tree.variants[MODEL].steps[name]}
    if walk.over:
        with pytest.raises(MoveError, match="the walk is over"):
            revising(walk, new, library)
        return
    on = revised(walk, new, library)
    been = [visit.step for visit in walk.way]
    stands = next((at for at, name in enumerate(been) if name in really), len(been))
    assert [visit.step for visit in on.way] == been[: stands + 1]
    assert on.way[:stands] == walk.way[:stands]
    assert on.key.open_items == walk.key.open_items, "what was done is not undone"
    assert on.log[:-1] == walk.log
    assert (on.tree, on.key.acknowledged, on.state) == (new, frozenset(), STOPPED)
    # The oracle: from the beginning on the new revision, each answer that stands.
    key = on.site.before_start("mechanic", OFF)
    for visit in on.way:
        assert key.step == visit.step
        for move in visit.moves:
            key = after(on.site, on.site.enter(key) if key.phase.stage == Stage.ARRIVED else key, move)
    taken = apply(on, Move(Kind.TAKE_OVER, role="mechanic", occupant=OFF))
    assert taken.state == GOING
    told = begin_by_code(new, library, Move(Kind.BEGIN, code=encode(taken)))
    assert [visit.step for visit in told.way] == [visit.step for visit in taken.way]


def test_a_shared_entry_that_a_step_uses_is_part_of_what_it_means() -> None:
    walk = rel("Still held", "Short of the line", "Steady")
    library = walk.library
    assert [visit.step for visit in walk.way] == ["push-forward", "knee", "bracket", "override-bar"]
    [name, *_] = set(walk.site.variant.steps["knee"].notices) - set(walk.site.variant.steps["push-forward"].notices)
    notice = library.notices[name]
    harder = replace(library, notices={**library.notices, name: replace(notice, result="Fingers are cut off")})
    on = revised(walk, walk.tree, harder)
    assert (on.log[-1].move.to, on.log[-1].move.line) == ("knee", 1)
    torch = library.tools["dial-indicator"]
    longer = replace(library, tools={**library.tools, torch.id: replace(torch, note="In the drawer")})
    assert revised(walk, walk.tree, longer).log[-1].move.to == "", "no step of this way uses it"


def test_lines_that_were_ticked_stand_while_the_work_is_as_it_was() -> None:
    walk = rel("Still held", "Past the line", "Jaw clear", DONE, DONE)
    assert isinstance(walk.step, Fix)
    assert walk.key.phase.line == 2
    on = revised(walk, with_step(walk.tree, "over-centre", minutes=99.0), walk.library)
    taken = apply(on, Move(Kind.TAKE_OVER, role="mechanic", occupant=OFF))
    assert (taken.key.step, taken.key.phase.line) == (walk.key.step, 2)
    changed = with_step(walk.tree, walk.key.step, do=("Look first.", *walk.step.do))
    on = revised(walk, changed, walk.library)
    assert (on.key.step, on.key.phase) == (walk.key.step, Phase())
    assert on.key.open_items == walk.key.open_items
    assert sum(line.move.kind == Kind.DONE for line in on.log) == 2, "what was done stays in the log"


def test_another_start_asks_from_there() -> None:
    walk = rel("Still held")
    variants = {name: replace(each, start="handle-feel") for name, each in walk.tree.variants.items()}
    on = revised(walk, replace(walk.tree, variants=variants), walk.library)
    assert ([visit.step for visit in on.way], on.log[-1].move.line) == (["handle-feel"], 0)


def test_the_log_says_what_was_done_by_the_steps_of_then() -> None:
    walk = rel("Still held", "Past the line", "Jaw clear")
    fix = walk.step
    assert isinstance(fix, Fix)
    moves = [DONE] * len(fix.do)
    moves += [WAITED] if fix.wait else []
    moves += [INSPECTED] if fix.second_inspection else []
    for move in (*moves, FAILED):
        while walk.site.gate(walk.key):
            walk = apply(walk, Move(Kind.PEOPLE_HERE if walk.site.gate(walk.key) == "people" else Kind.ACKNOWLEDGE))
        walk = apply(walk, move)
    gone = {
        name: replace(
            each,
            steps={
                **{step: what for step, what in each.steps.items() if step != fix.id},
                "jaw": replace(each.steps["jaw"], text="Is the jaw clear?"),
            },
        )
        for name, each in walk.tree.variants.items()
    }
    on = revised(walk, replace(walk.tree, variants=gone), walk.library)
    assert on.key.step == "jaw"
    assert fix.id not in on.site.variant.steps
    assert {line.at_step.text for line in on.log if line.move.kind == Kind.DONE} == {fix.text}


def test_a_walk_that_was_handed_over_still_is() -> None:
    walk = apply(rel("Still held"), Move(Kind.HAND_OVER, to="mechanic"))
    on = revised(walk, with_step(walk.tree, "knee", text="What does the knee do?"), walk.library)
    assert (on.state, on.key.step) == (HANDED_OVER, "knee")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"variants": {}}, "the revision in use does not have Bracken"),
        ({"id": "another"}, '"another" is another tree'),
    ],
)
def test_a_revision_that_does_not_fit_is_refused(change: dict[str, object], said: str) -> None:
    walk = rel("Still held")
    with pytest.raises(MoveError, match=said):
        revising(walk, replace(walk.tree, **change), walk.library)


@pytest.mark.parametrize(
    "move",
    [
        Move(Kind.REVISED, line=-1, to="push-forward"),
        Move(Kind.REVISED, line=9),
        Move(Kind.REVISED, line=0),
        Move(Kind.REVISED, line=2, to="knee"),
        Move(Kind.REVISED, line=1, to="nowhere"),
    ],
)
def test_a_move_that_no_revising_made_is_refused(move: Move) -> None:
    """Out of a journal that somebody wrote by hand."""
    walk = rel("Still held")
    assert len(walk.way) == 2
    with pytest.raises(MoveError, match="the revision does not fit the walk"):
        on_revision(walk, walk.tree, walk.library, move)


def test_what_is_open_must_be_known_to_the_revision() -> None:
    walk = rel("Still held", "Past the line")
    assert "cot-not-locked" in walk.key.open_items
    items = {name: item for name, item in walk.library.open_items.items() if name != "cot-not-locked"}
    with pytest.raises(MoveError, match=r"does not know what is open: .*the jaw still shut"):
        revising(walk, walk.tree, replace(walk.library, open_items=items))


def test_whose_an_open_hazard_or_disturbance_is_must_be_known_to_the_revision() -> None:
    """Where no step opens it any more, everybody could say that what a mechanic took apart is closed."""
    walk = further(rel("Still held", "Past the line", "Jaw clear"), DONE)
    assert "mount-cover-off" in walk.key.open_items
    assert walk.site.closers("mount-cover-off") == ("mechanic",)
    tree = walk.tree
    for step in walk.site.variant.steps.values():
        if isinstance(step, Work):
            tree = with_step(tree, step.id, accesses=())
    with pytest.raises(MoveError, match=r"does not know what is open: .*over"):
        revising(walk, tree, walk.library)
    for name in walk.site.variant.steps:
        tree = with_step(tree, name, opens=())
    before = rel("Still held", "Past the line")
    duties = replace(before, key=before.key._replace(open_items=frozenset({"mount-out-of-use"})))
    assert revised(duties, tree, walk.library).key.open_items == {"mount-out-of-use"}, "a duty is nobody's by a step"


def test_nothing_changed_in_meaning_leaves_every_step() -> None:
    loaded = shipped()
    walk = rel("Still held", "Short of the line")
    again = loaded.trees["cot-will-not-release"]
    assert tree_digest(again, walk.library) == tree_digest(walk.tree, walk.library)
    assert revising(walk, again, walk.library).to == ""


def test_what_was_used_by_a_revision_of_before_is_still_told() -> None:
    walk = all_done(rel("Still held", "Short of the line", "Moves"))
    tree = walk.tree
    for step in walk.site.variant.steps.values():
        if isinstance(step, Fix):
            tree = with_step(tree, step.id, parts={}, consumables=())
    on = revised(walk, tree, replace(walk.library, parts={}, consumables={}, limits={}, documents={}))
    assert work_done(on) == work_done(walk) != ()
    assert (order_lines(on), len(order_lines(on))) == (order_lines(walk), 1)
    times = minutely(walk)
    told = not_before_lines(walk, times)
    assert "threadlocker" in " ".join(told)
    assert not_before_lines(on, [*times, times[-1]]) == told
