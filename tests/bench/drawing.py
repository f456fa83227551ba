"""What drawing adds to the time that dot takes: figure, split, text, and the finished page, for a tree of sixty steps.

The tree is a generated one. dot's own time is that of all its runs for the drawing one after the other, given the
same texts by hand; the drawing's is that from the model to the finished pages, with dot's runs in it. Both take turns;
told are the shortest of each and what the drawing takes more, and the median of what it takes more in a round. Beside
it stands what dot takes for the tree as one graph, which nobody could read. Garbage is not collected meanwhile, as in
the program.
"""

from __future__ import annotations

import argparse
import gc
import shutil
import statistics
import subprocess
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from faulttree.cli import drawing
from faulttree.cli.running import Running
from faulttree.draw.dot import part_text
from faulttree.draw.figure import Figure
from faulttree.draw.make import Wish, figure_of
from faulttree.draw.parts import Room
from faulttree.draw.plan import plan_of
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
    parser.add_argument("--rounds", type=int, default=15, help="rounds; default: 15")
    parser.add_argument("--dot", default=shutil.which("dot"), help="the program; default: dot")
    parser.add_argument("--formats", nargs="+", default=["svg", "png"], help="default: svg png")
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
    for kind in args.formats:
        _measure(loaded.library, tree, variant, role, kind, args)


def _measure(library: Library, tree: Tree, variant: Variant, role: str, kind: str, args: argparse.Namespace) -> None:
    """Print dot's milliseconds alone, those of the whole drawing, and what is added."""
    asked: list[tuple[list[str], bytes]] = []
    finish = Running.finish

    def noted(running: Running, data: bytes) -> bytes:
        asked.append((list(running._process.args), data))  # type: ignore[arg-type]
        return finish(running, data)

    Running.finish = noted  # type: ignore[method-assign]
    alone, whole, one = [], [], []
    try:
        figure, pages = _drawn(library, tree, variant, role, kind, args)
        runs = tuple(asked)
        undivided = as_one(figure)
        for _ in range(args.rounds):
            alone.append(_timed(lambda: [subprocess.run(each, input=data, capture_output=True) for each, data in runs]))
            one.append(_timed(lambda: subprocess.run(runs[-1][0], input=undivided, capture_output=True)))
            whole.append(_timed(lambda: _drawn(library, tree, variant, role, kind, args)))
    finally:
        Running.finish = finish  # type: ignore[method-assign]
    more = statistics.median(one / other for one, other in zip(whole, alone, strict=True)) - 1
    print(
        f"{kind}, {len(figure.boxes)} steps, {len(pages)} parts: dot alone {min(alone) * 1000:.1f} ms in {len(runs)}"
        f" runs, the drawing {min(whole) * 1000:.1f} ms, {(min(whole) / min(alone) - 1) * 100:.1f} % more;"
        f" median of the rounds {more * 100:.1f} % more; dot for the tree as one graph {min(one) * 1000:.1f} ms"
    )


def as_one(figure: Figure) -> bytes:
    """The same steps as one graph with every route as an edge, as a tree is drawn that nobody divides."""
    lines = tuple(line._replace(drawn=True) for line in figure.lines)
    plan = plan_of(replace(figure, lines=lines), Room(1e9, 1e9))._replace(direct=frozenset(lines))
    return part_text(plan, plan.parts[0]).encode()


def _drawn(
    library: Library, tree: Tree, variant: Variant, role: str, kind: str, args: argparse.Namespace
) -> tuple[Figure, list[bytes]]:
    """A drawing as the command makes it: dot is begun, then comes the figure."""
    wrapped.cache_clear()
    with drawing.Layout(args.dot, "A3") as layout:
        layout.begin()
        figure = figure_of(library, replace(tree), variant, Wish(role))
        return figure, layout.pages(figure, kind)


def _timed(what: Callable[[], object]) -> float:
    gc.collect()
    gc.disable()
    begin = time.perf_counter()
    what()
    spent = time.perf_counter() - begin
    gc.enable()
    return spent
