"""The first screen: what waits, and what is wrong. A digit picks a symptom; letters look for one by its words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from textual import events

from faulttree.library import list_headers
from faulttree.problems import FaulttreeError
from faulttree.symptoms import Listed, find, listed, nothing_like, ranks
from faulttree.tui.canvas import Canvas
from faulttree.tui.practice import practice_row
from faulttree.tui.rows import EMPTY_ROW, Row, paragraphs, rows_of
from faulttree.tui.screens.paged import Key, PagedScreen, heading

MOST = 9
MOST_WAITING = 3
PART_FOR_WAITING = 3
"""Walks that wait take one row of so many, but one walk is shown always: what is wrong is asked on the same screen."""
LONGEST = 60
BY_NUMBER = "Nothing is begun by Enter here. Choose by its number."


class FindScreen(PagedScreen[None]):
    """Symptoms in order of urgency, and the walks that wait. It stays below all other screens."""

    title_of_help = "Find what is wrong"
    seen_first = False
    seen_beside = False

    def __init__(self, library: Path, walks: Path, role: str = "") -> None:
        super().__init__()
        self.role = role
        self.library = library
        self.walks = walks
        self.typed = ""
        self.first = 0
        self.symptoms: list[Listed] = []
        self.waiting: list[str] = []
        """The walks that wait, or are over and have left a hazard open, in words."""
        self.over = ""
        """How many others are over and have left something open, in words; empty where none has."""
        self.trouble: tuple[str, ...] = ()

    def on_screen_resume(self) -> None:
        """What waits may be another now, and what was looked for is found: the page is always made anew."""
        if self.was_left:
            self.look_again()

    def look_again(self) -> None:
        """Make the page anew, after what waits has changed."""
        self.read()
        self.draw()

    def on_mount(self) -> None:
        self.read()
        super().on_mount()

    def read(self) -> None:
        """Look again what waits and which trees there are."""
        self.first, self.trouble = 0, ()
        try:
            headers = list_headers(self.library)
            self.symptoms = listed(self.library, headers)
            unread = [path.name for path, header in headers if header is None]
            if unread:
                self.trouble = (f"Left out, as they cannot be read: {', '.join(unread)}. faulttree check says why.",)
            found = _waiting(self.walks, self.role, ranks(self.library, headers)) if self.walks.exists() else ([], "")
            self.waiting, self.over = found
        except FaulttreeError as error:
            self.trouble = (f"{error.what}; {error.advice}",)
        except OSError as error:
            self.trouble = (f"The folder of walks cannot be read: {(error.strerror or str(error)).lower()}.",)

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        rows = [*practice_row(canvas), *paragraphs((*self.trouble, *self.told), canvas.width, "strong")]
        rows += self._waiting_rows(canvas)
        rows += heading("What is wrong?", canvas)
        found, note = self._found()
        rows += paragraphs([note] if note else [], canvas.width, "strong")
        for at, each in enumerate(found[self.first : self.first + MOST], 1):
            rows += _symptom_rows(at, each, canvas)
        if len(found) > MOST:
            rows += rows_of(f"{len(found)} symptoms in all; Tab for the next ones", canvas.width, "faint")
        looking = f"Looking for: {self.typed}_" if self.typed else "Type a few words to look for one."
        return (*rows, EMPTY_ROW, *rows_of(looking, canvas.width, "strong" if self.typed else "faint"))

    def _waiting_rows(self, canvas: Canvas) -> list[Row]:
        """The walks that press most, one key for all that wait: it leads to the list of them."""
        if not (self.waiting or self.over):
            return []
        count = len(self.waiting)
        title = f"{'One walk waits or has' if count == 1 else f'{count} walks wait or have'} left something open"
        # What these left is no danger: however many they are, they take a row, and the symptoms the others.
        title = f"{title}. Go on with one:" if count else self.over
        rows = list(rows_of(title, canvas.width, "strong", "0  ", "   ", "0", "key"))
        shown = 0
        for each in self.waiting[:MOST_WAITING]:
            row = rows_of(each, canvas.width, "plain", "   ", "   ", "0")
            if shown and len(rows) + len(row) > canvas.height // PART_FOR_WAITING:
                break
            rows += row
            shown += 1
        more = [f"{count - shown} more"] if count > shown else []
        more += [self.over] if count and self.over else []
        if more:
            rows += rows_of(f"and {', '.join(more)}", canvas.width, "plain", "   ", "   ", "0")
        return [*rows, EMPTY_ROW]

    def _found(self) -> tuple[list[Listed], str]:
        if not self.typed.strip():
            return self.symptoms, "" if self.symptoms else "The library has no tree."
        found = find(self.typed.split(), self.symptoms)
        if not found:
            # All of them, by the numbers that they have on this page: the nearest to nonsense is near to nothing.
            return self.symptoms, nothing_like(self.typed)
        return found, "" if found[0].fits else f'Not all of "{self.typed}" fits. The nearest:'

    def _only_one(self) -> bool:
        """Whether the words leave one symptom, and all of them fit it."""
        found = find(self.typed.split(), self.symptoms)
        return len(found) == 1 and found[0].fits

    def keys(self) -> Sequence[Key]:
        found, _ = self._found()
        here = found[self.first : self.first + MOST]
        numbered = [Key(str(at), "", each.symptom, shown=False, answer=True) for at, each in enumerate(here, 1)]
        waits = [Key("0", "waiting", "the walks that wait")] if self.waiting or self.over else []
        code = [Key("f3", "code", "go on from a read-back code that was read to you", shown=not self.typed)]
        more = [Key("tab", "next", "the next symptoms")] if len(found) > MOST else []
        clear = [Key("backspace", "rub out", "rub out a letter of the words")] if self.typed else []
        leave = Key("ctrl+q", "leave", "leave the program", shown=not self.typed)
        return (Key("1-9", "choose", "the symptom of that number"), *waits, *more, *clear, leave, *code, *numbered)

    def on_key(self, event: events.Key) -> None:
        """Letters look for words; they may come twice and fast, as words do. Other keys do what they do everywhere."""
        character = event.character or ""
        if event.key == "space" and self.typed:
            self._look_for(f"{self.typed} ", event)
        elif event.key == "backspace" and self.typed:
            self._look_for(self.typed[:-1], event)
        elif event.key == "enter" and self.typed:
            event.stop()
            event.prevent_default()
            if self.guard.counts("enter", event.time):
                # Enter begins nothing that was only near to what was typed: that takes its number.
                self.press("1") if self._only_one() else self.draw((BY_NUMBER,))
        elif character.isprintable() and character.isalpha():
            self._look_for(self.typed + character, event)

    def _look_for(self, typed: str, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if not self.is_typed_here(event):
            return
        self.typed, self.first = typed[:LONGEST], 0
        self.draw()

    def pressed(self, key: str) -> None:
        app = self.ramp
        found, _ = self._found()
        if key == "0":
            app.take_up()
        elif key == "f3":
            app.ask_code()
        elif key == "tab":
            self.first = self.first + MOST if self.first + MOST < len(found) else 0
            self.draw()
        elif key == "backspace":
            self.typed, self.first = self.typed[:-1], 0
            self.draw()
        elif key == "ctrl+q":
            app.action_leave()
        elif key.isdigit() and self.first + int(key) <= len(found):
            app.begin(found[self.first + int(key) - 1].id)
        else:
            # The digits in the row of keys were tapped: that is none of them, and the page stands again.
            self.draw(self.told)


def _waiting(walks: Path, role: str, urgent: Mapping[str, int]) -> tuple[list[str], str]:
    """Loaded only where there are walks: it takes a part of the first page's time."""
    from faulttree.waiting import over_words, waiting, waiting_words

    found = waiting(walks, role, urgent)
    return [waiting_words(each) for each in found.pressing], over_words(len(found.over)) if found.over else ""


def _symptom_rows(at: int, each: Listed, canvas: Canvas) -> tuple[Row, ...]:
    mark = "" if each.header.status == "released" else f" {each.header.status.upper()}"
    also = f" (also: {each.wording})" if each.wording else ""
    return rows_of(f"{each.symptom}{also}{mark}", canvas.width, "plain", f"{at}  ", "   ", str(at), "key")
