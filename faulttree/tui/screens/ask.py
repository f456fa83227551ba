"""A line of text is asked for: a reading, a reason, a note."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.app import ComposeResult
from textual.widgets import Input

from faulttree.tui.canvas import Canvas
from faulttree.tui.help import F1
from faulttree.tui.rows import EMPTY_ROW, Row, paragraphs
from faulttree.tui.screens.paged import SCROLLING, Key, PagedScreen, heading
from faulttree.tui.widgets.line import Line
from faulttree.tui.widgets.paper import Paper


class AskScreen(PagedScreen[str | None]):
    """Gives the text, or None where it was left by Escape or by an empty line."""

    AUTO_FOCUS = "Line"
    title_of_help = "A line of text"
    has_letters = True
    key_of_fallback = "Esc, then key f"
    DEFAULT_CSS = """
    AskScreen > Paper { max-height: 80%; }
    """

    def __init__(self, question: str, before: Sequence[str] = (), typed: str = "") -> None:
        super().__init__()
        self.question = question
        self.before = tuple(before)
        self.typed = typed

    def compose(self) -> ComposeResult:
        paper, keys = super().compose()
        yield paper
        yield Line(self.typed, self.guard)
        yield keys

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        told = paragraphs(self.told, canvas.width, "strong")
        before = paragraphs(self.before, canvas.width)
        return (
            *self.above(canvas),
            *told,
            *before,
            *((EMPTY_ROW,) if before else ()),
            *heading(self.question, canvas),
        )

    def draw(self, told: Sequence[str] = ()) -> None:
        """The line stands directly below its question."""
        super().draw(told)
        self.query(Paper).first().take_own_height()

    def keys(self) -> Sequence[Key]:
        return (
            Key("enter", "take it", "take the line"),
            Key("escape", "back", "leave without it; an empty line as well"),
        )

    def on_key(self, event: events.Key) -> None:
        """All keys belong to the line, but Escape and those that move the page."""
        event.prevent_default()
        if event.key == "escape":
            event.stop()
            self.dismiss(None)
        elif event.key in ("up", "down", "pageup", "pagedown"):
            event.stop()
            self._move(*SCROLLING[event.key])
        elif event.key == F1 and self.guard.counts(F1, event.time):
            event.stop()
            self.show_help()

    def on_paste(self, event: events.Paste) -> None:
        """A paste goes into the line."""

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.dismiss(self.taken(event.value.strip()))

    def taken(self, typed: str) -> str | None:
        """What an entered line gives."""
        return typed or None

    def pressed(self, key: str) -> None:
        """Only taps come here."""
        self.dismiss(None if key == "escape" else self.taken(self.query_one(Line).value.strip()))


class FillScreen(AskScreen):
    """A blank to be filled in. Gives the text, empty where an empty line leaves the blank; None where it was left."""

    title_of_help = "A blank"

    def keys(self) -> Sequence[Key]:
        return (
            Key(
                "enter",
                "take it",
                "take the line, go on to the next blank; an empty line leaves it blank",
            ),
            Key("escape", "back", "leave the blanks that are left as they are"),
        )

    def taken(self, typed: str) -> str | None:
        """The text as well where it is empty."""
        return typed
