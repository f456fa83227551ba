"""A question with numbered answers: who you are, which one it is, whether it is still so."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from faulttree.tui.canvas import Canvas
from faulttree.tui.rows import EMPTY_ROW, Row, paragraphs, rows_of
from faulttree.tui.screens.paged import Key, PagedScreen, heading, label

MOST = 9


class ChooseScreen(PagedScreen[int | None]):
    """Gives the index of the answer, or None where it was left. More than nine answers stand on further pages.

    ``other`` is a key, and an answer behind the others that it stands for. ``below`` is only to be read.
    """

    alike: ClassVar[dict[str, str]] = {"escape": "b"}

    def __init__(
        self,
        question: str,
        options: Sequence[str],
        before: Sequence[str] = (),
        leave: str = "back",
        other: tuple[str, str] | None = None,
        below: Sequence[str] = (),
    ) -> None:
        super().__init__()
        self.question = question
        self.options = tuple(options)
        self.before = tuple(before)
        self.leave = leave
        self.other = other
        self.below = tuple(below)
        self.first = 0

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        rows = [*self.above(canvas), *paragraphs(self.told, canvas.width, "strong")]
        rows += paragraphs(self.before, canvas.width)
        rows += [EMPTY_ROW] if rows else []
        rows += [*heading(self.question, canvas), EMPTY_ROW]
        for at, option in enumerate(self.options[self.first : self.first + MOST], 1):
            rows += rows_of(option, canvas.width, "plain", f"{at}  ", "   ", str(at), "key")
        if len(self.options) > MOST:
            last = min(self.first + MOST, len(self.options))
            rows += rows_of(
                f"{self.first + 1} to {last} of {len(self.options)}",
                canvas.width,
                "faint",
                "x  next ones; ",
                "   ",
                "x",
                "key",
            )
        if self.other:
            key, words = self.other
            rows += rows_of(words, canvas.width, "plain", f"{label(key)}  ", " " * (len(label(key)) + 2), key, "key")
        rows += [EMPTY_ROW] if self.below else []
        return [*rows, *paragraphs(self.below, canvas.width)]

    def keys(self) -> Sequence[Key]:
        here = self.options[self.first : self.first + MOST]
        numbered = [Key(str(at), "", option, shown=False, answer=True) for at, option in enumerate(here, 1)]
        other = [Key(self.other[0], "", self.other[1], shown=False, answer=True)] if self.other else []
        more = [Key("x", "next ones", "the next answers")] if len(self.options) > MOST else []
        return (
            Key("b", self.leave, "leave this question; Esc as well"),
            *self.fallback_keys(),
            *more,
            *numbered,
            *other,
        )

    def pressed(self, key: str) -> None:
        if key == "b":
            self.dismiss(None)
        elif self.other and key == self.other[0]:
            self.dismiss(len(self.options))
        elif key == "x":
            self.first = self.first + MOST if self.first + MOST < len(self.options) else 0
            self.draw()
        else:
            self.dismiss(self.first + int(key) - 1)
