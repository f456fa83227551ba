"""A walk whose tree was withdrawn, in line mode: nothing of it is walked on."""

from __future__ import annotations

from functools import partial

from faulttree.cli.exits import ExitCode
from faulttree.cli.line_mode import Dialogue
from faulttree.cli.lines import show
from faulttree.cli.listening import word_anywhere
from faulttree.cli.output import out
from faulttree.keys import GIVE_UP, Kind
from faulttree.present import Block, hand_over_page
from faulttree.present.after import due_block
from faulttree.present.answer import ASKING, Aside, Meant, understand, whole_number
from faulttree.problems import MoveError
from faulttree.since import WHAT_NOW, WITHDRAWN
from faulttree.walk import HANDED_OVER

PROMPT = f'"{Kind.HAND_OVER} ROLE", "{GIVE_UP} WHY", "{Kind.TAKE_OVER}", or "{Kind.STOP}": '
KINDS = (Kind.HAND_OVER, Kind.STOP, Kind.TAKE_OVER, Kind.FALLBACK, Kind.NOTE)
"""The moves that can still be made: none that answers a step."""

WORDS = (*map(str, KINDS), GIVE_UP, "so far", "open", "help")
"""The words that help names."""


class Withdrawn(Dialogue):
    """It is handed over, given up, or left waiting. Taking over asks again what is open."""

    words = WORDS
    has_code = False

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
        page = hand_over_page(self.walk, self.practice, goes_on=False)
        show([Block("gate", (WITHDRAWN,)), *page, due_block(self.walk, self.times())])
        return ExitCode.DONE

    def _take_only(self, answer: str) -> None:
        """Judged by what was meant, for a finding may begin with any of the words."""
        meant = self._meant(answer)
        if isinstance(meant, Aside):
            self._aside(meant)
        else:
            self.move(self._whole(meant))

    def _meant(self, answer: str) -> Meant | Aside:
        refused = MoveError("the tree was withdrawn and is not walked on", f"type {PROMPT.rstrip(': ')}")
        # Numbers are those of answers to the step, which is not shown.
        if whole_number(answer) is not None:
            raise refused
        try:
            meant = understand(self.walk, word_anywhere(answer) or answer)
        except MoveError:
            # Only of giving up it is to be heard why it cannot be: what else may be typed at a step may not be here.
            if answer.casefold().startswith(GIVE_UP):
                raise
            raise refused from None
        is_meant = meant.move.kind in KINDS if isinstance(meant, Meant) else not meant.rest or meant.word in ASKING
        if not is_meant:
            raise refused
        return meant
