"""Values made at once are the same as values made field by field."""

from __future__ import annotations

from dataclasses import fields

import pytest
from test_build_sample import sample_tree

from faulttree.load.construct import construct, defaults
from faulttree.model import Cause, Check, End, Finding, Fix, Step

VARIANT = sample_tree().variants["Finch"]
MADE: list[Step | Cause | Finding] = [*VARIANT.steps.values(), *VARIANT.causes.values()]
MADE += [finding for step in VARIANT.steps.values() if isinstance(step, Check) for finding in step.findings]


def test_values_of_every_kind_are_looked_at() -> None:
    assert {type(each) for each in MADE} == {Check, Fix, End, Cause, Finding}


@pytest.mark.parametrize("made", MADE, ids=lambda made: f"{type(made).__name__} {getattr(made, 'id', '')}")
def test_a_value_made_at_once_has_the_fields_of_its_class_and_no_others(made: Step | Cause | Finding) -> None:
    assert vars(made).keys() == {field.name for field in fields(made)}
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
