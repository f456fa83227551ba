"""How long commands take to start, as ratios against ``python -c pass`` on the same machine in the same run.

The runs of all commands take turns, so that whatever else the machine does meets all alike.
Compiled files go to a folder of their own and are made before anything is measured.
"""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "tests" / "sample"
ONE_FILE = SAMPLE / "lamp-does-not-light.yaml"
BARE = "python -c pass"


def main(words: Sequence[str]) -> None:
    """Measure and print a table."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench startup", allow_abbrev=False)
    parser.add_argument("--runs", type=int, default=41, help="runs of each command; default: 41")
    runs = parser.parse_args(words).runs
    with tempfile.TemporaryDirectory() as folder:
        library = sixteen_trees(Path(folder) / "library")
        figures = measured(commands(library), runs, environment(Path(folder) / "compiled"))
    bare = statistics.median(figures[BARE])
    print(f"{runs} runs each, Python {sys.version.split()[0]}, {os.cpu_count()} processors")
    print(f"{'command':<36}{'median ms':>10}{'ratio':>7}{'least ms':>10}{'ratio':>7}")
    for name, times in figures.items():
        median = statistics.median(times)
        least = min(times)
        ratios = median / bare, least / min(figures[BARE])
        print(f"{name:<36}{median * 1000:>10.1f}{ratios[0]:>7.2f}{least * 1000:>10.1f}{ratios[1]:>7.2f}")


def commands(library: Path) -> dict[str, list[str]]:
    """What is measured, by the words of the table."""
    run = [sys.executable, "-m", "faulttree"]
    return {
        BARE: [sys.executable, "-c", "pass"],
        "faulttree --version": [*run, "--version"],
        "faulttree --help": [*run, "--help"],
        "faulttree symptoms (16 trees)": [*run, "--library", str(library), "symptoms"],
        "faulttree symptoms WORDS (16 trees)": [*run, "--library", str(library), "symptoms", "lmp", "dark"],
        "faulttree check ONE-FILE": [*run, "check", str(ONE_FILE)],
    }


def sixteen_trees(folder: Path) -> Path:
    """A library of sixteen trees: the sample's tree under sixteen names."""
    shutil.copytree(SAMPLE, folder)
    text = (folder / ONE_FILE.name).read_text(encoding="utf-8")
    (folder / ONE_FILE.name).unlink()
    for number in range(1, 17):
        id = f"lamp-{number}-does-not-light"
        short = "LM" + "ABCDEFGHJKLMNPQR"[number - 1]
        changed = text.replace("id: lamp-does-not-light", f"id: {id}").replace("short: LMP", f"short: {short}")
        (folder / f"{id}.yaml").write_text(changed, encoding="utf-8")
    return folder


def environment(compiled: Path) -> dict[str, str]:
    """The environment with compiled files of our own."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPYCACHEPREFIX": str(compiled)}


def measured(commands: dict[str, list[str]], runs: int, env: dict[str, str]) -> dict[str, list[float]]:
    """The seconds of each run by command, after two runs that are not counted."""
    times: dict[str, list[float]] = {name: [] for name in commands}
    for at in range(runs + 2):
        for name, command in commands.items():
            begin = time.perf_counter()
            done = subprocess.run(command, env=env, cwd=ROOT, capture_output=True, check=False)
            if done.returncode:
                raise SystemExit(f"{name} ended with {done.returncode}: {done.stderr.decode()}")
            if at > 1:
                times[name].append(time.perf_counter() - begin)
    return times
