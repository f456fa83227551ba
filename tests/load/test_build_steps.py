"""What comes into a step from elsewhere: what its accesses need, and the ways of `otherwise`."""

from __future__ import annotations

import pytest
from building import MAIN, library_of, problems_of, tree_of

from faulttree.model import (
    Check,
    End,
    Finding,
    Fix,
    Lift,
    Route,
    Step,
)

FINDINGS = "findings: {A: out, B: out}"


def step_of(steps: str, id: str = "first", header: str = "", parts: str = "parts: {}") -> Step:
    return tree_of(steps, header=header, library=library_of(parts=parts)).variants["Wren"].steps[id]


def check_of(steps: str, header: str = "") -> Check:
    step = step_of(steps, header=header)
    assert isinstance(step, Check)
    return step


def fix_of(steps: str, header: str = "", parts: str = "parts: {}") -> Fix:
    step = step_of(steps, header=header, parts=parts)
    assert isinstance(step, Fix)
    return step


def end_of(text: str, header: str = "") -> End:
    step = step_of(f"first: {{check: Lit?, who: crew, {FINDINGS}}}\nlast: {text}", "last", header)
    assert isinstance(step, End)
    return step


# -- accesses


@pytest.mark.parametrize(
    ("who", "access", "expected"),
    [
        ("crew", "[door]", "crew"),
        ("crew", "[lid]", "mechanic"),
        ("mechanic", "[lid]", "mechanic"),
        ("rigger", "[mast]", "rigger"),
        ("chief", "[lid]", "chief"),
        ("mechanic", "[mast]", "chief"),
        ("crew", "[lid, mast]", "chief"),
        ("crew", "[mast]", "chief"),
        ("crew", "[gone]", "crew"),
    ],
)
def test_the_role_may_do_the_step_and_its_accesses(who: str, access: str, expected: str) -> None:
    assert check_of(f"first: {{check: Lit?, who: {who}, access: {access}, {FINDINGS}}}").who == expected


def test_the_role_is_no_higher_than_is_needed_whatever_the_order_of_the_roles() -> None:
    """A chief who stands first in the library is not asked for where the mechanic will do."""
    lines = MAIN.split("\n")
    chief = next(line for line in lines if "chief:" in line)
    lines.remove(chief)
    lines.insert(next(index for index, line in enumerate(lines) if "crew:" in line), chief)
    library = library_of("\n".join(lines))
    assert library.first_role == "chief"
    step = (
        tree_of(f"first: {{check: L?, who: crew, access: [lid], {FINDINGS}}}", library=library).variants["Finch"].steps
    )
    first = step["first"]
    assert isinstance(first, Check)
    assert first.who == "mechanic"


def test_the_people_are_the_most_that_the_step_its_lift_or_its_accesses_need() -> None:
    assert check_of(f"first: {{check: Lit?, who: crew, {FINDINGS}}}").people == 1
    assert check_of(f"first: {{check: Lit?, who: crew, access: [lid], {FINDINGS}}}").people == 2
    assert check_of(f"first: {{check: Lit?, who: crew, access: [lid], people: 3, {FINDINGS}}}").people == 3
    lifted = check_of(f"first: {{check: Lit?, who: crew, access: [lid], lift: {{mass: 90.5, people: 4}}, {FINDINGS}}}")
    assert (lifted.people, lifted.lift) == (4, Lift(90.5, 4))


def test_the_notices_of_the_accesses_stand_first_and_none_twice() -> None:
    step = check_of(f"first: {{check: L?, who: crew, access: [mast, lid], notices: [hot, sharp, dust], {FINDINGS}}}")
    assert step.notices == ("height", "sharp", "dust", "hot")
    assert step.accesses == ("mast", "lid")


def test_accesses_come_into_fixes_as_well() -> None:
    step = fix_of("first: {fix: Mend, clears: [flat], who: crew, do: Mend it., access: [lid], notices: [hot]}")
    assert (step.who, step.people, step.notices) == ("mechanic", 2, ("sharp", "dust", "hot"))


def test_an_access_that_no_role_may_open_for_the_step_is_reported() -> None:
    library = library_of(
        MAIN.replace("chief: {may: all of it, includes: [mechanic, rigger]}", "chief: {may: all of it}")
    )
    steps = f"first: {{check: L?, who: mechanic, access: [mast], {FINDINGS}}}"
    message = 'no role may do what is for "mechanic" and "rigger", which this step and its accesses need'
    advice = "choose another access, or part the step in two"
    assert problems_of(steps, library=library) == [("role-none", "access", message, advice)]


def test_an_access_of_an_unknown_role_is_left_to_the_rules() -> None:
    library = library_of(MAIN.replace("who: rigger", "who: pilot"))
    tree = tree_of(f"first: {{check: L?, who: mechanic, access: [mast], {FINDINGS}}}", library=library)
    first = tree.variants["Finch"].steps["first"]
    assert isinstance(first, Check)
    assert first.who == "mechanic"


# -- checks


def test_all_that_a_check_may_say() -> None:
    steps = """
        first:
          check: Lit?
          do: [Press., Look.]
          who: crew
          minutes: 0.5
          tools: [key]
          consumables: [wipe]
          opens: [loose]
          closes: [lid]
          occupied: allowed
          sure: 0.9
          usual: A
          data: {A-1: 4.10}
          picture: lamp.png
          findings: {A: out, B: {goto: out, says: bright, opens: [x], closes: [y]}}
          unable: {to: out, why: dark}
    """
    assert check_of(steps) == Check(
        id="first",
        base="first",
        text="Lit?",
        who="crew",
        do=("Press.", "Look."),
        minutes=0.5,
        tools=("key",),
        consumables=("wipe",),
        opens=("loose",),
        closes=("lid",),
        occupied=True,
        sure=0.9,
        usual=("A",),
        data={"A-1": "4.10"},
        picture="lamp.png",
        findings=(Finding("A", 1, "out"), Finding("B", 2, "out", "bright", ("x",), ("y",))),
        unable=Route("out", "dark"),
    )


def test_a_plain_list_of_labels_stands_in_the_table_only() -> None:
    step = check_of("first: {check: Lit?, who: crew, findings: [A, B]}", header="otherwise: {unable: out}")
    assert step.findings == (Finding("A", 1), Finding("B", 2))
    assert step.table_only
    assert step.unable is None


def test_folded_texts_are_one_paragraph_and_other_characters_stay_as_written() -> None:
    steps = "first:\n  check: >\n    Is it\n    lit?\n  who: crew\n  do: |\n    Hold 5\u00a0s.\n    Let go.\n"
    steps += "  findings: [A, B]\n"
    step = check_of(steps)
    assert (step.text, step.do) == ("Is it lit?", ("Hold 5\u00a0s. Let go.",))


# -- ways that are left out

OTHERWISE = "otherwise: {unable: out, failed: {to: out, why: nothing helped}, cannot: out}"


def test_ways_that_are_left_out_are_those_of_otherwise() -> None:
    assert check_of(f"first: {{check: L?, who: crew, {FINDINGS}}}", OTHERWISE).unable == Route("out")
    fix = fix_of("first: {fix: M, clears: [flat], who: crew, do: M.}", OTHERWISE)
    assert (fix.failed, fix.cannot) == (Route("out", "nothing helped"), Route("out"))
    deferred = "{end: deferred, under: {A-1: 1}, until: 3 days, accepts: [flat]}"
    assert end_of(deferred, OTHERWISE).cannot == Route("out")


def test_own_ways_stand_before_those_of_otherwise() -> None:
    step = fix_of("first: {fix: M, clears: [flat], who: crew, do: M., failed: first}", OTHERWISE)
    assert (step.failed, step.cannot) == (Route("first"), Route("out"))


def test_without_otherwise_ways_that_are_left_out_are_missing() -> None:
    step = fix_of("first: {fix: M, clears: [flat], who: crew, do: M.}")
    assert (step.failed, step.cannot) == (None, None)


def test_otherwise_does_not_lead_a_step_to_itself() -> None:
    header = "otherwise: {failed: first, cannot: last}"
    assert (
        fix_of("first: {fix: M, clears: [flat], who: crew, do: M.}\nlast: {end: out of service}", header).failed is None
    )
    assert end_of("{end: deferred, under: {A-1: 1}, until: 3 days, accepts: [flat]}", header).cannot is None


def test_ends_that_nothing_stops_have_no_way_on() -> None:
    assert end_of("{end: no fault found, who: mechanic}", OTHERWISE).cannot is None
