"""A walk whose tree was withdrawn, in line mode: nothing of it is walked on."""

from __future__ import annotations

from faulttree.cli.exits import ExitCode
from faulttree.cli.line_mode import Dialogue
from faulttree.cli.lines import Finished, refuse, wrapped
from faulttree.cli.output import out
from faulttree.keys import GIVE_UP, Kind
from faulttree.present.answer import Aside, Meant, understand
from faulttree.problems import MoveError
from faulttree.since import WHAT_NOW, WITHDRAWN

PUT_DOWN = (Kind.HAND_OVER, Kind.STOP, Kind.NOTE)
"""What can still be done, beside what changes no step: to take over, which asks what is open, and the fallback."""


WORDS = f'"{Kind.HAND_OVER} ROLE", "{GIVE_UP} WHY", "{Kind.TAKE_OVER}", or "{Kind.STOP}": '


class Withdrawn(Dialogue):
    """It is handed over, given up, or left waiting."""

    def run(self) -> ExitCode:
        """Ask what becomes of it until that is said."""
        while (code := self.left()) is None:
            out("")
            out(wrapped(f"{WITHDRAWN} {WHAT_NOW}"))
            out("")
            answer = self.lines.read(WORDS)
            try:
                self._take_only(understand(self.walk, str(Kind.STOP) if answer is None else answer))
            except MoveError as error:
                refuse(self.lines, error)
            except Finished as finished:
                return finished.code
        return code

    def _take_only(self, meant: Meant | Aside) -> None:
        if isinstance(meant, Aside):
            self.aside(meant)
        elif meant.move.kind in PUT_DOWN:
            self.move(self.whole(meant))
        else:
            raise MoveError("the tree was withdrawn and is not walked on", WHAT_NOW.rstrip("."))
