"""Steps that repeat another: what they keep of it, what they may say themselves, what is reported."""

from __future__ import annotations

import pytest
from building import problems_of, tree_of

from faulttree.model import Check, Finding, Fix, Route, Step, Tree

STEPS = """
    first:
      check: Lit?
      do: Look.
      who: crew
      minutes: 2
      notices: [hot]
      findings:
        A: mend
        B: {goto: out, says: bright, opens: [loose], closes: [lid]}
        C: {goto: out, models: [Wren]}
      unable: {to: out, why: dark}
    mend:
      fix: Mend
      clears: [flat]
      who: crew
      do: Mend it.
      parts: {P-1: 2}
      operational_check: lit
      failed: first
      cannot: {to: out, why: no part}
"""


def step(tree: Tree, id: str, model: str = "Finch") -> Step:
    return tree.variants[model].steps[id]


def again(text: str, model: str = "Finch", header: str = "") -> Step:
    return step(tree_of(STEPS + text, header=header), "more", model)


def test_a_repeated_check_without_more_is_the_base_at_another_place() -> None:
    tree = tree_of(STEPS + "    more: {again: first}")
    base, more = step(tree, "first", "Wren"), step(tree, "more", "Wren")
    assert isinstance(base, Check)
    assert isinstance(more, Check)
    assert (more.id, more.base) == ("more", "first")
    assert {**vars(more), "id": "first"} == vars(base)


def test_a_repeated_fix_without_more_is_the_base_at_another_place() -> None:
    tree = tree_of(STEPS + "    more: {again: mend}")
    base, more = step(tree, "mend"), step(tree, "more")
    assert isinstance(more, Fix)
    assert (more.id, more.base) == ("more", "mend")
    assert {**vars(more), "id": "mend"} == vars(base)


def test_labels_keep_what_the_base_says_and_their_numbers_in_its_order() -> None:
    more = again("    more: {again: first, findings: {C: first, B: {goto: mend}, A: out}}", "Wren")
    assert isinstance(more, Check)
    assert more.findings == (
        Finding("A", 1, "out"),
        Finding("B", 2, "mend", "bright", ("loose",), ("lid",)),
        Finding("C", 3, "first"),
    )


def test_labels_keep_the_models_of_the_base() -> None:
    more = again("    more: {again: first, findings: {A: out, B: mend, C: first}}")
    assert isinstance(more, Check)
    assert [each.label for each in more.findings] == ["A", "B"]


def test_ways_of_a_repeated_check_may_be_one_for_each_model() -> None:
    text = "    more: {again: first, unable: mend, findings: {A: {Finch: out, Wren: mend}, B: out, C: {Wren: mend}}}"
    finch, wren = again(text), again(text, "Wren")
    assert isinstance(finch, Check)
    assert isinstance(wren, Check)
    assert ([each.goto for each in finch.findings], finch.unable) == (["out", "out"], Route("mend"))
    assert [each.goto for each in wren.findings] == ["mend", "out", "mend"]


def test_ways_of_a_repeated_fix() -> None:
    more = again("    more: {again: mend, failed: {Finch: out, Wren: first}}")
    assert isinstance(more, Fix)
    assert (more.failed, more.cannot) == (Route("out"), Route("out", "no part"))


def test_ways_that_neither_has_are_those_of_otherwise() -> None:
    steps = "first: {check: Lit?, who: crew, findings: {A: out, B: out}}\nmore: {again: first}"
    tree = tree_of(steps, header="otherwise: {unable: {to: out, why: dark}}")
    more = step(tree, "more")
    assert isinstance(more, Check)
    assert more.unable == Route("out", "dark")


def test_a_repeated_step_is_for_the_models_of_the_base_or_for_fewer() -> None:
    steps = STEPS + "    more: {again: glow}\n    less: {again: first, models: [Wren]}\n"
    steps += "    glow: {check: G?, who: crew, findings: {A: out, B: out}, models: [Finch], minutes: {Finch: 3}}"
    tree = tree_of(steps)
    assert list(tree.variants["Finch"].steps) == ["first", "mend", "more", "glow", "out"]
    assert list(tree.variants["Wren"].steps) == ["first", "mend", "less", "out"]


def test_a_base_may_stand_after_the_steps_that_repeat_it() -> None:
    tree = tree_of("first: {again: late}\nlate: {check: L?, who: crew, findings: {A: out, B: out}}")
    first = step(tree, "first")
    assert isinstance(first, Check)
    assert first.base == "late"


def test_a_repeated_table_only_check_is_one_too() -> None:
    tree = tree_of("first: {check: L?, who: crew, findings: [A, B]}\nmore: {again: first}")
    more = step(tree, "more")
    assert isinstance(more, Check)
    assert more.table_only


# -- what is reported

PROBLEMS = [
    ("{again: frist}", "again-unknown", "frist", 'there is no step "frist" to repeat', 'write "first"'),
    (
        "{again: xylophone}",
        "again-unknown",
        "xylophone",
        'there is no step "xylophone" to repeat',
        "name a check or a fix of this tree",
    ),
    (
        "{again: out}",
        "again-unknown",
        "out",
        'the step "out" is an end and cannot be repeated',
        "lead to that end instead",
    ),
    (
        "{again: first, findings: {A: out, B: out}}",
        "again-label",
        "findings",
        'the finding "C" of the check "first" is left out',
        'write where "C" leads',
    ),
    (
        "{again: first, findings: {A: out, B: out, C: out, D: out}}",
        "again-label",
        "D",
        'the check "first" that is repeated here has no finding "D"',
        "use the labels of that check",
    ),
    (
        "{again: mend, findings: {A: out}}",
        "again-label",
        "findings",
        'the step "mend" that is repeated here has no findings with ways',
        'delete "findings"',
    ),
    (
        "{again: mend, unable: out}",
        "again-label",
        "unable",
        'the step "mend" that is repeated here has no "unable"',
        'delete "unable"',
    ),
    (
        "{again: first, failed: out}",
        "again-label",
        "failed",
        'the step "first" that is repeated here has no "failed"',
        'delete "failed"',
    ),
    (
        "{again: first, findings: {A: {Finch: out}, B: out, C: out}}",
        "model-left-out",
        "A",
        'model "Wren" is left out of "goto"',
        'write a value for "Wren" as well',
    ),
    (
        "{again: first, unable: {Finch: out}}",
        "model-left-out",
        "unable",
        'model "Wren" is left out of "unable"',
        'write a value for "Wren" as well',
    ),
    (
        "{again: first, models: [Finch, Wern]}",
        "model-unknown",
        "Wern",
        'there is no model "Wern"',
        'write "Wren"',
    ),
]


@pytest.mark.parametrize(("text", "rule", "mark", "message", "advice"), PROBLEMS)
def test_what_is_wrong_with_a_repeated_step(text: str, rule: str, mark: str, message: str, advice: str) -> None:
    assert problems_of(f"{STEPS}    more: {text}") == [(rule, mark, message, advice)]


def test_a_misspelt_label_is_reported_with_the_one_that_was_meant() -> None:
    steps = "first: {check: L?, who: crew, findings: {Clean: out, Film: out}}\n"
    steps += "more: {again: first, findings: {Clean: out, Flim: out}}"
    assert [(rule, mark, advice) for rule, mark, _, advice in problems_of(steps)] == [
        ("again-label", "findings", 'write where "Film" leads'),
        ("again-label", "Flim", 'write "Film"'),
    ]


def test_a_step_that_repeats_a_repeated_step_names_the_base() -> None:
    steps = STEPS + "    more: {again: first}\n    most: {again: more}"
    message = 'the step "more" repeats a step itself'
    assert problems_of(steps) == [("again-of-again", "more", message, 'write "again: first"')]


def test_steps_that_repeat_each_other_are_reported_both() -> None:
    found = problems_of(STEPS + "    more: {again: most}\n    most: {again: more}\n    self: {again: self}")
    assert [(rule, mark) for rule, mark, _, _ in found] == [
        ("again-of-again", "most"),
        ("again-of-again", "more"),
        ("again-of-again", "self"),
    ]


def test_ways_of_a_repeated_table_only_check_are_reported() -> None:
    steps = (
        "first: {check: L?, who: crew, findings: [A, B]}\nmore: {again: first, unable: out, findings: {A: out, B: out}}"
    )
    assert [(rule, mark) for rule, mark, _, _ in problems_of(steps)] == [
        ("again-label", "unable"),
        ("again-label", "findings"),
    ]


def test_a_model_that_the_base_is_not_for_is_reported() -> None:
    steps = STEPS + "    glow: {check: G?, who: crew, findings: {A: out, B: out}, models: [Finch]}\n"
    steps += "    more: {again: glow, models: [Finch, Wren]}"
    message = 'the step "glow" that is repeated here is not for model "Wren"'
    assert problems_of(steps) == [("model-unknown", "Wren", message, "delete it here, or add it there")]
