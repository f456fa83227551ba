"""What drawing adds to the time that dot takes: figure, split, text, and the finished page, for a tree of sixty steps.

The tree is a generated one. dot's own time is that of all its runs for the drawing, its start included; added is
all other time in one process, from the model to the finished pages. Garbage is not collected meanwhile, as in the
program.
"""

from __future__ import annotations

import argparse
import gc
import shutil
import statistics
import subprocess
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from faulttree.cli import drawing
from faulttree.draw.make import Wish, figure_of
from faulttree.draw.text import wrapped
from faulttree.library import load_library
from faulttree.model import Library, Tree, Variant
from faulttree.value import replace

from . import generate as made


def main(words: Sequence[str]) -> None:
    """Generate, measure, print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench drawing", allow_abbrev=False)
    parser.add_argument("--causes", type=int, default=29, help="causes of the tree; 29 make 60 steps; default: 29")
    parser.add_argument("--seed", type=int, default=1, help="default: 1")
    parser.add_argument("--rounds", type=int, default=15, help="rounds, of which the median counts; default: 15")
    parser.add_argument("--dot", default=shutil.which("dot"), help="the program; default: dot")
    args = parser.parse_args(words)
    if not args.dot:
        raise SystemExit("the program dot is not installed")
    made.CAUSES = args.causes
    with tempfile.TemporaryDirectory() as temporary:
        loaded = load_library(made.generate(Path(temporary) / "library", 1, args.seed))
    if loaded.library is None or not loaded.trees:
        raise SystemExit(f"the generated tree is not sound: {loaded.problems[:3]}")
    tree = next(iter(loaded.trees.values()))
    variant = next(iter(tree.variants.values()))
    role = list(loaded.library.roles)[1]
    for kind in ("svg", "png"):
        _measure(loaded.library, tree, variant, role, kind, args)


def _measure(library: Library, tree: Tree, variant: Variant, role: str, kind: str, args: argparse.Namespace) -> None:
    """Print dot's milliseconds, ours, and their ratio."""
    spent: list[float] = []
    run = drawing.run_program

    def timed(command: Sequence[str], data: bytes) -> bytes:
        begin = time.perf_counter()
        done = subprocess.run(list(command), input=data, capture_output=True, check=True).stdout
        spent.append(time.perf_counter() - begin)
        return done

    drawing.run_program = timed
    try:
        ratios, ours, theirs, runs = [], [], [], 0
        for _ in range(args.rounds):
            spent.clear()
            wrapped.cache_clear()
            gc.collect()
            gc.disable()
            begin = time.perf_counter()
            figure = figure_of(library, replace(tree), variant, Wish(role))
            pages = drawing.Layout(args.dot, "A3").pages(figure, kind)
            whole = time.perf_counter() - begin
            gc.enable()
            ours.append(whole - sum(spent))
            theirs.append(sum(spent))
            ratios.append(ours[-1] / theirs[-1])
            runs = len(spent)
    finally:
        drawing.run_program = run
    what = f"{kind}, {len(figure.boxes)} steps, {len(pages)} parts"
    print(
        f"{what}: dot {statistics.median(theirs) * 1000:.0f} ms in {runs} runs,"
        f" ours {statistics.median(ours) * 1000:.1f} ms, {statistics.median(ratios) * 100:.1f} % of dot's"
    )
