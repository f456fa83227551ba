"""The example walks that trees carry in `cases`: each is walked by the engine and must arrive where it says."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from shipped import sample, shipped

from faulttree.keys import OFF, Gate, Kind, Move, Stage
from faulttree.model import Case, Check, End, Fix, Library, Tree
from faulttree.readback import begin
from faulttree.value import replace
from faulttree.walk import Walk, apply

GATES = {Gate.PEOPLE: Kind.PEOPLE_HERE, Gate.WARNINGS: Kind.ACKNOWLEDGE}
WORK = {Stage.DO: Kind.DONE, Stage.TICK: Kind.DONE, Stage.WAIT: Kind.WAITED, Stage.INSPECT: Kind.INSPECTED}


def written_cases() -> Iterator[object]:
    """Every case on every model that it is for: the one that it names, else all of the tree."""
    for loaded in (shipped(), sample()):
        for tree in loaded.trees.values():
            for case in tree.cases:
                for model in (case.model,) if case.model else tree.models:
                    named = f"{tree.id}-{case.name.replace(' ', '-')}-{model}"
                    yield pytest.param(loaded.library, tree, replace(case, model=model), id=named)


def arrives(library: Library, tree: Tree, case: Case) -> bool:
    """Whether some way that the case allows comes to its step, and its role may do what is to be done there.

    Nobody takes over: the role of the case does every step on the way. Answers, where there are any, are all given.
    """
    role = case.role or library.first_role
    start = begin(tree, library, Move(Kind.BEGIN, role=role, model=case.model, occupant=OFF))
    waiting = [(start, case.answers)]
    while waiting:
        walk, answers = waiting.pop()
        if walk.key.step == case.arrives and not answers and walk.site.gate(walk.key) != Gate.ROLE:
            return True
        waiting += [(apply(walk, move), left) for move, left in onward(walk, case, answers)]
    return False


def onward(walk: Walk, case: Case, answers: tuple[str, ...]) -> Iterator[tuple[Move, tuple[str, ...]]]:
    """What may be done next, each with the answers that are then left."""
    gate, step, stage = walk.site.gate(walk.key), walk.step, walk.key.phase.stage
    if gate == Gate.ROLE or walk.ended or (case.answers and not answers):
        return
    if gate is not None:
        yield Move(GATES[gate]), answers
    elif isinstance(step, Check) or stage == Stage.PROVE:
        moves = [named(step, answers[0])] if answers else shown(walk, step, case)
        yield from ((move, answers[1:]) for move in moves)
    elif stage in WORK:
        yield Move(WORK[stage], text="AB"), answers


def named(step: Check | Fix | End, answer: str) -> Move:
    """The move of a written answer: the label of a finding, or a word such as failed or unable."""
    if isinstance(step, Check) and step.finding(answer):
        return Move(Kind.FINDING, label=answer)
    return Move(Kind(answer))


def shown(walk: Walk, step: Check | Fix | End, case: Case) -> list[Move]:
    """What the cause of the case may show here; without a cause, anything."""
    if isinstance(step, Check):
        cause = walk.site.variant.causes[case.cause] if case.cause else None
        labels = walk.site.variant.shown(step, cause) if cause else [each.label for each in step.findings]
        return [Move(Kind.FINDING, label=label) for label in labels]
    cured = isinstance(step, Fix) and case.cause in step.clears
    return [Move(Kind.PASSED if cured else Kind.FAILED)]


@pytest.mark.parametrize(("library", "tree", "case"), list(written_cases()))
def test_case_arrives_where_it_says(library: Library, tree: Tree, case: Case) -> None:
    assert arrives(library, tree, case)


RIGHT = Case("a flat cell", "repairer", "Finch", "cell-flat", (), "fit-cell")


def arrives_in_the_sample(case: Case) -> bool:
    library = sample().library
    assert library
    return arrives(library, sample().trees["lamp-does-not-light"], case)


def test_a_case_that_arrives_does_so_with_and_without_answers() -> None:
    assert arrives_in_the_sample(RIGHT)
    assert arrives_in_the_sample(replace(RIGHT, answers=("Lights", "Flat")))


@pytest.mark.parametrize(
    "wrong",
    [
        replace(RIGHT, arrives="fit-head"),
        replace(RIGHT, cause="head-failed"),
        replace(RIGHT, role="user"),
        replace(RIGHT, answers=("Lights",)),
        replace(RIGHT, answers=("Lights", "Flat", "failed")),
    ],
    ids=["another step", "another cause", "a role that may not", "too few answers", "too many answers"],
)
def test_a_case_that_does_not_arrive_is_noticed(wrong: Case) -> None:
    assert not arrives_in_the_sample(wrong)
