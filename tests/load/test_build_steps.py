"""What comes into a step from elsewhere: accesses, consumables, `otherwise`, limits, other causes."""

from __future__ import annotations

import pytest
from building import MAIN, library_of, problems_of, root_of, tree_of, tree_text

from faulttree.load.build import build_tree
from faulttree.model import (
    Action,
    Case,
    Check,
    End,
    Finding,
    Fix,
    Lift,
    Recheck,
    Released,
    Route,
    SecondInspection,
    Step,
    Torque,
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


# -- fixes


def test_all_that_a_fix_may_say() -> None:
    steps = """
        first:
          fix: Mend
          clears: [flat]
          who: crew
          minutes: 10
          parts: {P-1: 2, P-2: if needed}
          do: Mend it.
          torque: [{where: ring, value: 0.5}]
          second_inspection: {look: Seal lies well, who: chief}
          operational_check: lit
          did: Mended.
          recheck: {after: 1 day, who: crew, look: Still lit}
          failed: out
          cannot: {to: out, why: no part}
          misses: [worn]
          try_early: true
          then: {tree: other}
    """
    assert fix_of(steps) == Fix(
        id="first",
        base="first",
        text="Mend",
        who="crew",
        do=("Mend it.",),
        minutes=10,
        clears=("flat",),
        parts={"P-1": "2", "P-2": "if needed"},
        torques=(Torque("ring", 0.5),),
        second_inspection=SecondInspection("Seal lies well", "chief"),
        operational_check="lit",
        did="Mended.",
        recheck=Recheck("1 day", "crew", "Still lit"),
        failed=Route("out"),
        cannot=Route("out", "no part"),
        misses=("worn",),
        try_early=True,
        then="other",
    )


def test_the_wait_is_the_longest_service_time_of_the_consumables() -> None:
    parts = "parts: {}\nconsumables: {glue: {is: G, service: 20, cure: 900}, wipe: {is: W}, oil: {is: O, service: 5}}"
    for used, wait in (("[wipe]", 0), ("[oil, glue, wipe]", 20), ("[gone, oil]", 5), ("[gone]", 0)):
        steps = f"first: {{fix: M, clears: [flat], who: crew, do: M., consumables: {used}}}"
        assert fix_of(steps, parts=parts).wait == wait


def test_misses_others_is_every_cause_that_the_fix_does_not_clear() -> None:
    causes = "flat: {is: F}\nworn: {is: W}\nloose: {is: L}\nthin: {is: T, models: [Finch]}"
    steps = "first: {fix: M, clears: {Finch: [worn], Wren: [worn, flat]}, who: crew, do: M., misses: others}"
    variants = tree_of(steps, causes).variants
    misses = {model: step.misses for model, each in variants.items() if isinstance(step := each.steps["first"], Fix)}
    assert misses == {"Finch": ("flat", "loose", "thin"), "Wren": ("loose",)}


def test_misses_may_name_a_cause_that_is_called_others() -> None:
    causes = "others: {is: O}\nflat: {is: F}\nworn: {is: W}"
    assert fix_of("first: {fix: M, clears: [flat], who: crew, do: M., misses: [worn]}").misses == ("worn",)
    tree = tree_of("first: {fix: M, clears: [flat], who: crew, do: M., misses: [others]}", causes)
    first = tree.variants["Finch"].steps["first"]
    assert isinstance(first, Fix)
    assert first.misses == ("others",)


# -- ends


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("{end: out of service, report: Broken ___}", End(id="last", kind="out of service", report="Broken ___")),
        (
            "{end: deferred, under: {A-1: 1.10}, until: 3 days, accepts: [flat, worn], when: [Dry.], cannot: out}",
            End(
                id="last",
                kind="deferred",
                under={"A-1": "1.10"},
                until="3 days",
                named={"flat": (), "worn": ()},
                when=("Dry.",),
                cannot=Route("out"),
            ),
        ),
        (
            "{end: hand over, to: chief, for: [flat], who: crew, do: Tell., reportable: true}",
            End(
                id="last", kind="hand over", to="chief", named={"flat": ()}, who="crew", do=("Tell.",), reportable=True
            ),
        ),
        (
            "{end: see document, data: {Finch: {A-1: 1}, Wren: {A-1: 2}}, for: [flat]}",
            End(id="last", kind="see document", data={"A-1": "2"}, named={"flat": ()}),
        ),
        (
            "{end: see another tree, tree: other, for: {flat: [dry, wet], worn: [old]}}",
            End(id="last", kind="see another tree", tree="other", named={"flat": ("dry", "wet"), "worn": ("old",)}),
        ),
        (
            "{end: no fault found, who: chief, recheck: {after: 1 day, who: crew, look: Lit}}",
            End(id="last", kind="no fault found", who="chief", recheck=Recheck("1 day", "crew", "Lit")),
        ),
    ],
)
def test_ends(text: str, expected: End) -> None:
    assert end_of(text) == expected


# -- measured checks

LIMITS = """
    limits:
      volts: {is: V, unit: V, range: [0, 9], bands: {Flat: {below: 3}, Fair: {up_to: 5, says: fair}, Good: {}}}
      amps: {is: A, unit: A, range: {Finch: [0, 9]}, bands: {Low: {below: {Finch: 3}}, Ok: {}}}
"""


def measured(findings: str, more: str = "") -> list[tuple[str, str, str, str]]:
    steps = f"first: {{check: V?, who: crew, measure: volts, findings: {findings}{more}}}"
    return problems_of(steps, library=library_of(limits=LIMITS))


def test_bands_say_what_their_findings_leave_out() -> None:
    findings = "{Flat: out, Fair: out, Good: {goto: out, says: better}, No reading: out}"
    steps = f"first: {{check: V?, who: crew, measure: volts, findings: {findings}}}"
    step = tree_of(steps, library=library_of(limits=LIMITS)).variants["Finch"].steps["first"]
    assert isinstance(step, Check)
    assert [each.says for each in step.findings] == ["", "fair", "better", ""]


def test_a_band_that_is_no_finding_is_reported() -> None:
    message = 'the band "Fair" of the limit "volts" is missing from the findings'
    assert measured("{Flat: out, Good: out}") == [("band-missing", "findings", message, 'write where "Fair" leads')]
    assert measured("[Flat, Good]") == [("band-missing", "findings", message, 'write where "Fair" leads')]


def test_a_misspelt_band_is_reported_with_the_finding_that_was_meant() -> None:
    message = 'the band "Good" of the limit "volts" is missing from the findings'
    advice = 'rename "good" to "Good"'
    assert measured("{Flat: out, Fair: out, good: out}") == [("band-missing", "findings", message, advice)]


def test_a_band_that_is_a_finding_of_some_models_only_is_reported() -> None:
    message = 'the band "Good" of the limit "volts" is missing from the findings for model "Wren"'
    found = measured("{Flat: out, Fair: out, Good: {goto: out, models: [Finch]}, Far: out}")
    assert found == [("band-missing", "findings", message, 'write where "Good" leads')]


def test_a_limit_without_a_value_for_a_model_of_the_check_is_reported() -> None:
    steps = "first: {check: A?, who: crew, measure: amps, findings: {Low: out, Ok: out}}"
    library = library_of(limits=LIMITS)
    message = 'the limit "amps" has no value for model "Wren"'
    advice = 'give it one, or keep the step from "Wren" by `models`'
    assert problems_of(steps, library=library) == [("model-left-out", "amps", message, advice)]
    only = steps.replace("measure", "models: [Finch], measure")
    assert list(tree_of(only, library=library).variants["Wren"].steps) == ["out"]


def test_an_unknown_limit_is_left_to_the_rules() -> None:
    step = check_of(f"first: {{check: V?, who: crew, measure: gone, {FINDINGS}}}")
    assert step.measure == "gone"


# -- the rest of the tree


def test_all_that_a_header_may_say() -> None:
    header = """
        also: [dark, no lamp]
        author: A. Tarn
        figures: counted
        released: {by: B, date: 2026-02-28, digest: 1e5}
        written_against: {A-1: C}
        before: The lamp is out.
        first_actions: [{who: crew, do: Tag it., notices: [hot], opens: [a], closes: [b]}]
        fallback: [{who: crew, do: Use another.}]
        report: Lamp ___
        x-own: {anything: [1, 2]}
    """
    tree = tree_of(f"first: {{check: L?, who: crew, {FINDINGS}}}", header=header)
    assert (tree.also, tree.author, tree.figures, tree.report) == (
        ("dark", "no lamp"),
        "A. Tarn",
        "counted",
        "Lamp ___",
    )
    assert tree.released == Released("B", "2026-02-28", "1e5")
    assert tree.written_against == {"A-1": "C"}
    assert tree.before == ("The lamp is out.",)
    assert tree.first_actions == (Action("crew", "Tag it.", ("hot",), ("a",), ("b",)),)
    assert tree.fallback == (Action("crew", "Use another."),)


def test_cases() -> None:
    text = tree_text(f"first: {{check: L?, who: crew, {FINDINGS}}}")
    text += "cases: [{name: a, role: crew, model: Finch, cause: flat, answers: [A, done], arrives: out},"
    tree, problems = build_tree(root_of(text + " {name: b, arrives: first}]\n"), library_of(), "a.yaml")
    assert problems == []
    assert tree is not None
    assert tree.cases == (
        Case("a", "crew", "Finch", "flat", ("A", "done"), "out"),
        Case("b", "", "", "", (), "first"),
    )
