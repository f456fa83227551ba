"""A walk of line mode as it is kept: each move is in the journal before it counts, and what is said when it is left."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Sequence

from faulttree.cli.lines import Lines, show, wrapped
from faulttree.cli.listening import FALLBACK, STOP, Listening, Said, show_aside, show_fallback, show_words
from faulttree.cli.output import out
from faulttree.cli.signals import held
from faulttree.keys import Kind, Move
from faulttree.present import start_page
from faulttree.present.another import Another
from faulttree.present.answer import WORDS
from faulttree.present.over import last_words
from faulttree.present.reading import reading_words
from faulttree.present.refusal import refusal
from faulttree.present.start import list_is_due, list_page
from faulttree.problems import FaulttreeError, JournalError
from faulttree.sessions import Times
from faulttree.walk import Walk, apply, possible_moves

Record = Callable[[Walk], None]
"""Stores the last move of a walk; returns only when it is safe. Raises JournalError."""


class Keeping:
    """A walk that changes only by moves that were recorded, and the lines that its person answers in."""

    words: Sequence[str] = tuple(WORDS)
    """What help names."""
    has_code = True
    """Whether somebody can go on from the walk's read-back code."""

    def __init__(
        self,
        walk: Walk,
        record: Record,
        save_copy: Callable[[str], str],
        lines: Lines,
        practice: bool,
        times: Callable[[], Times] = lambda: (),
        another: Callable[[str], Another] = lambda tree: Another(),
    ) -> None:
        self.walk = walk
        self.record = record
        self.save_copy = save_copy
        self.typed = lines
        """The lines as they come: for prompts that take any word of a walk."""
        self.lines = Listening(lines, self._hear)
        """For every other prompt."""
        self.practice = practice
        self.times = times
        self.another = another
        """What is known of the tree that the walk leads on to."""
        self.is_unrecorded = False
        """Whether a move waits to be recorded that cannot be."""

    def _hear(self, word: str) -> bool:
        """Leave what is asked for the fallback and for stop; show what only shows, and have it asked again."""
        if word == STOP or (word == FALLBACK and self.can_record_fallback):
            raise Said(word)
        if word == FALLBACK:
            show_fallback(self.walk)
        elif word in ("help", "?"):
            show_words(self.words)
        else:
            show_aside(self.walk, word, self.has_code)
        out("")
        return True

    @property
    def can_record_fallback(self) -> bool:
        """Whether it can be recorded now which line of the fallback worked."""
        return not self.is_unrecorded and any(move.kind == Kind.FALLBACK for move in possible_moves(self.walk))

    def move(self, move: Move) -> None:
        """Make a move: first what it leads to, then the journal, then it counts."""
        before, after = self.walk, apply(self.walk, move)
        while not self._recorded(after):
            pass
        if move.kind == Kind.READING:
            out(wrapped(reading_words(before, after.log[-1].move)))
        if move.kind == Kind.TAKE_OVER and after.key.role != before.key.role:
            show(start_page(after, self.practice))
        elif list_is_due(after):
            show(list_page(after))

    def _recorded(self, after: Walk) -> bool:
        try:
            with held():
                self.record(after)
                self.walk, self.is_unrecorded = after, False
        except JournalError as error:
            self.is_unrecorded = True
            self._not_recorded(error)
            return False
        return True

    def _not_recorded(self, error: JournalError) -> None:
        """Nothing goes on before it is recorded; the person mends the cause, or saves what there is elsewhere."""
        if self.lines.strict:
            raise error
        out(wrapped(f"NOT RECORDED: {error.what}. {error.advice}."))
        try:
            answer = self.lines.read("Enter to try again, save FILE for a copy of the walk, or leave: ")
        except Said:
            raise error from None
        if answer is None or answer.strip().casefold() == "leave":
            raise error
        if answer.startswith("save "):
            self._save(answer[5:].strip())

    def _save(self, path: str) -> None:
        try:
            saved = self.save_copy(path)
        except FaulttreeError as error:
            out(wrapped(refusal(error)))
        else:
            out(wrapped(f"The walk up to here was saved in {saved}. The last answer is not in it."))

    def last_line(self) -> None:
        """What stays open when the session is left before its end; where nobody can read it, nothing is said."""
        with contextlib.suppress(OSError, ValueError):
            say_left(self.walk, self.times(), self.is_unrecorded)


def say_left(walk: Walk, times: Times, is_unrecorded: bool = False) -> None:
    """Print the last lines of a walk."""
    out("")
    for line in last_words(walk, times, is_unrecorded):
        out(wrapped(line))
