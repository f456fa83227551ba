"""Checks that measure a limit: its bands are their findings."""

from __future__ import annotations

from building import library_of, problems_of, tree_of

from faulttree.model import (
    Check,
    Step,
)

FINDINGS = "findings: {A: out, B: out}"


def step_of(steps: str, id: str = "first", header: str = "", parts: str = "parts: {}") -> Step:
    return tree_of(steps, header=header, library=library_of(parts=parts)).variants["Wren"].steps[id]


def check_of(steps: str, header: str = "") -> Check:
    step = step_of(steps, header=header)
    assert isinstance(step, Check)
    return step


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
