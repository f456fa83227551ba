"""Fixes and ends: what they may say, what consumables and other causes bring into them."""

from __future__ import annotations

import pytest
from building import library_of, tree_of

from faulttree.model import (
    End,
    Fix,
    Recheck,
    Route,
    SecondInspection,
    Step,
    Torque,
)

FINDINGS = "findings: {A: out, B: out}"


def step_of(steps: str, id: str = "first", header: str = "", parts: str = "parts: {}") -> Step:
    return tree_of(steps, header=header, library=library_of(parts=parts)).variants["Wren"].steps[id]


def fix_of(steps: str, header: str = "", parts: str = "parts: {}") -> Fix:
    step = step_of(steps, header=header, parts=parts)
    assert isinstance(step, Fix)
    return step


def end_of(text: str, header: str = "") -> End:
    step = step_of(f"first: {{check: Lit?, who: crew, {FINDINGS}}}\nlast: {text}", "last", header)
    assert isinstance(step, End)
    return step


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
          limits: [volts, gap]
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
        limits=("volts", "gap"),
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
        ("{end: no fault found, opens: [tag]}", End(id="last", kind="no fault found", opens=("tag",))),
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
