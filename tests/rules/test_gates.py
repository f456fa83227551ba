"""Gates: a rule that is not loaded would have said nothing."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from contexts import assert_gates_hide_nothing, assert_library_gates_hide_nothing, contexts
from shipped import shipped

from faulttree.library import load_library
from faulttree.rules import LIBRARY_RULES, RULES
from faulttree.rules.context import Shared
from faulttree.rules.gates import GATES, LIBRARY_GATES, PROSE_GATES

HERE = Path(__file__).parent
CASES = sorted(path for path in HERE.glob("cases/*/*") if path.suffix in (".yaml", ""))


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.parent.name}/{case.stem}")
def test_gates_hide_nothing_in_the_cases(case: Path, tmp_path: Path) -> None:
    """On every case of every rule."""
    shutil.copytree(HERE / "library", tmp_path, dirs_exist_ok=True)
    if case.is_dir():
        shutil.copytree(case, tmp_path, dirs_exist_ok=True)
    else:
        shutil.copy(case, tmp_path)
    loaded = load_library(tmp_path)
    if loaded.library is not None:
        assert_library_gates_hide_nothing(Shared(loaded.library))
        for context in contexts(loaded):
            assert_gates_hide_nothing(context)


def test_gates_hide_nothing_in_the_shipped_trees() -> None:
    """On the shipped library."""
    loaded = shipped()
    assert loaded.library is not None
    assert_library_gates_hide_nothing(Shared(loaded.library))
    for context in contexts(loaded):
        assert_gates_hide_nothing(context)


def test_every_gate_is_used() -> None:
    """No gate of a rule that is not there."""
    assert set(GATES) | set(PROSE_GATES) <= {rule.name for rule in RULES}
    assert set(LIBRARY_GATES) <= {rule.name for rule in LIBRARY_RULES}
