"""The core does no I/O: what it imports and what it calls. Import contracts see neither open() nor late imports."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "faulttree"
CORE = (
    "problems", "value", "model", "digest", "keys", "closers", "open_items", "site", "moves", "closing", "revised",
    "readings", "walk", "graph", "minutes", "possible",
    "cases", "explore", "left_open", "proof", "proof_edges", "failing_way", "readback", "units", "unit_table",
    "spelling", "check_characters", "present",
    "present.answer", "rules", "reach", "draw", "compare",
)  # fmt: skip
NOT_FOR_THE_CORE = {
    "socket", "subprocess", "sqlite3", "random", "secrets", "tempfile", "shutil", "logging", "argparse", "yaml",
    "jsonschema", "platformdirs", "faulttree.library", "faulttree.load", "faulttree.cli", "faulttree.journal",
}  # fmt: skip
CALLS = {"open", "print", "input", "exec", "eval", "compile", "__import__"}
ATTRIBUTES = {"environ", "getenv", "now", "today", "time", "read_text", "write_text", "read_bytes", "write_bytes"}


@pytest.mark.parametrize("module", CORE)
def test_what_comes_along_with_a_core_module(module) -> None:
    code = f"import sys; before = set(sys.modules); import faulttree.{module}; print(*set(sys.modules) - before)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert not NOT_FOR_THE_CORE & set(done.stdout.split())


def sources():
    for name in CORE:
        path = PACKAGE / name.replace(".", "/")
        yield from path.glob("*.py") if path.is_dir() else [path.with_suffix(".py")]


@pytest.mark.parametrize("path", sorted(set(sources())), ids=lambda path: path.stem)
def test_a_core_module_neither_reads_nor_writes_nor_looks_at_the_clock(path) -> None:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            assert not (isinstance(node.func, ast.Name) and node.func.id in CALLS), f"{path.name}:{node.lineno}"
            called = node.func.attr if isinstance(node.func, ast.Attribute) else ""
            assert called not in ATTRIBUTES, f"{path.name}:{node.lineno} calls {called}"


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=lambda path: path.stem)
def test_every_module_says_what_it_is_for(path) -> None:
    assert ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))


def test_what_trees_share_is_imported_from_the_model() -> None:
    naming = {file.stem for file in PACKAGE.rglob("*.py") if "faulttree.shared_entries" in file.read_text("utf-8")}
    assert naming == {"model"}
