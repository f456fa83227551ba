"""What was only renamed, a step or roles, is no other one; what says something else under another name is."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shipped import sample
from strategies import MODEL, trees

from faulttree.compare import Side, compare
from faulttree.model import Library, Tree, Variant
from faulttree.value import Value, field_names, replace

CALM = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))


def side(tree: Tree, library: Library) -> Side:
    return Side(library, {tree.id: tree})


@CALM
@given(trees(), st.data())
def test_a_renamed_step_is_no_other_step(drawn, data) -> None:
    tree, library = drawn
    variant = tree.variants[MODEL]
    name = data.draw(st.sampled_from(sorted(variant.steps)))
    renamed = replace(tree, variants={MODEL: with_step_called(variant, name, "called-otherwise")})
    comparison = compare(side(tree, library), side(renamed, library))
    assert {change.kind for change in comparison.changes} <= {"renamed"}
    assert not comparison.is_weaker


NEW_ROLES = {"mechanic": "fitter", "engineering": "design"}


@CALM
@given(trees())
def test_renamed_roles_are_no_other_roles(drawn) -> None:
    """Two at once, of which one includes a third, wherever they are named."""
    tree, library = drawn

    def put(value):
        if isinstance(value, Value):
            return replace(value, **{field: put(getattr(value, field)) for field in field_names(type(value))})
        if isinstance(value, dict):
            return {put(key): put(each) for key, each in value.items()}
        if isinstance(value, tuple | frozenset):
            return type(value)(map(put, value))
        return NEW_ROLES.get(value, value) if isinstance(value, str) else value

    comparison = compare(side(tree, library), side(put(tree), put(library)))
    assert {(change.kind, change.subjects) for change in comparison.changes} == {
        ("renamed", ("fitter",)),
        ("renamed", ("design",)),
    }


def test_a_role_that_may_do_more_under_another_name_is_no_renamed_role() -> None:
    library = sample().library
    assert library
    fixer = replace(library.roles["repairer"], id="fixer", title="fixer", may=("do what it likes",))
    roles = {"user": library.roles["user"], "fixer": replace(fixer, covers=frozenset({"user", "fixer"}))}
    changes = compare(Side(library, {}), Side(replace(library, roles=roles), {})).changes
    assert {("entry-dropped", ("repairer",)), ("entry-new", ("fixer",))} <= {(e.kind, e.subjects) for e in changes}
    assert "renamed" not in {change.kind for change in changes}


def with_step_called(variant: Variant, old: str, new: str) -> Variant:
    """Written here a second time, by looking for the name in everything."""

    def put(value):
        if isinstance(value, Value):
            return replace(value, **{field: put(getattr(value, field)) for field in field_names(type(value))})
        if isinstance(value, dict):
            return {put(key): put(each) for key, each in value.items()}
        if isinstance(value, tuple):
            return tuple(map(put, value))
        return new if value == old else value

    return put(variant)
