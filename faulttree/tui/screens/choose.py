"""A question with numbered answers: who you are, which one it is, whether it is still so."""

from __future__ import annotations

from collections.abc import Sequence

from faulttree.tui.canvas import Canvas
from faulttree.tui.rows import EMPTY_ROW, Row, paragraphs, rows_of
from faulttree.tui.screens.paged import Key, PagedScreen, heading, practice_row

MOST = 9


class ChooseScreen(PagedScreen[int | None]):
    """Gives the index of the answer, or None where it was left. More than nine answers stand on further pages."""

    def __init__(
        self, question: str, options: Sequence[str], before: Sequence[str] = (), leave: str = "back", enter: str = ""
    ) -> None:
        super().__init__()
        self.question = question
        self.options = tuple(options)
        self.before = tuple(before)
        self.leave = leave
        self.enter = enter
        """What Enter stands for, as an answer of its own behind the others; empty where it stands for nothing."""
        self.first = 0

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        rows = [*practice_row(canvas), *paragraphs(self.told, canvas.width, "strong")]
        rows += paragraphs(self.before, canvas.width)
        rows += [EMPTY_ROW] if rows else []
        rows += [*heading(self.question, canvas), EMPTY_ROW]
        for at, option in enumerate(self.options[self.first : self.first + MOST], 1):
            rows += rows_of(option, canvas.width, "plain", f"{at}  ", "   ", str(at), "key")
        if self.enter:
            rows += rows_of(self.enter, canvas.width, "plain", "Enter  ", "       ", "enter", "key")
        return rows

    def keys(self) -> Sequence[Key]:
        here = self.options[self.first : self.first + MOST]
        numbered = [Key(str(at), "", option, shown=False, answer=True) for at, option in enumerate(here, 1)]
        enter = [Key("enter", self.enter, self.enter, answer=True)] if self.enter else []
        more = [Key("x", "next ones", "the next answers")] if len(self.options) > MOST else []
        return (Key("b", self.leave, "leave this question"), *enter, *more, *numbered)

    def pressed(self, key: str) -> None:
        if key == "b":
            self.dismiss(None)
        elif key == "enter":
            self.dismiss(len(self.options))
        elif key == "x":
            self.first = self.first + MOST if self.first + MOST < len(self.options) else 0
            self.draw()
        else:
            self.dismiss(self.first + int(key) - 1)
