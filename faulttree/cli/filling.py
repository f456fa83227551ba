"""The blanks of a walk's end, in line mode: asked for one by one, each with its sentence in sight."""

from __future__ import annotations

from faulttree.cli.closing import Make
from faulttree.cli.exits import ExitCode
from faulttree.cli.lines import Finished, Lines, show
from faulttree.present import Block
from faulttree.present.blanks import fill_in
from faulttree.present.filling import SKIP, asked_for
from faulttree.walk import Walk


def fill_in_blanks(walk: Walk, lines: Lines, make: Make) -> None:
    """Ask for each blank; what is typed is recorded, an empty line leaves the blank as it is."""
    for at in range(len(asked_for(walk))):
        # Anew each time: what was filled in before stands in its sentence.
        asked = asked_for(walk)[at]
        show([Block("text", (asked.sentence,))])
        typed = lines.read(f"{asked.question}, Enter or {SKIP} leaves it: ")
        if typed is None:
            raise Finished(ExitCode.DONE)
        if typed.strip() not in ("", SKIP):
            walk = make(fill_in(asked.blank, typed))
