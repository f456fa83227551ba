"""The example walks that trees carry in `cases`, and what neither a cause nor a case comes to."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from shipped import sample, shipped

from faulttree.cases import run_case, unused
from faulttree.model import Case, Check, Fix, Library, Tree, Variant
from faulttree.moves import routes
from faulttree.value import replace


def written_cases() -> Iterator[object]:
    """Every case on every model that it is for: the one that it names, else all of the tree."""
    for loaded in (shipped(), sample()):
        for tree in loaded.trees.values():
            for case in tree.cases:
                for model in (case.model,) if case.model else tree.models:
                    named = f"{tree.id}-{case.name.replace(' ', '-')}-{model}"
                    yield pytest.param(loaded.library, tree, replace(case, model=model), id=named)


@pytest.mark.parametrize(("library", "tree", "case"), list(written_cases()))
def test_case_arrives_where_it_says(library: Library, tree: Tree, case: Case) -> None:
    assert run_case(library, tree.variants[case.model], case).arrived


RIGHT = Case("a flat cell", "repairer", "Finch", "cell-flat", (), "fit-cell")


def lamp() -> tuple[Library, Variant]:
    library = sample().library
    assert library
    return library, sample().trees["lamp-does-not-light"].variants["Finch"]


def test_a_case_that_arrives_does_so_with_and_without_answers() -> None:
    library, variant = lamp()
    assert run_case(library, variant, RIGHT).way == (("spare-cell", "Lights"), ("volts", "Flat"))
    assert run_case(library, variant, replace(RIGHT, answers=("Lights", "Flat"))).arrived


@pytest.mark.parametrize(
    ("wrong", "step", "why"),
    [
        (replace(RIGHT, arrives="fit-head"), "fit-cell", 'the walk ends at "fit-cell"'),
        (replace(RIGHT, role="user"), "volts", '"volts" is not for the role "user"'),
        (replace(RIGHT, answers=("Lights",)), "volts", 'its answers end at "volts"'),
        (replace(RIGHT, answers=("Lights", "Flat", "failed")), None, None),
        (replace(RIGHT, answers=("Lights", "Round")), "volts", '"Round" is no answer at "volts"'),
        (replace(RIGHT, answers=("passed",)), "spare-cell", '"passed" is no answer at "spare-cell"'),
    ],
    ids=["another step", "a role that may not", "too few answers", "too many answers", "no finding", "no result"],
)
def test_a_case_that_does_not_arrive_says_why(wrong: Case, step: str | None, why: str | None) -> None:
    """Where it stopped and why; with too many answers it goes on past its step and ends elsewhere."""
    outcome = run_case(*lamp(), wrong)
    assert not outcome.arrived
    assert bool(outcome.fitting) == ("no answer" in outcome.why)
    if step is not None:
        assert (outcome.step, outcome.why) == (step, why)


def test_an_answer_that_does_not_fit_is_told_with_those_that_do() -> None:
    library, variant = lamp()
    outcome = run_case(library, variant, replace(RIGHT, answers=("Lights", "Round")))
    assert (outcome.answer, outcome.fitting) == (1, ("Flat", "Good", "No reading", "unable"))
    outcome = run_case(library, variant, replace(RIGHT, answers=("Lights", "Flat", "Lights"), arrives="out-of-use"))
    assert (outcome.answer, outcome.fitting) == (2, ("passed", "failed"))


def test_the_operational_check_may_be_what_a_role_may_not_do() -> None:
    """The fix is for the role; saying that it is not would send the author to the wrong key."""
    library, variant = lamp()
    fix = variant.steps["fit-cell"]
    assert isinstance(fix, Fix)
    checks = library.operational_checks
    others = {fix.operational_check: replace(checks[fix.operational_check], who="inspector")}
    library = replace(library, operational_checks={**checks, **others})
    outcome = run_case(library, variant, replace(RIGHT, answers=("Lights", "Flat", "failed"), arrives="out-of-use"))
    assert outcome.why == 'the operational check of "fit-cell" is not for the role "repairer"'
    assert outcome.answer < 0


def test_another_cause_does_not_arrive() -> None:
    assert not run_case(*lamp(), replace(RIGHT, cause="head-failed")).arrived


def test_giving_a_fix_up_is_an_answer() -> None:
    library, variant = lamp()
    fix = variant.steps["fit-cell"]
    assert isinstance(fix, Fix)
    assert fix.cannot
    given_up = replace(RIGHT, answers=("Lights", "Flat", "cannot"), arrives=fix.cannot.to)
    assert run_case(library, variant, given_up).arrived


# -- what nothing comes to


def edges_by_recursion(variant: Variant, cause: str) -> Iterator[tuple[str, str]]:
    """Every answer on every way that a cause may take, each way followed for itself."""

    def follow(name: str) -> Iterator[tuple[str, str]]:
        step = variant.steps[name]
        for answer, to in routes(step):
            if isinstance(step, Check):
                gives = answer != "unable" and answer in variant.shown(step, variant.causes[cause])
            else:
                gives = answer == "failed" and isinstance(step, Fix) and cause not in (*step.clears, *step.misses)
            if gives:
                yield name, answer
                yield from follow(to)

    yield from follow(variant.start)


@pytest.mark.parametrize("tree", list(shipped().trees))
def test_what_no_cause_comes_to(tree: str) -> None:
    """Against following every way of every cause by recursion."""
    for variant in shipped().trees[tree].distinct_variants():
        used = {edge for cause in variant.causes for edge in edges_by_recursion(variant, cause)}
        steps, answers = unused(variant, ())
        leads = {(name, answer): to for name, step in variant.steps.items() for answer, to in routes(step)}
        met = {variant.start, *(leads[edge] for edge in used)}
        tables = {name for name, step in variant.steps.items() if isinstance(step, Check) and step.table_only}
        assert set(steps) == set(variant.steps) - met - tables
        assert set(answers) == {edge for edge in leads if edge not in used and edge[0] in met}


def test_a_case_exercises_its_way() -> None:
    library, variant = lamp()
    case = replace(RIGHT, cause="", answers=("unable",), arrives=variant.steps["spare-cell"].unable.to)  # type: ignore[union-attr]
    before = unused(variant, ())
    after = unused(variant, [run_case(library, variant, case)])
    assert ("spare-cell", "unable") in before.answers
    assert ("spare-cell", "unable") not in after.answers
