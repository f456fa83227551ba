"""Line mode: one question, numbered answers, one line of input. No cursor movement, so that it works with a screen
reader, over a serial line and in a pipe.

Every move is in the journal before the next question is shown. The words come from `present`; nothing here decides
what is allowed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from faulttree.cli.closing import close_items
from faulttree.cli.exits import ExitCode
from faulttree.cli.lines import Finished, Lines, ask_occupant, ask_yes_no, refuse, show, take_over_move, wrapped
from faulttree.cli.output import out
from faulttree.keys import OFF, Gate, Kind, Move
from faulttree.present import (
    Block,
    done_so_far,
    fallback_blocks,
    hand_over_page,
    in_the_lines,
    next_line,
    screen,
    start_page,
)
from faulttree.present.after import CUT_SHORT, too_early
from faulttree.present.answer import WORDS, Aside, Meant, completed, understand, whole_number
from faulttree.present.blocks import open_lines
from faulttree.present.ends import code_blocks
from faulttree.present.over import how_over
from faulttree.present.reading import ask_again, reading_words, taken
from faulttree.present.refusal import refusal
from faulttree.problems import FaulttreeError, JournalError, MoveError
from faulttree.sessions import Times, now
from faulttree.walk import HANDED_OVER, STOPPED, Walk, apply

Record = Callable[[Walk], None]
"""Stores the last move of a walk; returns only when it is safe. Raises JournalError."""


class Dialogue:
    """A walk in line mode, from where it is to its end or until the person stops."""

    def __init__(
        self,
        walk: Walk,
        record: Record,
        save_copy: Callable[[str], str],
        lines: Lines,
        practice: bool,
        times: Callable[[], Times] = lambda: (),
    ) -> None:
        self.walk = walk
        self.record = record
        self.save_copy = save_copy
        self.lines = lines
        self.practice = practice
        self.times = times

    def run(self) -> ExitCode:
        """Ask until the walk ends, is handed over or is stopped."""
        try:
            while True:
                self._show()
                here = self.walk
                while self.walk is here:
                    self._one_answer()
                if (code := self.left()) is not None:
                    return code
        except Finished as finished:
            return finished.code
        except KeyboardInterrupt:
            self._last_line()
            raise

    def left(self) -> ExitCode | None:
        """The exit code of a walk that is left, once its last page was shown; None while it goes on."""
        if self.walk.state == HANDED_OVER:
            show(hand_over_page(self.walk, self.practice))
            return ExitCode.DONE
        if self.walk.given_up:
            return self._given_up()
        return self._stopped() if self.walk.state == STOPPED else None

    def close(self, role: str) -> ExitCode:
        """Of a walk that is over, ask what is closed by now; the end stays as it was."""
        try:
            close_items(self.walk, self.lines, role, self._made)
        except Finished as finished:
            return finished.code
        return ExitCode.DONE

    def _made(self, move: Move) -> Walk:
        self._move(move)
        return self.walk

    def _show(self) -> None:
        """The whole screen; between the lines of a fix, which was just shown whole, only the next line."""
        short = in_the_lines(self.walk) and self.walk.log[-1].move.kind == Kind.DONE
        blocks: Sequence[Block] = next_line(self.walk, self.practice) if short else screen(self.walk, self.practice)
        if self.walk.site.gate(self.walk.key) == Gate.WARNINGS and self.lines.attended:
            blocks = self._one_by_one(blocks)
        show(blocks)

    def _one_by_one(self, blocks: Sequence[Block]) -> Sequence[Block]:
        """Show all warnings but the last, each until the person goes on, so that none runs off a small screen."""
        last = max((at for at, block in enumerate(blocks) if block.kind in ("warning", "caution")), default=0)
        begun = 0
        for at, block in enumerate(blocks[:last]):
            if block.kind in ("warning", "caution"):
                show(blocks[begun : at + 1])
                begun = at + 1
                out("")
                if self.lines.read("Enter for the next one: ") is None:
                    break
        return blocks[begun:]

    def _one_answer(self) -> None:
        """Read an answer and do what it says. A walk that does not go on is not shown again: the answer stands last."""
        out("")
        answer = self.lines.read(self._prompt())
        if self.walk.ended:
            if answer is None or answer.strip().casefold() in ("", "stop", "leave"):
                raise Finished(ExitCode.DONE)
            if answer.strip().casefold() == Kind.CLOSED:
                close_items(self.walk, self.lines, "", self._made)
            else:
                self._take(answer)
        elif answer is None:
            self._move(Move(Kind.STOP))
        else:
            self._take(answer)

    def _prompt(self) -> str:
        """At the end one may still note something, or go back where no check passed."""
        if not self.walk.ended:
            return "> "
        closed = ", closed" if self.walk.key.open_items else ""
        return f"{'Note, also found' if self.walk.passed else 'Back, note, also found'}{closed}, or Enter to leave: "

    def _take(self, answer: str) -> None:
        try:
            meant = understand(self.walk, answer)
            if isinstance(meant, Aside):
                self._aside(meant)
            else:
                self._move(self._whole(meant))
        except MoveError as error:
            refuse(self.lines, error)

    def _whole(self, meant: Meant) -> Move:
        """The move, after asking for the text that it cannot do without."""
        if meant.move.kind == Kind.READING and self.lines.attended:
            return self._read_again(meant.move.value)
        if meant.move.kind == Kind.WAITED and self.lines.attended:
            return self._waited()
        if not meant.asks:
            return meant.move
        text = self.lines.read(f"{meant.asks}: ")
        if text is None:
            raise Finished(ExitCode.UNFINISHED)
        return completed(meant, text)

    def _waited(self) -> Move:
        """The time is over; where the clock says otherwise, only when the person says it again."""
        times = self.times()
        question = too_early(self.walk, times, now()) if times else ""
        if question and ask_yes_no(self.lines, question) == "no":
            raise MoveError("the wait is not over", "go on when it is")
        return Move(Kind.WAITED, text=CUT_SHORT if question else "")

    def _read_again(self, typed: str) -> Move:
        """Readings near an edge are taken again, where somebody sits there who can."""
        readings = [typed]
        while again := ask_again(self.walk, readings):
            answer = self.lines.read(f"{again} With its unit: ")
            if answer is None:
                raise Finished(ExitCode.UNFINISHED)
            try:
                ask_again(self.walk, [*readings, answer.strip()])
                readings.append(answer.strip())
            except MoveError as error:
                refuse(self.lines, error)
        return taken(self.walk, readings)

    def _move(self, move: Move) -> None:
        """Make a move: first what it leads to, then the journal, then it counts."""
        after = apply(self.walk, move)
        while True:
            try:
                self.record(after)
            except JournalError as error:
                self._not_recorded(error)
            else:
                break
        if move.kind == Kind.READING:
            out(wrapped(reading_words(self.walk, after.log[-1].move)))
        role_before, self.walk = self.walk.key.role, after
        if move.kind == Kind.TAKE_OVER and after.key.role != role_before:
            show(start_page(after, self.practice))

    def _not_recorded(self, error: JournalError) -> None:
        """Nothing goes on before it is recorded; the person mends the cause, or saves what there is elsewhere."""
        if self.lines.strict:
            raise error
        out(wrapped(f"NOT RECORDED: {error.what}. {error.advice}."))
        answer = self.lines.read("Enter to try again, save FILE for a copy of the walk, or leave: ")
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

    def _aside(self, aside: Aside) -> None:
        if aside.word == "help":
            show([Block("text", tuple(WORDS.values()))])
        elif aside.word == "so far":
            show([done_so_far(self.walk)])
        elif aside.word == "open":
            show([Block("open", open_lines(self.walk) or ("Nothing is recorded as open.",))])
        elif aside.word == "code":
            show(code_blocks(self.walk))
        elif aside.word == "fallback":
            self._fallback()
        else:
            self._move(take_over_move(self.walk, self.lines, aside.rest))

    def _fallback(self) -> None:
        """Show it at once; only afterwards ask whether a line of it worked."""
        if not self.walk.tree.fallback:
            out("This tree has no fallback.")
            return
        show(fallback_blocks(self.walk))
        out("")
        count = len(self.walk.tree.fallback)
        answer = self.lines.read(f"Which line worked? 1 to {count}, 0 for none: ")
        if answer is None:
            raise Finished(ExitCode.UNFINISHED)
        line = whole_number(answer.strip())
        if line is None:
            raise MoveError(f'"{answer}" is no line of the fallback', f"type fallback again, then 0 to {count}")
        self._move(Move(Kind.FALLBACK, line=line))
        if line:
            self._occupant_anew()
            out(wrapped('Recorded. You may hand over now: type "hand over". Going on is your choice.'))

    def _occupant_anew(self) -> None:
        """After a line that worked somebody may have been taken off, or put on."""
        occupant = ask_occupant(self.walk.library, self.lines)
        if occupant and not self.walk.ended:
            self._move(Move(Kind.OCCUPANT_OFF if occupant == OFF else Kind.OCCUPANT_ON))

    def _stopped(self) -> ExitCode:
        self._last_line()
        return ExitCode.UNFINISHED

    def _given_up(self) -> ExitCode:
        """It has ended as well as any other way: nothing waits but what is open."""
        show([Block("open", tuple(f"STILL {line}" for line in open_lines(self.walk)))])
        out("")
        out(wrapped(f"The walk {how_over(self.walk)}. NOT APPROVED FOR RETURN TO SERVICE."))
        return ExitCode.DONE

    def _last_line(self) -> None:
        """What stays open when the session is left before its end."""
        left = open_lines(self.walk)
        out("")
        for line in left:
            out(wrapped(f"STILL {line}"))
        out(wrapped("The walk is saved and unfinished. NOT APPROVED FOR RETURN TO SERVICE."))
