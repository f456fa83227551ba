"""The line that a text is typed in; what was typed before it was drawn is not taken."""

from __future__ import annotations

from rich.cells import cell_len
from textual import events
from textual.geometry import Region
from textual.widgets import Input

from faulttree.tui.guard import Guard


class Line(Input):
    """One line of text. Keys pressed before the page was drawn were meant for another page."""

    DEFAULT_CSS = """
    Line { height: 1; border: none; padding: 0; background: $background; color: $foreground; }
    Line:focus { border: none; background: $background; }
    """

    def __init__(self, value: str, guard: Guard) -> None:
        # What stands there already is the beginning of the text: the next letter goes behind it, not in its place.
        super().__init__(value, compact=True, select_on_focus=False)
        self.guard = guard
        self.cursor_blink = False

    async def _on_key(self, event: events.Key) -> None:
        ends = event.key in ("enter", "escape")
        early = not (self.guard.counts(event.key, event.time) if ends else self._is_typed_here(event))
        if early:
            event.stop()
            event.prevent_default()
            return
        await super()._on_key(event)

    def _is_typed_here(self, event: events.Key) -> bool:
        return self.guard.is_drawn(event.time) and not self.guard.is_held_over(event.key, event.time)

    def on_resize(self) -> None:
        """In a narrower window what is typed last stays in sight."""
        before = cell_len(self.value[: self.cursor_position])
        self.scroll_to_region(Region(before, 0, 1, 1), force=True, animate=False)

    def _on_paste(self, event: events.Paste) -> None:
        """The first line of what was pasted, without signs that cannot be seen: they would go into the record."""
        event.stop()
        event.prevent_default()
        line = next(iter(event.text.splitlines()), "")
        self.insert_text_at_cursor("".join(each if each.isprintable() else " " for each in line))
