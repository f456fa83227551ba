"""A walk that is being recorded, as the screens hold it: each move is on the disk before its page is shown."""

from __future__ import annotations

from pathlib import Path

from faulttree.journal import Journal
from faulttree.keys import Kind, Move
from faulttree.present.blocks import open_lines
from faulttree.problems import FaulttreeError, JournalError, MoveError
from faulttree.sessions import now
from faulttree.walk import GOING, Walk, apply

Times = tuple[str, ...]


class Session:
    """A walk and its journal. ``walk`` changes only by a move that was recorded."""

    def __init__(self, journal: Journal, walk: Walk) -> None:
        self.journal = journal
        self.walk = walk
        self._pending: Walk | None = None

    @property
    def id(self) -> str:
        """The id of the walk."""
        return self.journal.id

    @property
    def practice(self) -> bool:
        """Whether the walk is practice."""
        return self.journal.recorded.header.facts.practice

    @property
    def is_unfinished(self) -> bool:
        """Whether somebody could go on with it."""
        return not self.walk.ended and self.walk.state == GOING

    def make(self, move: Move) -> None:
        """Make a move and record it. Raises MoveError where it is not allowed, JournalError where it is not recorded.

        After a JournalError the walk is as it was; `retry` records the same move again.
        """
        self._pending = apply(self.walk, move)
        self.retry()

    def retry(self) -> None:
        """Record the move that could not be recorded. Raises JournalError."""
        if self._pending is None:
            raise MoveError("no move waits to be recorded", "make one")
        self.journal.append(self._pending, now())
        self.walk, self._pending = self._pending, None

    def drop(self) -> None:
        """Give up the move that could not be recorded; it was never made."""
        self._pending = None

    def stop(self) -> None:
        """Record that the walk was left, where it can be; all else is recorded already."""
        if self.is_unfinished:
            try:
                self.make(Move(Kind.STOP))
            except FaulttreeError:
                self.drop()

    def last_words(self) -> tuple[str, ...]:
        """What is said when the program is left: what stays open, and how to go on."""
        left = tuple(f"STILL {line}" for line in open_lines(self.walk))
        if self.walk.ended:
            return left
        unfinished = "The walk is saved and unfinished. NOT APPROVED FOR RETURN TO SERVICE."
        return (*left, unfinished, f"Go on with it by: faulttree walk --resume {self.id}")

    def save_copy(self, path: str) -> str:
        """Save the journal elsewhere; returns where. Raises JournalError."""
        if not path.strip():
            raise JournalError("no file was named", "type the name of a file or a folder")
        return str(self.journal.save_copy(Path(path)))

    def times(self) -> Times:
        """When each line of the log was recorded, as the journal says."""
        times: list[str] = []
        for entry in self.journal.recorded.entries:
            # A walk that began from a code was begun with several lines of the log at once.
            times += [entry.at] * (entry.n - len(times))
        return tuple(times)

    def close(self) -> None:
        """Let others open the walk."""
        self.journal.close()
