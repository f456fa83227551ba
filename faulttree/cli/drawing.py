"""Running the program that lays drawings out, and choosing pages by what it measured."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from faulttree.draw.dot import part_text
from faulttree.draw.figure import Figure
from faulttree.draw.paper import Placed, place
from faulttree.draw.plan import SHRINK, Plan, planned
from faulttree.draw.svg import Laid, laid, pages
from faulttree.problems import UnreadableError, UsageError

SECONDS = 60
MOST_BYTES = 4_000_000
"""More text than this is no tree that anybody could review."""

PAD = 4.0
"""What graphviz leaves free at each side of a drawing, in points; it is part of the size that it says."""

DPI = 150
PURE = "graphviz-pure"
INSTALL = (
    "install graphviz (apt-get install graphviz; brew install graphviz; winget install graphviz), "
    "or for svg and png: pip install 'faulttree[draw]'; --format dot and --format list need neither"
)


class Layout:
    """A program that lays out, and the largest page."""

    def __init__(self, program: str | None, paper: str) -> None:
        self.paper = paper
        self.program = find_program(program)

    def pages(self, figure: Figure, kind: str) -> list[bytes]:
        """The files of a drawing: one for each part, of pdf one with all."""
        if kind == "pdf" and Path(self.program).stem == PURE:
            raise UsageError(f"{PURE} makes no pdf", "install graphviz, or choose svg and print it from a browser")
        plan, drawn = self._laid_out(figure)
        placed = [place(each.wide, each.high, self.paper) for each in drawn]
        if kind == "svg":
            return [text.encode() for text in pages(plan, drawn, placed)]
        texts = [
            on_page(part_text(plan, part), each, where)
            for part, each, where in zip(plan.parts, drawn, placed, strict=True)
        ]
        if kind == "pdf":
            return [self.run("\n".join(texts), kind)]
        return [self.run(text, kind) for text in texts]

    def _laid_out(self, figure: Figure) -> tuple[Plan, list[Laid]]:
        """The figure in parts that can be read on the largest page; a smaller split where the first ones do not fit."""
        best: tuple[Plan, list[Laid]] | None = None
        tried: set[tuple[object, ...]] = set()
        for shrink in SHRINK:
            plan = planned(figure, self.paper, shrink)
            if plan.parts in tried:
                continue
            tried.add(plan.parts)
            drawn = list(self._svgs(plan))
            best = plan, drawn
            if all(place(each.wide, each.high, self.paper).legible for each in drawn):
                break
        assert best is not None
        return best

    def _svgs(self, plan: Plan) -> Iterator[Laid]:
        """All parts by one run of the program."""
        text = self.run("\n".join(part_text(plan, part) for part in plan.parts), "svg").decode()
        ends = text.split("</svg>")
        yield from (laid(each + "</svg>") for each in ends[:-1])

    def run(self, text: str, kind: str) -> bytes:
        """What the program makes of ``text``."""
        data = text.encode()
        if len(data) > MOST_BYTES:
            raise UsageError("this tree is too large to be drawn", "draw it for one model and as one role, or split it")
        return run_program([self.program, f"-T{kind}", *([f"-Gdpi={DPI}"] if kind == "png" else [])], data)


def on_page(text: str, drawn: Laid, placed: Placed) -> str:
    """A graph's text with its page: the drawing is made smaller and put in the middle."""
    across, down = placed.paper.points
    left = ((across / placed.scale - drawn.wide) / 2 + PAD) / 72
    above = ((down / placed.scale - drawn.high) / 2 + PAD) / 72
    size = f'  graph [size="{across / 72:.4f},{down / 72:.4f}", pad="{left:.4f},{above:.4f}"];\n'
    first, rest = text.split("\n", 1)
    return f"{first}\n{size}{rest}"


def find_program(named: str | None) -> str:
    """The program to run: the one that is named, else the system's dot, else that of the extra.

    Raises `UnreadableError` where there is none.
    """
    if named:
        try:
            found = shutil.which(named)
        except ValueError:
            found = None
        if not found:
            raise UnreadableError(f'there is no program "{named}"', "name the program dot of graphviz after --dot")
        return found
    beside = str(Path(sys.executable).parent)
    found = shutil.which("dot") or shutil.which(PURE) or shutil.which(PURE, path=beside)
    if not found:
        raise UnreadableError("there is no program to lay out drawings", INSTALL)
    return found


def run_program(command: Sequence[str], data: bytes) -> bytes:
    """Run a program on ``data``; raises `UnreadableError` where it fails, or takes too long."""
    try:
        done = subprocess.run(list(command), input=data, capture_output=True, timeout=SECONDS, check=False)
    except subprocess.TimeoutExpired:
        raise UnreadableError(
            f"the drawing took longer than {SECONDS} seconds",
            "draw it for one model and as one role, or as --format dot",
        ) from None
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise UnreadableError(f'"{command[0]}" cannot be run: {reason}', INSTALL) from None
    if done.returncode or not done.stdout:
        said = done.stderr.decode(errors="replace").strip().splitlines()
        raise UnreadableError(f'"{command[0]}" could not draw it: {said[0] if said else "it said nothing"}', INSTALL)
    return done.stdout
