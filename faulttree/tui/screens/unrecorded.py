"""A move could not be recorded and does not count until it is: mend the cause, save elsewhere, or give it up."""

from __future__ import annotations

from collections.abc import Sequence

from faulttree.present.refusal import refusal
from faulttree.problems import FaulttreeError, JournalError
from faulttree.tui.canvas import Canvas
from faulttree.tui.rows import EMPTY_ROW, Row, paragraphs
from faulttree.tui.screens.ask import AskScreen
from faulttree.tui.screens.paged import Key, PagedScreen, heading
from faulttree.tui.session import Session


class UnrecordedScreen(PagedScreen[bool]):
    """Gives true once the move is recorded, false where it was given up."""

    title_of_help = "Not recorded"

    def __init__(self, session: Session, error: FaulttreeError) -> None:
        super().__init__()
        self.session = session
        self.error = error

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        lines = (refusal(self.error), "The last answer does not count until it is recorded.")
        told = paragraphs(self.told, canvas.width, "strong")
        body = paragraphs(lines, canvas.width)
        return (*self.above(canvas), *heading("NOT RECORDED", canvas), *body, EMPTY_ROW, *told)

    def keys(self) -> Sequence[Key]:
        return (
            Key("enter", "try again", "try to record it again"),
            Key("p", "put into a file", "save the walk up to here, without the last answer, as a file elsewhere"),
            *self.fallback_keys(),
            Key("b", "give it up", "go back to where the walk was, without the last answer"),
        )

    def pressed(self, key: str) -> None:
        if key == "p":
            self.later(self._save)
        elif key == "b":
            self.session.drop()
            self.dismiss(False)
        else:
            self._retry()

    def _retry(self) -> None:
        try:
            self.session.retry()
        except JournalError as error:
            self.error = error
            self.draw(("It could not be recorded this time either.",))
        else:
            self.dismiss(True)

    async def _save(self) -> None:
        path: str | None = await self.app.push_screen_wait(AskScreen("Save the walk as which file or in which folder?"))
        if path is None:
            return
        try:
            saved = self.session.save_copy(path)
        except FaulttreeError as error:
            self.draw((refusal(error),))
        else:
            self.draw((f"The walk up to here was saved in {saved}. The last answer is not in it.",))
