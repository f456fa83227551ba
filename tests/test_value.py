"""Values: frozen, equal by fields; made at once they are the same as made field by field."""

from __future__ import annotations

from pathlib import Path

import pytest

from faulttree.library import load_library
from faulttree.model import Cause, Check, End, Finding, Fix, Released, Route, Step, Work
from faulttree.value import construct, defaults, field_names, replace

VARIANT = load_library(Path(__file__).parent / "sample").trees["lamp-does-not-light"].variants["Finch"]
MADE: list[Step | Cause | Finding] = [*VARIANT.steps.values(), *VARIANT.causes.values()]
MADE += [finding for step in VARIANT.steps.values() if isinstance(step, Check) for finding in step.findings]


def test_values_of_every_kind_are_looked_at() -> None:
    assert {type(each) for each in MADE} == {Check, Fix, End, Cause, Finding}


@pytest.mark.parametrize("made", MADE, ids=lambda made: f"{type(made).__name__} {getattr(made, 'id', '')}")
def test_a_value_made_at_once_has_the_fields_of_its_class_and_no_others(made: Step | Cause | Finding) -> None:
    assert vars(made).keys() == set(field_names(type(made)))
    assert type(made)(**vars(made)) == made
    assert hash_or_none(type(made)(**vars(made))) == hash_or_none(made)


def hash_or_none(value: object) -> int | None:
    """Steps hold mappings and have no hash; findings have one."""
    try:
        return hash(value)
    except TypeError:
        return None


def test_the_defaults_are_those_of_the_class() -> None:
    given = {"id": "a", "base": "a", "text": "t", "who": "crew", "findings": ()}
    assert construct(Check, defaults(Check) | given) == Check(id="a", base="a", text="t", who="crew", findings=())
    assert construct(Finding, defaults(Finding) | {"label": "a", "number": 1}) == Finding("a", 1)


def test_defaults_may_be_changed_without_changing_those_of_others() -> None:
    defaults(Finding)["says"] = "changed"
    assert defaults(Finding)["says"] == ""


def test_a_value_made_at_once_is_frozen() -> None:
    with pytest.raises(AttributeError):
        VARIANT.causes["cell-flat"].text = "changed"  # type: ignore[misc]


def test_fields_are_taken_by_place_and_by_name_with_those_of_the_base_first() -> None:
    assert Finding("a", 1, says="b") == Finding(label="a", number=1, says="b")
    assert field_names(Check)[: len(field_names(Work))] == field_names(Work)


@pytest.mark.parametrize(
    ("given", "named"),
    [((), {}), (("a",), {"label": "b", "number": 1}), (("a", 1), {"colour": "red"}), (("a",) * 20, {})],
    ids=["missing", "twice", "unknown", "too many"],
)
def test_what_does_not_fit_is_refused(given: tuple[str, ...], named: dict[str, object]) -> None:
    with pytest.raises(TypeError, match="Finding"):
        Finding(*given, **named)  # type: ignore[arg-type]


def test_fields_that_are_given_by_name_only_are_not_taken_by_place() -> None:
    with pytest.raises(TypeError, match="by place"):
        Check("a", "a", "t", "crew")  # type: ignore[call-arg, misc]


def test_values_are_equal_by_kind_and_fields_and_not_by_what_was_computed() -> None:
    one, other = Finding("a", 1), Finding("a", 1)
    vars(one)["computed"] = 3
    assert one == other
    assert hash(one) == hash(other)
    assert one != Finding("b", 1)
    assert Route("a") != Released("a", "", "")


def test_replace_changes_what_is_named_and_refuses_what_is_no_field() -> None:
    assert replace(Finding("a", 1), says="b") == Finding("a", 1, says="b")
    with pytest.raises(TypeError, match="colour"):
        replace(Finding("a", 1), colour="red")


def test_a_value_says_what_it_is() -> None:
    assert repr(Released("A. Person", "2026-11-25", "0f")) == (
        "Released(by='A. Person', date='2026-11-25', digest='0f')"
    )
