"""Each rule on small trees: what it must report, word for word and at its place, and near misses that are right.

A case is a tree, or a folder of files that are laid over the library beside this file. Beside a bad case stands
what is expected, each problem as `line:column rule: message`, its help and its way; in front the file, where the case
has several. A good case must have no problem of any rule. The names of case files are the ids of their trees.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from faulttree.checking import check_library
from faulttree.library import load_library
from faulttree.problems import Problem
from faulttree.rules import LIBRARY_RULES, RULES

HERE = Path(__file__).parent
CASES = sorted(path for path in HERE.glob("cases/*/*") if path.suffix in (".yaml", ""))
NAMES = sorted({rule.name for rule in RULES} | {rule.name for rule in LIBRARY_RULES})


def problems_of(case: Path, folder: Path) -> list[Problem]:
    """All problems of the library with the case laid over it."""
    shutil.copytree(HERE / "library", folder, dirs_exist_ok=True)
    if case.is_dir():
        shutil.copytree(case, folder, dirs_exist_ok=True)
    else:
        shutil.copy(case, folder)
    return check_library(load_library(folder))


def lines_of(problems: list[Problem], named: bool) -> Iterator[str]:
    """The problems as the expectations have them."""
    for problem in problems:
        file = f"{Path(problem.file).name}:" if named else ""
        yield f"{file}{problem.span.line}:{problem.span.column} {problem.rule}: {problem.message}"
        yield f"    help: {problem.help}"
        yield from (f"    {line}" for line in problem.way)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.parent.name}/{case.stem}")
def test_case(case: Path, tmp_path: Path) -> None:
    """A bad case gives exactly what is expected, its own rule among it; a good one gives nothing."""
    problems = problems_of(case, tmp_path)
    found = "".join(f"{line}\n" for line in lines_of(problems, named=case.is_dir()))
    if case.stem.startswith("good-"):
        assert found == ""
        return
    assert case.stem.startswith("bad-")
    assert found == case.with_suffix(".txt").read_text(encoding="utf-8")
    assert case.parent.name in {problem.rule for problem in problems}
    severities = {rule.name: rule.severity for rule in (*RULES, *LIBRARY_RULES)}
    assert all(problem.severity == severities[problem.rule] for problem in problems)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("kind", ["good", "bad"])
def test_every_rule_has_cases(name: str, kind: str) -> None:
    """At least one bad case and one near miss."""
    assert [case for case in CASES if case.parent.name == name and case.stem.startswith(f"{kind}-")]


def test_cases_belong_to_rules() -> None:
    """No folder of cases for a rule that is not there, and no expectation without its case."""
    assert {case.parent.name for case in CASES} == set(NAMES)
    for expected in HERE.glob("cases/*/*.txt"):
        assert expected.with_suffix("") in CASES or expected.with_suffix(".yaml") in CASES
