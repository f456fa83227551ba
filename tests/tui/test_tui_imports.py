"""What the screen loads: nothing of the command line, no database, and its first page not more than it shows."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TUI = ROOT / "faulttree" / "tui"
FILES = sorted(TUI.rglob("*.py"))


def imported(file: Path) -> Iterator[str]:
    """Every module that a file imports, at its top or inside a function."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "names are absolute"
            yield from (node.module or "", *(f"{node.module}.{name.name}" for name in node.names))


@pytest.mark.parametrize("file", FILES, ids=[str(file.relative_to(TUI)) for file in FILES])
def test_no_screen_imports_the_command_line_or_the_records(file: Path) -> None:
    for name in imported(file):
        assert not name.startswith(("faulttree.cli", "faulttree.records", "sqlalchemy", "argparse")), name


def loaded_by(code: str) -> set[str]:
    """The modules that are there after some code has run in a Python of its own."""
    ran = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys\nprint('\\n'.join(sys.modules))"],
        capture_output=True,
        check=True,
        cwd=ROOT,
        text=True,
    )
    return set(ran.stdout.split())


def test_the_whole_screen_loads_neither_database_nor_command_line() -> None:
    every = [str(file.relative_to(ROOT).with_suffix("")).replace("/", ".") for file in FILES]
    names = loaded_by("\n".join(f"import {name.removesuffix('.__init__')}" for name in every))
    assert "faulttree.tui.screens.walk" in names
    assert not {name for name in names if name.startswith(("sqlalchemy", "faulttree.cli", "faulttree.records"))}


def test_starting_the_program_loads_no_database_and_not_yet_the_walk() -> None:
    names = loaded_by("import faulttree.tui.app")
    assert "textual" in names
    assert not {name for name in names if name.startswith(("sqlalchemy", "sqlite3"))}
    assert "faulttree.tui.screens.walk" not in names, "it is loaded behind the first page"


def test_nothing_in_the_screen_waits_for_a_clock_or_writes_by_itself() -> None:
    """Nothing moves by itself, and all that is printed is printed by the command line."""
    for file in FILES:
        text = file.read_text(encoding="utf-8")
        # The one clock looks whether the terminal is still there, and draws nothing.
        assert (
            text.replace("set_interval(SECONDS_OF_TERMINAL, self._leave_without_terminal)", "").count("set_interval")
            == 0
        )
        assert "print(" not in text, file
