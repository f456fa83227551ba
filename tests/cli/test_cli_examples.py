"""Every example in every help is run as it stands there."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from cli_runs import ROOT

from faulttree.cli import first_help
from faulttree.cli.main import COMMANDS, load_command
from faulttree.cli.parser import examples_of

NAMES = [name for name, _ in COMMANDS if name != "help"]


EXAMPLES = [
    *first_help.EXAMPLES,
    *(example for name in NAMES for example in examples_of(load_command(name)[0])),
]


@pytest.mark.parametrize("name", NAMES)
def test_every_command_has_two_examples_of_itself(name: str) -> None:
    examples = examples_of(load_command(name)[0])
    assert len(examples) >= 2
    assert all(example.startswith("faulttree ") and name in example for example in examples)


@pytest.fixture
def shell_folder(tmp_path: Path) -> Path:
    """A folder as a reader has it: the trees beside, in git, and the program by its name. stdin is empty."""
    shutil.copytree(ROOT / "trees", tmp_path / "trees")
    if shutil.which("git"):
        me = ("-c", "user.name=A", "-c", "user.email=a@b.invalid")
        for words in (("init", "-q"), ("add", "trees"), (*me, "commit", "-q", "-m", "trees")):
            subprocess.run(["git", "-C", str(tmp_path), *words], check=True)
    program = tmp_path / "bin" / "faulttree"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m faulttree "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    return tmp_path


@pytest.mark.skipif(not shutil.which("bash"), reason="bash is not installed")
@pytest.mark.parametrize("example", sorted(set(EXAMPLES)))
def test_an_example_runs(example: str, shell_folder: Path) -> None:
    """It ends as done; a walk without anybody who answers ends unfinished, or because no symptom was chosen."""
    if "HEAD:" in example and not shutil.which("git"):
        pytest.skip("git is not installed")
    path = os.pathsep.join((str(shell_folder / "bin"), os.environ["PATH"]))
    env = {**os.environ, "PATH": path, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        ["bash", "-c", example], cwd=shell_folder, env=env, stdin=subprocess.DEVNULL, capture_output=True, text=True
    )
    is_walk = example.startswith("faulttree walk") and "--resume" not in example
    assert done.returncode in ((2, 3) if is_walk else (0,)), done.stderr
    assert "Traceback" not in done.stderr
    assert "something went wrong" not in done.stderr
    assert is_walk or "error" not in done.stderr
