"""Checks of which one finding is left for a model are passed over: ways lead on to where that finding leads."""

from __future__ import annotations

from building import tree_of

from faulttree.model import Check, Finding, Fix, Route, Tree, Variant

CHECK = "first: {check: Lit?, who: crew, unable: out, "
"""The start of a check, to be ended by its findings and a brace."""


def check(variant: Variant, id: str = "first") -> Check:
    step = variant.steps[id]
    assert isinstance(step, Check)
    return step


def fix(variant: Variant, id: str = "mend") -> Fix:
    step = variant.steps[id]
    assert isinstance(step, Fix)
    return step


def both(tree: Tree) -> tuple[Variant, Variant]:
    return tree.variants["Finch"], tree.variants["Wren"]


PASSED = """
    first: {check: Lit?, who: crew, findings: {A: second, B: third}, unable: second}
    second:
      check: Glows?
      who: crew
      opens: [loose]
      findings: {C: {goto: third, opens: [loose]}, D: {goto: out, models: [Wren]}}
    third: {again: second, findings: {C: mend, D: out}}
    mend: {fix: M, clears: [flat], who: crew, do: M., failed: second, cannot: {to: third, why: cold}}
    later: {end: deferred, under: {A: 1}, until: then, accepts: [flat], cannot: second}
"""


def test_a_check_with_one_finding_left_is_passed_over() -> None:
    finch, wren = both(tree_of(PASSED))
    assert finch.passed_over == {"second": "mend", "third": "mend"}
    assert wren.passed_over == {}
    assert (list(finch.steps), list(wren.steps)) == (
        ["first", "mend", "later", "out"],
        ["first", "second", "third", "mend", "later", "out"],
    )


def test_ways_to_a_check_that_is_passed_over_lead_on() -> None:
    finch, wren = both(tree_of(PASSED))
    assert [each.goto for each in check(finch).findings] == ["mend", "mend"]
    assert [each.goto for each in check(wren).findings] == ["second", "third"]
    assert (check(finch).unable, check(wren).unable) == (Route("mend"), Route("second"))
    assert (fix(finch).failed, fix(finch).cannot) == (Route("mend"), Route("mend", "cold"))
    later = finch.steps["later"]
    assert not isinstance(later, Check | Fix)
    assert later.cannot == Route("mend")


def test_a_start_that_is_passed_over_leads_on() -> None:
    finch, wren = both(tree_of(PASSED, start="second"))
    assert (finch.start, wren.start) == ("mend", "second")


def test_what_would_be_shown_at_a_check_that_is_passed_over_is_left_out() -> None:
    finch, wren = both(tree_of(PASSED, "flat: {is: F, shows: {second: D, first: A}}"))
    assert finch.causes["flat"].shows == {"first": ("A",)}
    assert wren.causes["flat"].shows == {"second": ("D",), "first": ("A",)}


def test_checks_that_are_passed_over_in_a_loop_are_kept() -> None:
    steps = """
        first: {check: Lit?, who: crew, findings: {A: second, B: {goto: out, models: [Wren]}}}
        second: {check: Lit?, who: crew, findings: {A: third, B: {goto: out, models: [Wren]}}}
        third: {check: Lit?, who: crew, findings: {A: second, B: {goto: out, models: [Wren]}}}
    """
    finch, _ = both(tree_of(steps))
    assert finch.passed_over == {"first": "second"}
    assert finch.start == "second"
    assert [check(finch, id).findings[0].goto for id in ("second", "third")] == ["third", "second"]


def test_a_check_that_leads_to_itself_alone_is_kept() -> None:
    finch, _ = both(tree_of(CHECK + "findings: {A: first, B: {goto: out, models: [Wren]}}}"))
    assert finch.passed_over == {}
    assert check(finch).findings == (Finding("A", 1, "first"),)


def test_a_check_that_is_passed_over_to_nowhere_leaves_the_name_to_the_rules() -> None:
    finch, _ = both(tree_of(CHECK + "findings: {A: nowhere, B: {goto: out, models: [Wren]}}}"))
    assert (finch.start, finch.passed_over) == ("nowhere", {"first": "nowhere"})


def test_a_check_that_has_one_finding_in_the_file_is_no_less_a_step() -> None:
    """Nothing is left of it for want of a model, so what it opens and says is not dropped."""
    tree = tree_of(CHECK + "opens: [loose], findings: {A: out}}")
    assert [variant.passed_over for variant in both(tree)] == [{}, {}]
    assert check(both(tree)[0]).opens == ("loose",)
