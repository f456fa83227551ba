"""What a command loads: only what it needs, so that the first line comes at once."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest
from cli_runs import ROOT, SAMPLE

NEVER = {"textual", "sqlalchemy", "rich", "importlib.metadata", "graphviz", "networkx", "click", "jsonschema"}
"""Not for any command that has nothing to say about a file of wrong shape."""

COMMANDS = [
    ["--version"],
    ["--help"],
    ["help", "check"],
    ["symptoms"],
    ["symptoms", "lamp"],
    ["check"],
    ["ways", "lamp-does-not-light"],
    ["draw", "lamp-does-not-light", "--format", "dot", "-o", "-"],
    ["explain", "cause-lost"],
    ["schema", "tree"],
    ["completion", "bash"],
    ["where"],
    ["compare", str(SAMPLE), str(SAMPLE)],
]
FURTHER = {
    "--version": {"argparse", "typing", "enum", "re", "yaml", "pathlib", "dataclasses", "platformdirs", "json"},
    "--help": {"yaml", "dataclasses", "platformdirs", "json", "argparse"},
    "symptoms": {"yaml", "dataclasses", "platformdirs", "json", "faulttree.model", "importlib.resources"},
    "check": {"platformdirs", "json", "faulttree.journal", "dataclasses", "inspect", "shutil", "fractions"},
    "ways": {"platformdirs", "json", "faulttree.journal"},
    "draw": {"platformdirs", "faulttree.journal", "faulttree.draw.svg", "shutil"},
    "explain": {"platformdirs", "json"},
    "compare": {"platformdirs", "faulttree.journal", "markdown_it"},
}
PROGRAM = """
import json, os, sys
from faulttree.cli.main import main
out = sys.stdout
sys.stdout = open(os.devnull, "w")
code = main(sys.argv[1:])
json.dump([code, sorted(sys.modules)], out)
"""


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
def test_what_is_loaded(words: list[str]) -> None:
    library = ["--library", str(SAMPLE)] if words and words[0] in ("symptoms", "check", "ways", "draw") else []
    ran = subprocess.run(
        [sys.executable, "-c", PROGRAM, *library, *words], cwd=ROOT, capture_output=True, text=True, check=True
    )
    code, modules = json.loads(ran.stdout)
    assert code == 0, ran.stderr
    unwanted = NEVER | (FURTHER.get(words[0], set()) if words else set())
    # The program above loads json itself, at its beginning.
    assert set(modules) & (unwanted - {"json", "re", "enum"}) == set()


def test_the_version_loads_next_to_nothing() -> None:
    """Five modules of ours, and two that are part of the interpreter."""
    program = "import sys; before = set(sys.modules); import faulttree.cli.main as m; m.main(['--version'])\n"
    program += "print(*sorted(set(sys.modules) - before))"
    ran = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=True)
    assert ran.stdout.splitlines()[1].split() == [
        "__future__",
        "faulttree",
        "faulttree.cli",
        "faulttree.cli.main",
        "faulttree.cli.output",
        "faulttree.visible",
        "gc",
    ]
