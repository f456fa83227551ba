"""What can be done here, found by its words: for whoever knows what they want and not which key it is."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events

from faulttree.searching import search, words_in
from faulttree.tui.canvas import Canvas
from faulttree.tui.rows import EMPTY_ROW, Row, paragraphs, rows_of
from faulttree.tui.screens.paged import Key, PagedScreen, heading, label

MOST = 9
LONGEST = 40


class ActionsScreen(PagedScreen[str | None]):
    """Gives the key of what was chosen, or None where the page was left."""

    title_of_help = "What can be done here"
    seen_first = False
    seen_beside = False
    has_letters = True
    key_of_fallback = "Esc, then key f"

    def __init__(self, keys: Sequence[Key]) -> None:
        super().__init__()
        self.offered = tuple(keys)
        self.typed = ""

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        rows = [*self.above(canvas), *heading("What do you want to do? Type a few words, then a digit.", canvas)]
        found = self._found()
        for at, key in enumerate(found[:MOST], 1):
            rows += rows_of(
                f"{key.does} (key {label(key.key)})", canvas.width, "plain", f"{at}  ", "   ", str(at), "key"
            )
        hidden = len(found) - MOST
        rows += paragraphs([f"{hidden} more; type a word"] if hidden > 0 else [], canvas.width, "faint")
        return (*rows, EMPTY_ROW, *rows_of(f"Looking for: {self.typed}_", canvas.width, "strong"))

    def _found(self) -> list[Key]:
        if not self.typed.strip():
            return list(self.offered)
        wordings = [(key.does, (key.name, *self._also(key)), (label(key.key),)) for key in self.offered]
        found = [self.offered[hit.at] for hit in search(self.typed.split(), wordings)]
        return sorted(found, key=lambda key: not _begins(words_in(self.typed), words_in(f"{key.name} {key.does}")))

    def _also(self, key: Key) -> tuple[str, ...]:
        """The library's own words for whoever is on the equipment, by which two of the keys are looked for."""
        occupant = self.ramp.beside.library.occupant if self.ramp.beside else None
        words = {"f": (occupant.first,), "o": (occupant.ask, occupant.off)} if occupant else {}
        return words.get(key.key, ())

    def keys(self) -> Sequence[Key]:
        numbered = [Key(str(at), "", key.does, shown=False) for at, key in enumerate(self._found()[:MOST], 1)]
        return (Key("escape", "back", "back; nothing is done"), Key("backspace", "rub out", "a letter"), *numbered)

    def on_key(self, event: events.Key) -> None:
        """Letters look for words; they may come twice and fast, as words do."""
        character = event.character or ""
        if event.key == "backspace":
            self._look_for(self.typed[:-1], event)
        elif event.key == "space" or (character.isprintable() and character.isalpha()):
            self._look_for(self.typed + character, event)

    def _look_for(self, typed: str, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if not self.is_typed_here(event):
            return
        self.typed = typed[:LONGEST]
        self.draw()

    def pressed(self, key: str) -> None:
        if key == "backspace":
            # As a key it comes to the letters; here it was tapped.
            self.typed = self.typed[:-1]
            self.draw()
        else:
            self.dismiss(None if key == "escape" else self._found()[int(key) - 1].key)


def named_keys(screen: PagedScreen[object]) -> list[Key]:
    """The keys of a screen that do something by themselves: no answers, and none that only rubs out or closes."""
    keys = screen.keys()
    return [key for key in keys if not key.answer and key.key not in ("enter", "escape", "backspace", "1-9")]


def _begins(typed: Sequence[str], words: Sequence[str]) -> bool:
    """Whether each word that was typed is the beginning of one of the words: these come before what is only like it."""
    return all(any(word.startswith(each) for word in words) for each in typed)
