"""Running the program that lays drawings out, and choosing pages by what it measured."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

from faulttree.cli.running import INSTALL, Running
from faulttree.draw.dot import part_text
from faulttree.draw.figure import Figure
from faulttree.draw.paper import Placed, place
from faulttree.draw.plan import SHRINK, Plan, planned
from faulttree.draw.svg import Laid, laid, pages
from faulttree.problems import UnreadableError, UsageError

MOST_BYTES = 4_000_000
"""More text than this is no tree that anybody could review."""

PAD = 4.0
"""What graphviz leaves free at each side of a drawing, in points; it is part of the size that it says."""

DPI = 150
PURE = "graphviz-pure"


class Layout:
    """A program that lays out, and the largest page. A context: at its end nothing that was begun is left running."""

    def __init__(self, program: str | None, paper: str) -> None:
        self.paper = paper
        self.program = find_program(program)
        self._begun: Running | None = None

    def __enter__(self) -> Layout:
        return self

    def __exit__(self, *_: object) -> None:
        if self._begun:
            self._begun.end()

    def begin(self) -> None:
        """Let the program start for the next drawing, so that it is ready when its text is."""
        if self._begun is None:
            self._begun = Running(self._command("svg"))

    def pages(self, figure: Figure, kind: str) -> list[bytes]:
        """The files of a drawing: one for each part, of pdf one with all."""
        if kind == "pdf" and Path(self.program).stem == PURE:
            raise UsageError(f"{PURE} makes no pdf", "install graphviz, or choose svg and print it from a browser")
        self.begin()
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
        if kind == "svg" and self._begun:
            begun, self._begun = self._begun, None
            return begun.finish(data)
        return Running(self._command(kind)).finish(data)

    def _command(self, kind: str) -> list[str]:
        return [self.program, f"-T{kind}", *([f"-Gdpi={DPI}"] if kind == "png" else [])]


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
