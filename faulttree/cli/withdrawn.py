"""A walk whose tree was withdrawn, in line mode: nothing of it is walked on."""

from __future__ import annotations

from functools import partial

from faulttree.cli.exits import ExitCode
from faulttree.cli.line_mode import Dialogue
from faulttree.cli.lines import show
from faulttree.cli.output import out
from faulttree.keys import ASIDES, GIVE_UP, Kind
from faulttree.present import Block, hand_over_page
from faulttree.present.answer import Aside, understand
from faulttree.problems import MoveError
from faulttree.since import WHAT_NOW, WITHDRAWN
from faulttree.walk import HANDED_OVER

PROMPT = f'"{Kind.HAND_OVER} ROLE", "{GIVE_UP} WHY", "{Kind.TAKE_OVER}", or "{Kind.STOP}": '
WORDS = (Kind.HAND_OVER, GIVE_UP, Kind.TAKE_OVER, Kind.STOP, Kind.FALLBACK, Kind.NOTE, *ASIDES)
"""What can still be said: nothing that answers a step."""


class Withdrawn(Dialogue):
    """It is handed over, given up, or left waiting. Taking over asks again what is open."""

    def _until_left(self) -> ExitCode:
        """Ask what becomes of it until that is said."""
        told = None
        while (code := self.left()) is None:
            if told is not self.walk:
                show([Block("gate", (f"{WITHDRAWN} {WHAT_NOW}",))])
            told = self.walk
            out("")
            answer = self.typed.read(PROMPT)
            self._attempt(self._out_of_input if answer is None else partial(self._take_only, answer.strip()))
        return code

    def left(self) -> ExitCode | None:
        """As of any walk; the hand-over says that nothing comes next."""
        if self.walk.state != HANDED_OVER:
            return super().left()
        show([Block("gate", (WITHDRAWN,)), *hand_over_page(self.walk, self.practice, goes_on=False)])
        return ExitCode.DONE

    def _take_only(self, answer: str) -> None:
        if not answer.casefold().startswith(WORDS):
            raise MoveError("the tree was withdrawn and is not walked on", f"type {PROMPT.rstrip(': ')}")
        meant = understand(self.walk, answer)
        if isinstance(meant, Aside):
            self._aside(meant)
        else:
            self.move(self._whole(meant))
