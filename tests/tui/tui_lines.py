"""The same walks in line mode: a person who types the moves that another one made by keys, and the journals of both."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterable, Iterator
from contextlib import redirect_stdout
from functools import cache
from io import StringIO
from pathlib import Path
from typing import Any

from tui_runs import folder_of

from faulttree.cli.beginning import begun as in_lines_begun
from faulttree.cli.line_mode import Dialogue
from faulttree.cli.listening import Beforehand
from faulttree.cli.resuming import resumed
from faulttree.journal import Facts, Journal
from faulttree.keys import OFF, ON, Kind, Move
from faulttree.library import load_tree
from faulttree.model import Library
from faulttree.present.over import WHO_CLOSED
from faulttree.present.reading import ALSO_READ
from faulttree.sessions import Ready, line_times, now, started
from faulttree.walk import Walk

YES, NO, NOT_ANSWERED = "1", "2", ""
OCCUPANT = {ON: YES, OFF: NO, "": NOT_ANSWERED}
ANEW = {Kind.OCCUPANT_ON: YES, Kind.OCCUPANT_OFF: NO}
LEAVING = (Kind.STOP, Kind.HAND_OVER)
OTHERS = {"walk", "uuid", "at", "prev", "digest"}
"""What differs between two journals of the same walk: its id, the times, and the chain that is made of them."""


class Typist:
    """Somebody at a terminal who is asked, and answers what these moves say. An answer that is refused fails."""

    strict = True
    attended = True

    def __init__(self, library: Library, moves: Iterable[Move]) -> None:
        self.library = library
        self.moves = list(moves)
        self.move = Move(Kind.STOP)
        self.readings: list[str] = []
        self.names: Iterator[str] = iter(())

    def place(self) -> str:
        return f"at {self.move}: "

    def read(self, prompt: str) -> str | None:
        asked = self.library.occupant.ask if self.library.occupant else "nobody"
        if prompt.startswith(asked):
            return self._occupant()
        if "Enter for the next one" in prompt or "Enter to go on" in prompt:
            return ""
        if prompt.startswith("Which line worked?"):
            return str(self.move.line)
        if "Is this still so?" in prompt:
            closed = [self.library.open_items[name].text.rstrip(".") for name in self.move.closed]
            is_closed = [text in prompt for text in closed]
            self.names = (who for so, who in zip(is_closed, self.move.closed_by, strict=False) if so)
            return NO if any(is_closed) else YES
        if prompt.startswith(WHO_CLOSED):
            return next(self.names)
        if prompt.startswith("By the clock"):
            return YES
        if "With its unit" in prompt:
            return self.readings.pop(0)
        assert prompt == "> " or prompt.endswith("or Enter to leave: "), prompt
        return self._next()

    def _occupant(self) -> str:
        """Where somebody takes over, as the move says; after the fallback, as the move that follows says."""
        if self.move.kind == Kind.TAKE_OVER:
            return OCCUPANT[self.move.occupant]
        return ANEW[self.moves.pop(0).kind] if self.moves and self.moves[0].kind in ANEW else NOT_ANSWERED

    def _next(self) -> str:
        if not self.moves:
            return ""
        self.move = self.moves.pop(0)
        move = self.move
        self.readings = [*move.text.removeprefix(ALSO_READ).split(", "), move.value] if move.text else [move.value]
        if move.kind == Kind.FALLBACK:
            return "fallback"
        if move.kind == Kind.TAKE_OVER:
            return f"take over {move.role}"
        if move.kind == Kind.READING:
            return f"reading {self.readings.pop(0)}"
        if move.kind == Kind.WAITED:
            return str(move.kind)
        return f"{move.kind} {move.label or move.text or move.item or move.to}".strip()


@cache
def ready(tree: str) -> Ready:
    """The tree and its library, loaded as they are for a walk."""
    loaded = load_tree(folder_of(tree), tree)
    assert loaded.library is not None
    return Ready(loaded, loaded.library, loaded.trees[tree])


def by_lines(folder: Path, tree: str, first: Move, moves: Iterable[Move]) -> tuple[Walk, str, Path]:
    """The walk that line mode makes of these moves, all that it printed, and its journal.

    Where it was left, the same walk is resumed by its id, and whoever resumes answers what is asked of them.
    """
    typist = Typist(ready(tree).library, moves)
    printed = StringIO()
    journal, walk = started(folder, ready(tree), first, Facts())
    with redirect_stdout(printed):
        walk = _talked(journal, walk, typist)
        while typist.moves and walk.log[-1].move.kind in LEAVING:
            typist.move = typist.moves.pop(0)
            args = argparse.Namespace(resume=journal.id, role=typist.move.role, library=folder_of(tree))
            journal, walk, _ = resumed(args, folder, Beforehand(typist))
            walk = _talked(journal, walk, typist)
    assert not typist.moves, f"line mode came to its end before {typist.moves}"
    return walk, printed.getvalue(), journal.path


def begun_by_lines(folder: Path, tree: str, role: str, model: str, occupant: str) -> Path:
    """The journal of a walk that was begun in line mode as the command line begins it."""
    typist = Typist(ready(tree).library, ())
    typist.move = Move(Kind.TAKE_OVER, occupant=occupant)
    said = {"tree": tree, "role": role, "model": model, "library": folder_of(tree), "readback": None}
    facts = {"practice": False, "aircraft": "", "item": "", "base": ""}
    with redirect_stdout(StringIO()):
        journal, _ = in_lines_begun(argparse.Namespace(**said, **facts), folder, Beforehand(typist))
    journal.close()
    return journal.path


def _talked(journal: Journal, walk: Walk, typist: Typist) -> Walk:
    with journal:
        dialogue = Dialogue(
            walk,
            lambda after: journal.append(after, now()),
            str,
            typist,
            practice=False,
            times=lambda: line_times(journal.recorded),
        )
        dialogue.run()
    return dialogue.walk


def journal_lines(path: Path) -> Iterator[dict[str, Any]]:
    """The lines of a journal but for its times, its id and the chain."""
    for line in path.read_text(encoding="utf-8").splitlines():
        yield {key: value for key, value in json.loads(line).items() if key not in OTHERS}
