"""What holds for any two trees: nothing changed where nothing differs, and something where anything does."""

from __future__ import annotations

import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shipped import sample, shipped, variants
from strategies import MODEL, trees

from faulttree.compare import WEAKER, Side, compare, longest_minutes
from faulttree.digest import BESIDE, NOT_MEANING, tree_digest
from faulttree.explore import every_way
from faulttree.graph import graph_of
from faulttree.minutes import minutes_of
from faulttree.model import Case, Check, Document, End, Fix, Library, Released, Tree, Variant, Work
from faulttree.value import Value, field_names, replace

CALM = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
PAIRS = st.tuples(trees(), trees()).filter(lambda pair: pair[0][1] == pair[1][1])


def side(tree: Tree, library: Library) -> Side:
    return Side(library, {tree.id: tree})


def of_step(tree: Tree, name: str, **changes) -> Tree:
    variant = tree.variants[MODEL]
    steps = {**variant.steps, name: replace(variant.steps[name], **changes)}
    return replace(tree, variants={MODEL: replace(variant, steps=steps)})


@CALM
@given(trees())
def test_a_tree_has_no_changes_from_itself(drawn) -> None:
    comparison = compare(side(*drawn), side(*drawn))
    assert comparison.changes == ()
    assert not comparison.is_weaker


CASES = [
    Case("worn", "crew", MODEL, "worn", (), "s1"),
    Case("worn", "mechanic", MODEL, "worn", (), "s1"),
    Case("bent", "crew", MODEL, "bent", ("Good",), "s1"),
]
LEFT_OUT = {
    "status": ("draft", "released", "withdrawn"),
    "released": (None, Released("A. Reed", "2026-11-25", "0" * 64)),
    "revision": (1, 2),
    "date": ("2026-11-25", "2026-11-26"),
    "author": ("", "B. Ward"),
    "cases": ((), tuple(CASES[:1]), tuple(CASES[1:]), (CASES[2], CASES[0]), (CASES[0], CASES[2])),
}
"""What the digest of a tree leaves out; of a library it is a document's revision."""

LEFT_OUT_KINDS = re.compile(r"status|(release|revision|date|author)-changed|case-[a-z]+")
HEADS = {**LEFT_OUT, BESIDE: ({}, {"MAN-01": "A"}, {"MAN-01": "B"})}


@st.composite
def headed_pairs(draw) -> tuple[tuple[Tree, Library], tuple[Tree, Library]]:
    """Two trees that may differ in the documents and in what the digest leaves out as well; often in nothing else."""
    one, other = draw(PAIRS)
    other = one if draw(st.booleans()) else other
    sides = []
    for tree, library in (one, other):
        head = {field: draw(st.sampled_from(values)) for field, values in HEADS.items()}
        documents = {"MAN-01": Document("MAN-01", "Manual", draw(st.sampled_from("AB")))}
        sides.append((replace(tree, **head), replace(library, documents=documents)))
    return sides[0], sides[1]


@CALM
@given(headed_pairs())
def test_two_trees_differ_where_their_digests_do_or_what_these_leave_out(pair) -> None:
    """Nothing that differs is told as nothing, and where the digests agree only what they leave out is told."""
    (old, library), (new, other) = pair
    differ = tree_digest(old, library) != tree_digest(new, other)
    left_out = library != other or any(getattr(old, field) != getattr(new, field) for field in LEFT_OUT)
    changes = compare(side(old, library), side(new, other)).changes
    assert bool(changes) == (differ or left_out)
    assert differ or all(LEFT_OUT_KINDS.fullmatch(change.kind) for change in changes)


def test_what_the_digest_leaves_out_is_what_is_varied_here() -> None:
    assert set(LEFT_OUT) == {*NOT_MEANING} - {"operator"}


@pytest.mark.parametrize("field", sorted(NOT_MEANING - {"operator"}))
def test_what_is_left_out_changes_no_digest_and_the_documents_do(field: str) -> None:
    loaded = sample()
    tree = next(iter(loaded.trees.values()))
    assert len({tree_digest(replace(tree, **{field: value}), loaded.library) for value in LEFT_OUT[field]}) == 1
    assert len({tree_digest(replace(tree, **{BESIDE: value}), loaded.library) for value in HEADS[BESIDE]}) == 3


@CALM
@given(PAIRS)
def test_the_other_way_round_dropped_is_new(pair) -> None:
    """Steps that one way are dropped are new the other way, renamed ones are renamed back, and ways change places."""
    (old, library), (new, _) = pair
    there = compare(side(old, library), side(new, library))
    back = compare(side(new, library), side(old, library))
    assert bool(there.changes) == bool(back.changes)
    assert steps_of(there, "step-dropped") == steps_of(back, "step-new")
    assert steps_of(there, "step-new") == steps_of(back, "step-dropped")
    assert [(each.before, each.after) for each in there.longest] == [(each.after, each.before) for each in back.longest]


def steps_of(comparison, kind: str) -> set[str]:
    return {name for change in comparison.changes if change.kind == kind for name in change.subjects}


WEAKENED = (
    ("notices", lambda step, lib: tuple(each for each in step.notices if lib.notices[each].signal == "note")),
    ("who", lambda step, lib: lib.first_role),
    ("people", lambda step, lib: 1),
    ("occupied", lambda step, lib: True),
    ("opens", lambda step, lib: ()),
    ("closes", lambda step, lib: tuple(lib.open_items)),
    ("wait", lambda step, lib: 0.0),
    ("second_inspection", lambda step, lib: None),
    ("operational_check", lambda step, lib: ""),
    ("sure", lambda step, lib: 1.0),
)


@CALM
@given(trees(), st.data())
def test_what_weakens_is_weaker_one_way_only(drawn, data) -> None:
    """A gate, a role or a duty less is weaker; the same put back is for the reviewer, and weaker by nothing of it."""
    tree, library = drawn
    name = data.draw(st.sampled_from(sorted(tree.variants[MODEL].steps)))
    step = tree.variants[MODEL].steps[name]
    for field, weaken in WEAKENED:
        if field not in field_names(type(step)) or isinstance(step, End):
            continue
        less = of_step(tree, name, **{field: weaken(step, library)})
        if less == tree or (field == "closes" and set(step.closes) == set(library.open_items)):
            continue
        assert compare(side(tree, library), side(less, library)).is_weaker, field
        back = compare(side(less, library), side(tree, library))
        # What is left open at a proof follows from what is closed: that is told by either change.
        assert {change.kind for change in back.of(WEAKER)} <= {"left-open"}, field


@CALM
@given(trees())
def test_the_longest_way_is_the_longest_of_all_ways(drawn) -> None:
    """Against every way, each added up by itself."""
    tree, library = drawn
    priced = with_minutes(tree.variants[MODEL])
    library = replace(library, accesses={name: replace(a, minutes=3.0) for name, a in library.accesses.items()})
    every = [
        minutes_of(library, MODEL, [priced.steps[name] for name in (*(name for name, _ in way), last)])
        for way, last in every_way(priced)
    ]
    assert longest_minutes(library, priced, graph_of(priced)) == max(every)


def with_minutes(variant: Variant) -> Variant:
    """Minutes that tell the steps apart: powers of two."""
    steps = {
        name: replace(step, minutes=float(2**at)) if isinstance(step, Check | Fix) else step
        for at, (name, step) in enumerate(variant.steps.items())
    }
    return replace(variant, steps=steps)


SMALL = [
    pytest.param(*each[1:], id=each[0], marks=() if each[1] is sample().library else pytest.mark.long)
    for each in variants()
    if len(each[3].steps) < 25
]


@pytest.mark.parametrize(("library", "tree", "variant"), SMALL)
def test_the_longest_way_of_real_trees(library, tree, variant) -> None:
    every = (
        minutes_of(library, variant.model, [variant.steps[name] for name in (*(name for name, _ in way), last)])
        for way, last in every_way(variant)
    )
    assert longest_minutes(library, variant, graph_of(variant)) == pytest.approx(max(every))


# -- no field is passed over


def a_value_like(value):
    """Another value of the same kind."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, str):
        return f"{value} else"
    if isinstance(value, float | int):
        return value + 1
    return None


@pytest.mark.parametrize("loaded", [shipped(), sample()], ids=["shipped", "sample"])
def test_every_field_of_every_shared_entry_counts(loaded) -> None:
    """One text, number or yes of one entry is changed at a time: the comparison has to say something."""
    assert loaded.library
    old = Side(loaded.library, loaded.trees)
    counted = 0
    for field in field_names(Library):
        entries = getattr(loaded.library, field)
        for name, entry in list(entries.items())[:3] if hasattr(entries, "items") else ():
            for each in field_names(type(entry)) if isinstance(entry, Value) else ():
                other = a_value_like(getattr(entry, each)) if each not in ("id", "kind", "signal") else None
                if other is not None:
                    changed = replace(loaded.library, **{field: {**entries, name: replace(entry, **{each: other})}})
                    comparison = compare(old, Side(changed, loaded.trees))
                    assert [change for change in comparison.changes if name in change.subjects], (field, name, each)
                    counted += 1
    assert counted > 20


@pytest.mark.parametrize(("library", "tree", "variant"), SMALL)
def test_every_field_of_every_step_and_cause_counts(library, tree, variant) -> None:
    old = Side(library, {tree.id: tree})
    for part in ("steps", "causes"):
        entries = getattr(variant, part)
        for name, entry in entries.items():
            for each in field_names(type(entry)):
                other = a_value_like(getattr(entry, each)) if each not in ("id", "base", "kind") else None
                if other is None:
                    continue
                changed = replace(variant, **{part: {**entries, name: replace(entry, **{each: other})}})
                new = replace(tree, variants={**tree.variants, variant.model: changed}, alike=False)
                found = compare(old, Side(library, {tree.id: new})).changes
                assert [change for change in found if name in change.subjects], (name, each)


def test_a_step_that_turns_into_another_kind_keeps_its_gates() -> None:
    """A check that becomes a fix is told as such, and a warning that went with it as well."""
    tree, library = sample().trees["lamp-does-not-light"], sample().library
    assert library
    variant = tree.variants["Finch"]
    check = variant.steps["spare-cell"]
    assert isinstance(check, Work)
    fix = Fix(id="spare-cell", base="spare-cell", text="Fit it", who="user", clears=("cell-flat",))
    new = replace(tree, variants={"Finch": replace(variant, steps={**variant.steps, "spare-cell": fix})})
    kinds = {change.kind for change in compare(side(tree, library), side(new, library)).changes}
    assert {"step-kind", "warning-removed", "opens-dropped", "model-dropped"} <= kinds
