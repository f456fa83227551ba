"""Values that are one for each model, and what is left out for a model or not known."""

from __future__ import annotations

import pytest
from building import library_of, problems_of, tree_of

from faulttree.model import Check, Finding, Fix, Route, Tree, Variant

CHECK = "first: {check: Lit?, who: crew, unable: out, "
"""The start of a check, to be ended by its findings and a brace."""

EACH = """
    first:
      check: Lit?
      do: {Finch: Press., Wren: [Press., Hold.]}
      who: crew
      minutes: {Finch: 1, Wren: 2}
      data: {Finch: {A-1: "1"}, Wren: {A-1: "2"}}
      findings:
        Yes: {Finch: mend, Wren: out}
        No: {goto: {Finch: out, Wren: mend}, says: {Finch: none, Wren: a little}}
      unable: {Finch: mend, Wren: {to: out, why: no key}}
    mend:
      fix: Mend
      clears: {Finch: [flat], Wren: [flat, worn]}
      who: crew
      do: Mend it.
      parts: {Finch: {P-1: 1}, Wren: {P-1: 2, P-2: if needed}}
      torque: {Finch: [{where: ring, value: 1}], Wren: [{where: ring, value: 2}]}
      failed: {Finch: out, Wren: out}
      cannot: out
"""


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


def test_every_value_of_a_check_is_that_of_the_model() -> None:
    finch, wren = map(check, both(tree_of(EACH)))
    assert (finch.do, wren.do) == (("Press.",), ("Press.", "Hold."))
    assert (finch.minutes, wren.minutes) == (1, 2)
    assert (finch.data, wren.data) == ({"A-1": "1"}, {"A-1": "2"})
    assert (finch.unable, wren.unable) == (Route("mend"), Route("out", "no key"))
    assert finch.findings == (Finding("Yes", 1, "mend"), Finding("No", 2, "out", "none"))
    assert wren.findings == (Finding("Yes", 1, "out"), Finding("No", 2, "mend", "a little"))


def test_every_value_of_a_fix_is_that_of_the_model() -> None:
    finch, wren = map(fix, both(tree_of(EACH)))
    assert (finch.clears, wren.clears) == (("flat",), ("flat", "worn"))
    assert (finch.parts, wren.parts) == ({"P-1": "1"}, {"P-1": "2", "P-2": "if needed"})
    assert (finch.torques[0].value, wren.torques[0].value) == (1, 2)
    assert (finch.failed, wren.failed) == (Route("out"), Route("out"))


def test_what_a_cause_shows_may_be_one_for_each_model() -> None:
    causes = "flat: {is: Flat, shows: {first: {Finch: 'No', Wren: ['No', 'Yes']}}}"
    finch, wren = both(tree_of(CHECK + "findings: {'Yes': out, 'No': out}}", causes))
    assert finch.causes["flat"].shows == {"first": ("No",)}
    assert wren.causes["flat"].shows == {"first": ("No", "Yes")}


def test_the_start_may_be_one_for_each_model() -> None:
    finch, wren = both(tree_of(EACH, start="{Finch: first, Wren: mend}"))
    assert (finch.start, wren.start) == ("first", "mend")


def test_a_document_that_looks_like_a_model_is_a_document() -> None:
    tree = tree_of("first: {check: Lit?, who: crew, findings: [Yes, No], data: {A-1: 3.10, Finch: 4}}")
    assert [check(each).data for each in both(tree)] == [{"A-1": "3.10", "Finch": "4"}] * 2


# -- whether anything depends on the model


@pytest.mark.parametrize(
    "steps",
    [
        CHECK + "findings: {'Yes': out, 'No': {Finch: out, Wren: first}}}",
        CHECK + "findings: {'Yes': out, 'No': {goto: out, models: [Wren]}, Ok: out}}",
        CHECK + "findings: {'Yes': out, 'No': {goto: out, says: {Finch: a, Wren: b}}}}",
        CHECK + "findings: {'Yes': out, 'No': out}, models: [Finch, Wren]}",
        CHECK + "findings: {'Yes': out, 'No': out}, minutes: {Finch: 1, Wren: 1}}",
        CHECK + "findings: {'Yes': out, 'No': out}}\nlater: {again: first, unable: {Finch: out, Wren: first}}",
        CHECK + "findings: {'Yes': out, 'No': out}}\nlater: {again: first, models: [Finch]}",
    ],
)
def test_a_step_that_depends_on_the_model_makes_the_variants_differ(steps: str) -> None:
    assert not tree_of(steps).alike


@pytest.mark.parametrize(
    "causes", ["flat: {is: Flat, models: [Finch]}", "flat: {is: Flat, shows: {first: {Finch: 'No', Wren: 'Yes'}}}"]
)
def test_a_cause_that_depends_on_the_model_makes_the_variants_differ(causes: str) -> None:
    assert not tree_of(CHECK + "findings: {'Yes': out, 'No': out}}", causes).alike


def test_without_anything_for_a_model_the_variants_are_alike_and_share_their_steps() -> None:
    tree = tree_of(CHECK + "findings: {'Yes': out, 'No': out}}")
    finch, wren = both(tree)
    assert tree.alike
    assert tree.distinct_variants() == (finch,)
    assert finch.steps is wren.steps
    assert (finch.model, wren.model) == ("Finch", "Wren")


def test_a_tree_for_one_model_is_alike() -> None:
    tree = tree_of(CHECK + "findings: {'Yes': out, 'No': {goto: out, models: [Wren]}}}", header="models: [Wren]")
    assert tree.models == ("Wren",)
    assert tree.alike


def test_the_order_of_the_models_is_that_of_the_tree() -> None:
    assert tree_of(EACH, header="models: [Wren, Finch]").models == ("Wren", "Finch")
    assert tree_of(EACH).models == ("Finch", "Wren")


def test_a_tree_may_name_nine_models_and_no_more() -> None:
    steps = CHECK + "findings: {A: out, B: out}}"
    nine = ", ".join(f"M{number}" for number in range(9))
    assert {each[0] for each in problems_of(steps, header=f"models: [{nine}]")} == {"model-unknown"}
    assert [each[0] for each in problems_of(steps, header=f"models: [{nine}, M9]")] == ["list-length"]


LIMITS = "limits: {volts: {is: V, unit: V, range: [0, 9], bands: {Flat: {below: %s}, Good: {says: %s}}}}"
MEASURED = CHECK + "measure: volts, findings: {Flat: out, Good: out}}"


@pytest.mark.parametrize(
    ("below", "alike"), [("3", True), ("{Finch: 3, Wren: 3}", True), ("{Finch: 3, Wren: 4}", False)]
)
def test_a_measured_limit_that_differs_makes_the_variants_differ(below: str, alike: bool) -> None:
    """Who asks which model it is must ask here, and who prints the limit must print both."""
    library = library_of(limits=LIMITS % (below, "good"))
    tree = tree_of(MEASURED, library=library)
    assert tree.alike is alike
    assert tree.variants["Finch"].steps is tree.variants["Wren"].steps


def test_what_a_band_says_to_a_model_becomes_part_of_its_finding() -> None:
    tree = tree_of(MEASURED, library=library_of(limits=LIMITS % ("3", "{Finch: over 3, Wren: three}")))
    assert [check(each).findings[1].says for each in both(tree)] == ["over 3", "three"]
    assert not tree.alike


def test_an_operational_check_that_takes_longer_for_one_model_makes_the_variants_differ() -> None:
    text = "operational_checks: {lit: {is: L, do: On., ask: Lit?, who: crew, proved: L, minutes: %s}}"
    steps = "first: {fix: M, clears: [flat], who: crew, do: M., operational_check: lit}"
    for minutes, alike in (("4", True), ("{Finch: 4, Wren: 5}", False)):
        library = library_of(operational_checks=text % minutes)
        assert tree_of(steps, library=library).alike is alike


def test_an_operational_check_that_is_done_otherwise_on_one_model_makes_the_variants_differ() -> None:
    text = "operational_checks: {lit: {is: L, do: %s, ask: Lit?, who: crew, proved: L}}"
    steps = "first: {fix: M, clears: [flat], who: crew, do: M., operational_check: lit}"
    for do, alike in (("On.", True), ("{Finch: On., Wren: [On.]}", True), ("{Finch: On., Wren: Off.}", False)):
        library = library_of(operational_checks=text % do)
        assert tree_of(steps, library=library).alike is alike


JUDGED = "first: {fix: M, clears: [flat], who: crew, do: M., operational_check: lit%s}"


@pytest.mark.parametrize(("fix_limits", "check_limits"), [(", limits: [volts]", ""), ("", ", limits: [volts]")])
@pytest.mark.parametrize(("below", "alike"), [("3", True), ("{Finch: 3, Wren: 4}", False), ("{Wren: 4}", False)])
def test_a_limit_that_work_is_judged_by_and_that_differs_makes_the_variants_differ(
    fix_limits: str, check_limits: str, below: str, alike: bool
) -> None:
    checks = f"operational_checks: {{lit: {{is: L, do: On., ask: Lit?, who: crew, proved: L{check_limits}}}}}"
    library = library_of(limits=LIMITS % (below, "good"), operational_checks=checks)
    assert tree_of(JUDGED % fix_limits, library=library).alike is alike


# -- left out and unknown


def test_steps_causes_and_findings_of_other_models_are_left_out() -> None:
    steps = CHECK + "findings: {'Yes': out, 'No': out, Dim: {goto: glow, models: [Wren]}}}\n"
    steps += "glow: {check: Glows?, who: crew, findings: {A: out, B: out}, models: [Wren]}"
    causes = "flat: {is: Flat}\nlow: {is: Low, models: [Wren]}"
    finch, wren = both(tree_of(steps, causes))
    assert (list(finch.steps), list(wren.steps)) == (["first", "out"], ["first", "glow", "out"])
    assert (list(finch.causes), list(wren.causes)) == (["flat"], ["flat", "low"])
    assert [each.label for each in check(finch).findings] == ["Yes", "No"]
    assert [each.label for each in check(wren).findings] == ["Yes", "No", "Dim"]


def test_the_numbers_of_findings_count_those_of_other_models() -> None:
    finch, wren = both(tree_of(CHECK + "findings: {A: {goto: out, models: [Wren]}, B: out, C: out}}"))
    assert [each.number for each in check(finch).findings] == [2, 3]
    assert [each.number for each in check(wren).findings] == [1, 2, 3]


def test_names_of_what_other_models_have_are_left_out() -> None:
    steps = CHECK + "usual: [B, C], findings: {A: out, B: out, C: {goto: glow, models: [Wren]}}}\n"
    steps += "glow: {check: Glows?, who: crew, findings: {A: out, B: out}, models: [Wren]}\n"
    steps += "mend: {fix: M, clears: [flat, low], who: crew, do: M., misses: [low, gone]}\n"
    steps += "later: {end: hand over, to: chief, for: [low, flat]}"
    causes = "flat: {is: F, shows: {first: [A, C], glow: B, gone: B}}\nlow: {is: L, models: [Wren]}"
    finch, wren = both(tree_of(steps, causes))
    assert finch.causes["flat"].shows == {"first": ("A",), "gone": ("B",)}
    assert wren.causes["flat"].shows == {"first": ("A", "C"), "glow": ("B",), "gone": ("B",)}
    assert (check(finch).usual, check(wren).usual) == (("B",), ("B", "C"))
    assert (fix(finch).clears, fix(wren).clears) == (("flat",), ("flat", "low"))
    assert (fix(finch).misses, fix(wren).misses) == (("gone",), ("low", "gone"))
    ends = [variant.steps["later"] for variant in (finch, wren)]
    assert [list(end.named) for end in ends if not isinstance(end, Check | Fix)] == [["flat"], ["low", "flat"]]


def test_labels_of_other_models_only_are_kept_to_be_reported() -> None:
    steps = CHECK + "findings: {A: out, B: out, C: {goto: out, models: [Wren]}}}"
    finch, _ = both(tree_of(steps, "flat: {is: F, shows: {first: C}}"))
    assert finch.causes["flat"].shows == {"first": ("C",)}


LEFT_OUT = [
    (CHECK + "do: {Finch: Press.}, findings: {A: out, B: out}}", "do", "do"),
    (CHECK + "findings: {A: out, B: {Finch: out}}}", "B", "goto"),
    (CHECK + "findings: {A: out, B: {goto: {Finch: out}}}}", "goto", "goto"),
    (CHECK + "findings: {A: out, B: {goto: out, says: {Finch: b}}}}", "says", "says"),
    (EACH.replace("clears: {Finch: [flat], Wren: [flat, worn]}", "clears: {Finch: [flat]}"), "clears", "clears"),
    (EACH.replace(", Wren: {P-1: 2, P-2: if needed}", ""), "parts", "parts"),
]


@pytest.mark.parametrize(("steps", "mark", "key"), LEFT_OUT)
def test_a_model_that_is_left_out_is_reported_at_the_key(steps: str, mark: str, key: str) -> None:
    message = f'model "Wren" is left out of "{key}"'
    assert problems_of(steps) == [("model-left-out", mark, message, 'write a value for "Wren" as well')]


def test_models_left_out_of_causes_and_start_are_reported() -> None:
    steps = CHECK + "findings: {A: out, B: out}}"
    causes = "flat: {is: F, shows: {first: {Wren: A}}}"
    assert [each[:3] for each in problems_of(steps, causes, start="{Finch: first}")] == [
        ("model-left-out", "first", 'model "Finch" is left out of "first"'),
        ("model-left-out", "start", 'model "Wren" is left out of "start"'),
    ]


def test_a_value_names_only_the_models_that_its_owner_has() -> None:
    steps = CHECK + "findings: {A: out, B: {goto: {Wren: out}, models: [Wren]}, C: out}, minutes: 1}\n"
    steps += "glow: {check: G?, who: crew, findings: {A: out, B: {Wren: out}}, minutes: {Wren: 1}, models: [Wren]}"
    causes = "flat: {is: F, shows: {first: {Finch: A}}, models: [Finch]}"
    assert tree_of(steps, causes).models == ("Finch", "Wren")


def test_a_model_without_a_finding_is_reported() -> None:
    steps = CHECK + "findings: {A: {goto: out, models: [Finch]}, B: {goto: out, models: [Finch]}}}"
    assert problems_of(steps) == [
        ("model-left-out", "findings", 'no finding is left for model "Wren"', 'add one for "Wren"')
    ]


def test_an_unknown_model_is_reported_with_the_one_that_was_meant() -> None:
    steps = CHECK + "findings: {A: out, B: {Finch: out, Wrenn: first, Wren: out}}}"
    assert problems_of(steps) == [("model-unknown", "Wrenn", 'there is no model "Wrenn"', 'write "Wren"')]


def test_an_unknown_model_that_is_like_none_is_reported_with_all() -> None:
    steps = CHECK + "findings: {A: out, B: out}, models: [Finch, Xylo]}"
    advice = 'use the models\' names: "Finch", "Wren"'
    assert problems_of(steps) == [("model-unknown", "Xylo", 'there is no model "Xylo"', advice)]


def test_unknown_models_of_header_causes_and_findings_are_reported_in_order() -> None:
    steps = CHECK + "findings: {A: out, B: {goto: out, models: [Wrem]}, C: out}}"
    causes = "flat: {is: F, models: [Finsh]}"
    found = problems_of(steps, causes, header="models: [Finch, Wren, Wrent]")
    assert [(rule, mark) for rule, mark, _, _ in found] == [
        ("model-unknown", "Wrent"),
        ("model-unknown", "Finsh"),
        ("model-unknown", "Wrem"),
    ]


def test_a_model_that_the_tree_is_not_for_is_reported() -> None:
    steps = CHECK + "findings: {A: out, B: {Finch: out, Wren: out}}}"
    assert problems_of(steps, header="models: [Finch]") == [
        (
            "model-unknown",
            "Wren",
            'the tree is not for model "Wren"',
            "delete it, or add it to the models of the tree",
        )
    ]
