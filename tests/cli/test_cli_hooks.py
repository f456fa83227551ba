"""The hooks for pre-commit: complete, and their commands are commands.

That pre-commit itself takes them is tried by hand: ``pre-commit try-repo PATH faulttree-check --all-files``.
"""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest
import yaml
from cli_runs import LAMP, ROOT, MakeLibrary, Run

HOOKS = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("hook", HOOKS, ids=lambda each: each["id"])
def test_a_hook_runs_its_command_on_named_files(hook: dict[str, str], run: Run, library: MakeLibrary) -> None:
    """Files of a library are checked, others passed over; one process at a time, since each reads whole libraries."""
    assert {"id", "name", "description", "entry", "language", "types"} <= set(hook)
    assert (hook["language"], hook["require_serial"]) == ("python", True)
    program, *words = shlex.split(hook["entry"])
    assert program == "faulttree"
    folder = library("      Film: wipe-contacts\n", "      Film: out-of-use\n")
    other = folder.parent / "other.yaml"
    other.write_text("a: b\n", encoding="utf-8")
    ran = run(*words, str(other), str(folder / f"{LAMP}.yaml"))
    assert ran.code == 1
    assert "cause-lost" in ran.out
    assert run(*words, str(other)).code == 0


def test_without_the_option_a_file_of_no_library_is_told_of(run: Run, tmp_path: Path) -> None:
    other = tmp_path / "other.yaml"
    other.write_text("a: b\n", encoding="utf-8")
    assert run("check", str(other)).code == 2
