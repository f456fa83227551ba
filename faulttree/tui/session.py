"""A walk that is being recorded, as the screens hold it: each move is on the disk before its page is shown."""

from __future__ import annotations

from faulttree.journal import Journal, open_journal
from faulttree.keys import Kind, Move
from faulttree.present.blocks import sentence
from faulttree.present.over import last_words
from faulttree.problems import FaulttreeError, JournalError, MoveError
from faulttree.sessions import Onto, Times, file_named, line_times, now
from faulttree.walk import GOING, HANDED_OVER, Walk, apply


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
        """Whether it was left before its end by whoever had it: neither ended nor handed over."""
        return not self.walk.over and self.walk.state != HANDED_OVER

    @property
    def is_unrecorded(self) -> bool:
        """Whether a move was made that could not be recorded, and was not given up."""
        return self._pending is not None

    def make(self, move: Move) -> None:
        """Make a move and record it. Raises MoveError where it is not allowed, JournalError where it is not recorded.

        After a JournalError the walk is as it was; `retry` records the same move again.
        """
        after = apply(self.walk, move)
        self.take_again()
        self._pending = after
        self.retry()

    def go_on_with(self, onto: Onto) -> None:
        """Go on with another revision of the tree. Raises JournalError where that is not recorded."""
        onto.record(self.journal)
        self.walk = onto.walk

    def retry(self) -> None:
        """Record the move that could not be recorded. Raises JournalError."""
        if self._pending is None:
            raise MoveError("no move waits to be recorded", "make one")
        self.journal.append(self._pending, now())
        self.walk, self._pending = self._pending, None
        self.let_go()

    def let_go(self) -> None:
        """Let whoever it was handed over to open the walk, also while its page is still read here."""
        if self.walk.state == HANDED_OVER:
            self.journal.close()

    def take_again(self) -> None:
        """Have a walk that was let go again. Raises MoveError where somebody else has it, or has gone on with it."""
        if self.journal.is_open:
            return
        try:
            journal = open_journal(self.journal.path)
        except JournalError as error:
            raise MoveError(f"the walk was handed over, and {error.what}", error.advice) from None
        if journal.head != self.journal.head:
            journal.close()
            raise MoveError(
                "the walk was handed over, and somebody else has gone on with it since",
                "leave this page and take it up from the first page",
            )
        self.journal = journal

    def drop(self) -> None:
        """Give up the move that could not be recorded; it was never made."""
        self._pending = None

    def stop(self) -> None:
        """Record that the walk was left, where it can be; all else is recorded already."""
        if self.walk.state == GOING and not self.walk.ended and not self.is_unrecorded:
            try:
                self.make(Move(Kind.STOP))
            except FaulttreeError:
                self.drop()

    def last_words(self) -> tuple[str, ...]:
        """What is said when the program is left: what stays open, and how to go on."""
        left = last_words(self.walk, self.times(), self.is_unrecorded)
        head = (f"{self.id}: {sentence(self.walk.tree.symptom)}",) if left else ()
        how = () if self.walk.over else (f"Go on with it by: faulttree walk --resume {self.id}",)
        return (*head, *left, *how)

    def save_copy(self, path: str) -> str:
        """Save the journal elsewhere; returns where. Raises JournalError, UnreadableError."""
        return str(self.journal.save_copy(file_named(path)))

    def times(self) -> Times:
        """When each line of the log was recorded, as the journal says."""
        return line_times(self.journal.recorded)

    def close(self) -> None:
        """Let others open the walk."""
        self.journal.close()
