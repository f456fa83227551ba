"""Blanks that stand alone in a file: the quick look for them and the slow one that has their places see the same."""

from __future__ import annotations

from pathlib import Path

import pytest
from test_rule_cases import HERE, problems_of

SELDOM = (HERE / "cases" / "blank-left" / "bad-seldom.yaml").read_text(encoding="utf-8")
FILLED = SELDOM.replace(": ___", ": filled")
PLACES = [at for at in range(len(SELDOM)) if SELDOM.startswith(": ___", at)]


@pytest.mark.parametrize("place", PLACES)
def test_a_blank_is_found_wherever_it_stands_alone(place: int, tmp_path: Path) -> None:
    """All other blanks of the case are filled in."""
    head = SELDOM[:place].replace(": ___", ": filled")
    case = tmp_path / "bad-seldom.yaml"
    case.write_text(head + ": ___" + SELDOM[place + 5 :].replace(": ___", ": filled"), encoding="utf-8")
    problems = problems_of(case, tmp_path / "library")
    assert [(problem.rule, problem.span.line) for problem in problems] == [("blank-left", head.count("\n") + 1)]


def test_filled_in_it_has_no_problem(tmp_path: Path) -> None:
    """So what is found above is the blank."""
    case = tmp_path / "bad-seldom.yaml"
    case.write_text(FILLED, encoding="utf-8")
    assert len(PLACES) == 7
    assert problems_of(case, tmp_path / "library") == []
