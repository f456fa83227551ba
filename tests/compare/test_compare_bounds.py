"""The time of a comparison stays in bounds whatever the files hold, and nothing is passed over for it."""

from __future__ import annotations

from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shipped import sample

from faulttree.compare import WEAKER, Side, compare
from faulttree.compare.pairs import MOST_LINES, likeness_of_texts, paired
from faulttree.model import Fix, Library
from faulttree.value import replace

SOON = 5.0
"""Seconds. Each of these takes some hundredths of one; without bounds most took minutes."""

TREE = sample().trees["lamp-does-not-light"]


def library() -> Library:
    found = sample().library
    assert found
    return found


def seconds(old: Side, new: Side) -> tuple[float, set[tuple[str, str]]]:
    start = perf_counter()
    comparison = compare(old, new)
    return perf_counter() - start, {(change.weight, change.kind) for change in comparison.changes}


def with_fix(name: str, **changes) -> Side:
    variants = {}
    for model, variant in TREE.variants.items():
        fix = variant.steps["fit-head"]
        assert isinstance(fix, Fix)
        steps = {(name if key == "fit-head" else key): step for key, step in variant.steps.items()}
        variants[model] = replace(variant, steps={**steps, name: replace(fix, id=name, base=name, **changes)})
    return Side(library(), {TREE.id: replace(TREE, variants=variants)})


@pytest.mark.parametrize("letters", ["a", "ab", "the head of the lamp "])
def test_long_titles_of_renamed_steps(letters: str) -> None:
    text = (letters * 3000)[:3000]
    took, found = seconds(with_fix("one", text=text), with_fix("other", text=f"{text[:1400]}-{text[1401:]}"))
    assert ("other", "renamed") in found
    assert took < SOON


def test_many_long_titles() -> None:
    """As many as are compared with each other by their words."""
    sides = []
    for name, mark in (("one", "x"), ("other", "y")):
        causes = {f"{name}-{at}": replace(cause, id=f"{name}-{at}", text=f"{mark}{at}" * 1000)
                  for at in range(40) for cause in list(TREE.variants["Finch"].causes.values())[:1]}  # fmt: skip
        variants = {model: replace(variant, causes=causes) for model, variant in TREE.variants.items()}
        sides.append(Side(library(), {TREE.id: replace(TREE, variants=variants)}))
    took, _ = seconds(*sides)
    assert took < SOON


@pytest.mark.parametrize("count", [MOST_LINES, 2000, 5000])
def test_many_repeated_lines(count: int) -> None:
    lines = ("Look at it.", "Turn it.") * (count // 2)
    changed = (*lines[1:-1], "Leave it.")
    old, new = with_fix("one", do=lines), with_fix("one", do=changed)
    took, found = seconds(old, new)
    assert {kind for _, kind in found} >= {"do-dropped"}
    assert took < SOON


def test_thousands_of_causes_and_steps_with_other_names() -> None:
    sides = []
    for mark in ("one", "other"):
        variant = TREE.variants["Finch"]
        cause, head = variant.causes["head-failed"], variant.steps["fit-head"]
        assert isinstance(head, Fix)
        causes = {f"{mark}-{at}": replace(cause, id=f"{mark}-{at}", text=f"Cause {at}") for at in range(3000)}
        steps = {f"{mark}-{at}": replace(head, id=f"{mark}-{at}", text=f"Fix {at}") for at in range(3000)}
        variant = replace(variant, causes=causes, steps={**variant.steps, **steps})
        sides.append(Side(library(), {TREE.id: replace(TREE, variants={"Finch": variant})}))
    took, found = seconds(*sides)
    assert ("other", "renamed") in found
    assert not {kind for _, kind in found} & {"cause-dropped", "step-dropped"}
    assert took < 4 * SOON


def test_thousands_of_shared_entries_with_other_names() -> None:
    parts = {
        f"part-{at}": replace(next(iter(library().parts.values())), id=f"part-{at}", text=str(at)) for at in range(3000)
    }
    renamed = {f"new-{name}": replace(part, id=f"new-{name}") for name, part in parts.items()}
    old, new = (Side(replace(library(), parts=each), {}) for each in (parts, renamed))
    took, found = seconds(old, new)
    assert found == {("other", "renamed")}
    assert took < SOON


def test_a_line_dropped_of_a_long_list_is_told_as_dropped() -> None:
    """Of many lines none is taken for another's new words."""
    lines = tuple(f"Line {at}." for at in range(MOST_LINES + 1))
    old, new = (
        Side(library(), {TREE.id: replace(TREE, before=each)}) for each in (lines, (*lines[1:], "Another line."))
    )
    changes = compare(old, new).changes
    assert [(each.weight, each.kind, each.before, each.after) for each in changes] == [
        (WEAKER, "before-dropped", "Line 0.", ""),
        ("to be judged", "before-added", "", "Another line."),
    ]


LINES = st.lists(st.sampled_from(["a", "b", "c", "d"]), max_size=8)


@given(LINES, LINES, st.booleans())
def test_what_is_paired_is_all_that_differs(before: list[str], after: list[str], long: bool) -> None:
    """What is gone and what came make the one side of the other, however long both are."""
    more = ["same"] * (MOST_LINES if long else 0)
    pairs = list(paired([*before, *more], [*after, *more]))
    left = sorted(before)
    for old, _ in pairs:
        if old is not None:
            left.remove(old)
    assert sorted([*left, *(new for _, new in pairs if new is not None)]) == sorted(after)


@given(st.text(max_size=30), st.text(max_size=30))
def test_likeness_of_texts(one: str, other: str) -> None:
    assert 0 <= likeness_of_texts(one, other) == likeness_of_texts(other, one) <= 1
    assert likeness_of_texts(one, one) == 1


def test_likeness_of_words_that_differ_by_a_letter() -> None:
    """Worked by hand: "night" and "nacht" share one of four pairs each, so 2 * 1 / 8."""
    assert likeness_of_texts("night", "nacht") == 0.25
    assert likeness_of_texts("Fit a new lamp head", "Fit a new lamp heads") > 0.95
    assert likeness_of_texts("Fit a new lamp head", "Wipe both contacts") < 0.3
