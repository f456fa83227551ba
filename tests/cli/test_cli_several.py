"""`faulttree check` with several processes: the same output, byte for byte, as with one."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from itertools import product
from pathlib import Path

import pytest
from cli_runs import ROOT, SAMPLE

from faulttree.cli import several
from faulttree.cli.several import FEWEST_TREES, look_in_parts

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot copy processes")

COUNT = FEWEST_TREES + 6
LETTERS = "ABCDEF"

TREE = """\
faulttree: 1
id: {id}
short: {short}
symptom: The lamp number {at} does not light
equipment: [hand lamp]
urgency: soon
revision: 1
date: 2026-11-20
status: draft
written_against: {{LAMP-01: B}}
before: The lamp is out of its holder.
first_actions: [{{who: user, do: Take the spare lamp.}}]
report: Lamp no. ___ stays dark.
otherwise: {{unable: out-of-use, failed: out-of-use, cannot: out-of-use}}
causes:
  flat: {{is: Cell flat, shows: {{look: Dark}}}}
start: look
steps:
  look:
    check: Does it light?
    who: user
    findings: {{Dark: {dark}, Dim: {dim}}}
  fit:
    fix: Fit a new cell
    clears: [flat]
    who: repairer
    do: Fit it.
    data: {{LAMP-01: "4"}}
    operational_check: lights-ten-times
  elsewhere:
    end: see another tree
    tree: {tree}
    for: {{flat: [flat]}}
  out-of-use:
    end: out of service
"""


def library_in(folder: Path, **changes: dict[int, str]) -> Path:
    """Many trees, each of which leads to another; ``changes`` give single trees another value of a blank."""
    folder.mkdir()
    for path in SAMPLE.glob("*.yaml"):
        if path.stem != "lamp-does-not-light":
            text = path.read_text(encoding="utf-8").replace("tree: lamp-does-not-light", "x-tree: none")
            (folder / path.name).write_text(text, encoding="utf-8")
    shorts = ["".join(each) for each in product(LETTERS, repeat=3)]
    for at in range(COUNT):
        values = {
            "id": f"tree-{at:02}",
            "short": shorts[at],
            "at": str(at),
            "dark": "fit",
            "dim": "elsewhere",
            # The last leads to none further on, so that there is no circle.
            "tree": f"tree-{at + 7:02}" if at + 7 < COUNT else f"tree-{COUNT - 1:02}",
        }
        if at + 7 >= COUNT:
            values["dim"] = "out-of-use"
        values |= {name: by[at] for name, by in changes.items() if at in by}
        text = TREE.format(**values)
        if values["dim"] == "out-of-use":
            text = text.replace(text[text.index("  elsewhere:") : text.index("  out-of-use:")], "")
        (folder / f"tree-{at:02}.yaml").write_text(text, encoding="utf-8")
    return folder


def outputs(folder: Path, processes: int, *words: str) -> tuple[int, str, str]:
    command = [sys.executable, "-m", "faulttree", "check", ".", "--processes", str(processes), *words]
    env = {**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "80"}
    done = subprocess.run(command, cwd=folder, env=env, capture_output=True, text=True)
    return done.returncode, done.stdout, done.stderr


WITH_PROBLEMS = {
    "short": {9: "AAA", 20: "AAA", 21: "AAA"},
    "dark": {3: "out-of-use", 4: "nowhere", 26: "out-of-use"},
    "tree": {1: "tree-00", 0: "tree-01", 5: "tree-99", 11: "tree-18", 18: "tree-11"},
}


@pytest.mark.parametrize("words", [(), ("--concise",), ("--format", "json"), ("--format", "sarif")], ids=" ".join)
def test_the_same_with_problems(words: tuple[str, ...], tmp_path: Path) -> None:
    """Short names taken, circles, causes lost, unknown trees: across the parts."""
    folder = library_in(tmp_path / "library", **WITH_PROBLEMS)
    one = outputs(folder, 1, *words)
    for rule in ("short-taken", "trees-in-a-circle", "cause-lost", "name-unknown", "target-missing"):
        assert rule in one[1]
    assert outputs(folder, 2, *words) == one
    assert outputs(folder, 3, *words) == one


def test_the_same_without(tmp_path: Path) -> None:
    folder = library_in(tmp_path / "library")
    one = outputs(folder, 1)
    assert one[:2] == (0, f"No problems in {COUNT} trees and 7 shared files.\n")
    assert outputs(folder, 2) == one


@pytest.mark.parametrize(
    "damage",
    ["tree-02.yaml: id: tree-03", "tree-04.yaml: {", "library.yaml: x", "tree-05.yaml: # stet cause-lost: as it is"],
)
def test_the_same_where_something_is_not_as_usual(damage: str, tmp_path: Path) -> None:
    """An id twice, a file that is no YAML, shared files with errors, comments."""
    folder = library_in(tmp_path / "library", **WITH_PROBLEMS)
    name, _, what = damage.partition(": ")
    path = folder / name
    text = path.read_text(encoding="utf-8")
    id_line = f"id: {path.stem}"
    path.write_text(text.replace(id_line, what) if what.startswith("id") else f"{what}\n{text}", encoding="utf-8")
    (folder / "link.yaml").symlink_to("/etc/hostname")
    assert outputs(folder, 3) == outputs(folder, 1)


def test_it_is_done_by_several(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """So that the tests above compare two things; few trees are left to one process."""
    folder = library_in(tmp_path / "library")
    made: list[int] = []

    class Counted(several.Worker):
        def __init__(self, *args: object) -> None:
            super().__init__(*args)  # type: ignore[arg-type]
            made.append(self.pid)

    monkeypatch.setattr(several, "Worker", Counted)
    found = look_in_parts(folder, 2)
    assert found
    assert len(found.trees) == COUNT
    assert len(made) == 1
    with pytest.raises(ChildProcessError):
        os.waitpid(made[0], 0)
    for path in sorted(folder.glob("tree-*.yaml"))[FEWEST_TREES - 1 :]:
        path.unlink()
    assert look_in_parts(folder, 2) is None


@pytest.mark.parametrize("where", ["read", "judge"])
def test_a_process_that_ends_early_is_made_up_for(where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is told by parts then; the caller looks by itself."""
    folder = library_in(tmp_path / "library")
    parent = os.getpid()
    whole = getattr(several.Part, where)

    def dies(self: several.Part, *args: object) -> object:
        if os.getpid() != parent:
            os._exit(9)
        return whole(self, *args)

    monkeypatch.setattr(several.Part, where, dies)
    assert look_in_parts(folder, 2) is None


def test_a_part_of_a_library_is_looked_at_by_one(tmp_path: Path) -> None:
    folder = library_in(tmp_path / "library", **WITH_PROBLEMS)
    shutil.copy(folder / "tree-03.yaml", tmp_path / "kept")
    env = {**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "80"}
    command = [sys.executable, "-m", "faulttree", "check", "tree-03.yaml", "tree-09.yaml", "--concise"]
    done = subprocess.run(command, cwd=folder, env=env, capture_output=True, text=True)
    assert {line.split(":")[0] for line in done.stdout.splitlines()} == {"tree-03.yaml", "tree-09.yaml"}


def test_a_number_that_is_none_is_refused(tmp_path: Path) -> None:
    assert outputs(library_in(tmp_path / "library"), -1)[0] == 2
