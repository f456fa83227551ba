"""How long checking takes for a file: reading, shape, all rules, proof and open items of generated trees, one process.

Beside it, where they are installed, what a style checker and a schema checker take for the same files, each as one
command of its own. They do other work; the comparison only says what one pays for a proof.
"""

from __future__ import annotations

import argparse
import gc
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

import yaml

from faulttree.checking import check_library
from faulttree.library import load_library
from faulttree.load.schema import schema_text

from .generate import STEPS, generate

ROOT = Path(__file__).parents[2]


def main(words: Sequence[str]) -> None:
    """Generate, measure, print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench checking", allow_abbrev=False)
    parser.add_argument("--files", type=int, default=1000, help="trees; default: 1000")
    parser.add_argument("--seed", type=int, default=1, help="default: 1")
    parser.add_argument("--rounds", type=int, default=3, help="rounds of which the quickest counts; default: 3")
    parser.add_argument("--keep", metavar="DIR", help="generate into DIR and leave it there")
    parser.add_argument("--alone", action="store_true", help="no other programs")
    args = parser.parse_args(words)
    with tempfile.TemporaryDirectory() as temporary:
        folder = generate(Path(args.keep or Path(temporary) / "library"), args.files, args.seed)
        sizes = [path.stat().st_size for path in folder.glob("tree-*.yaml")]
        print(f"{len(sizes)} trees of {STEPS} steps, {sum(sizes) / len(sizes) / 1000:.2f} kB each, seed {args.seed}")
        ours = _parts(folder, args.rounds, len(sizes))
        print(
            f"{'yaml.load with CSafeLoader, for comparison':<44}{_plain_reading(folder, args.rounds):>9.2f} ms a file"
        )
        _processes(folder, args.rounds, len(sizes))
        if not args.alone:
            _others(folder, len(sizes), ours)


def _parts(folder: Path, rounds: int, files: int) -> float:
    """Seconds of loading and of rules with proof, in this process; returns those of both.

    Garbage is not collected meanwhile, as in the program.
    """
    loading = checking = float("inf")
    for _ in range(rounds):
        gc.collect()
        gc.disable()
        begin = time.perf_counter()
        loaded = load_library(folder)
        middle = time.perf_counter()
        problems = check_library(loaded)
        loading, checking = min(loading, middle - begin), min(checking, time.perf_counter() - middle)
        gc.enable()
        if problems or len(loaded.trees) != files:
            raise SystemExit(f"the generated trees are not sound: {problems[:3]}")
    for name, seconds in (("reading to model", loading), ("rules and proof", checking), ("both", loading + checking)):
        print(f"{name:<44}{seconds / files * 1000:>9.2f} ms a file")
    return loading + checking


def _processes(folder: Path, rounds: int, files: int) -> None:
    """Our command with one process and with two: the quickest of the rounds, taking turns.

    Beside it the processor time of the busiest process: on a machine that is busy otherwise, the time on the clock says
    more about the others. Two processes on free processors take about as long as the busier of them.
    """
    clock: dict[int, list[float]] = {1: [], 2: []}
    busiest: dict[int, list[float]] = {1: [], 2: []}
    for _ in range(rounds):
        for count in clock:
            command = [sys.executable, "-c", _BUSIEST, "check", str(folder), "--processes", str(count)]
            begin = time.perf_counter()
            done = subprocess.run(command, cwd=ROOT, env=_env(), capture_output=True, text=True, check=True)
            clock[count].append(time.perf_counter() - begin)
            busiest[count].append(float(done.stderr.split()[-1]))
    for count in clock:
        print(
            f"{f'faulttree check, processes: {count}':<44}{min(clock[count]) / files * 1000:>9.2f} ms a file"
            f"{min(busiest[count]) / files * 1000:>9.2f} ms of processor time of the busiest"
        )
    print(f"{'one against two, by the clock':<44}{min(clock[1]) / min(clock[2]):>9.2f} x")
    print(f"{'one against two, by processor time':<44}{min(busiest[1]) / min(busiest[2]):>9.2f} x")


_BUSIEST = """
import resource, sys
from faulttree.cli.main import main
main()
both = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
print(max(each.ru_utime + each.ru_stime for each in both), file=sys.stderr)
"""
"""The program, and afterwards the processor time of this process or of the one other, whichever is more."""


def _plain_reading(folder: Path, rounds: int) -> float:
    """Milliseconds a file of PyYAML's own quickest reading: how quick this machine is with such files."""
    texts = [path.read_bytes() for path in sorted(folder.glob("tree-*.yaml"))[:200]]
    times = [_timed(lambda: [yaml.load(text, Loader=yaml.CSafeLoader) for text in texts]) for _ in range(rounds)]
    return min(times) / len(texts) * 1000


def _others(folder: Path, files: int, ours: float) -> None:
    """The same files by other programs, and by our command with its start."""
    schema = folder / "tree.schema.json"
    schema.write_text(schema_text("tree"), encoding="utf-8")
    trees = sorted(str(path) for path in folder.glob("tree-*.yaml"))
    programs = {
        "faulttree check": [sys.executable, "-m", "faulttree", "check", str(folder)],
        "yamllint": [sys.executable, "-m", "yamllint", *trees],
        "check-jsonschema": [sys.executable, "-m", "check_jsonschema", "--schemafile", str(schema), *trees],
    }
    for name, command in programs.items():
        if not _is_there(command[2]):
            print(f"{name:<44}{'not installed':>9}")
            continue
        seconds = _timed(lambda command=command: subprocess.run(command, cwd=ROOT, env=_env(), capture_output=True))  # type: ignore[misc]
        print(f"{name + ', as a command':<44}{seconds / files * 1000:>9.2f} ms a file{seconds / ours:>8.1f} x both")


def _env() -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(ROOT)}


def _is_there(module: str) -> bool:
    from importlib.util import find_spec

    return find_spec(module) is not None


def _timed(call: Callable[[], object]) -> float:
    begin = time.perf_counter()
    call()
    return time.perf_counter() - begin
