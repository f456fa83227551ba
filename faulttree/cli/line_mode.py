"""Line mode: one question, numbered answers, one line of input. No cursor movement, so that it works with a screen
reader, over a serial line and in a pipe.

Every move is in the journal before the next question is shown. The words come from `present`; nothing here decides
what is allowed.
"""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Protocol

from faulttree.cli.output import ExitCode, out, width
from faulttree.moves import Kind, Move
from faulttree.present import Block, done_so_far, fallback_blocks, hand_over_page, in_the_lines, next_line, screen
from faulttree.present.answer import WORDS, Aside, Meant, completed, understand
from faulttree.present.blocks import open_lines, sentence
from faulttree.present.ends import code_blocks
from faulttree.problems import FaulttreeError, JournalError, MoveError, UnreadableError, UsageError
from faulttree.walk import HANDED_OVER, STOPPED, Walk, apply


class Lines(Protocol):
    """Where answers come from."""

    strict: bool
    """Whether an answer that does not fit ends the session instead of being asked for again."""

    def read(self, prompt: str) -> str | None:
        """The next line; None where there is no more."""

    def place(self) -> str:
        """Where the last line stood, for messages."""


class Keyboard:
    """Lines from standard input: a person, a pipe or a serial line."""

    strict = False

    def read(self, prompt: str) -> str | None:
        """Show the prompt and read a line; None at the end of the input."""
        out(prompt, end="")
        line = sys.stdin.readline()
        if not sys.stdin.isatty():
            out("")
        return line.rstrip("\n") if line else None

    def place(self) -> str:
        """Nothing: the person sees what was typed."""
        return ""


class Answers:
    """Lines from a file: one answer a line; blank lines and lines that begin with # are passed over."""

    strict = True

    def __init__(self, path: str) -> None:
        self.path = path
        try:
            text = Path(path).read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError, ValueError) as error:
            reason = getattr(error, "strerror", None) or "it is no text"
            raise UnreadableError(f'"{path}" cannot be read: {reason}', "name a file with one answer a line") from None
        numbered = enumerate(text.splitlines(), 1)
        self.lines = [(at, line.strip()) for at, line in numbered if line.strip() and not line.lstrip().startswith("#")]
        self.at = 0

    def read(self, prompt: str) -> str | None:
        """The next answer, shown after the prompt as if it had been typed."""
        if not self.lines:
            return None
        self.at, line = self.lines.pop(0)
        out(f"{prompt}{line}")
        return line

    def place(self) -> str:
        """File and line of the last answer."""
        return f"{self.path}:{self.at}: "


class Finished(Exception):
    """The session is over; carries the exit code."""

    def __init__(self, code: ExitCode) -> None:
        super().__init__()
        self.code = code


def show(blocks: Iterable[Block]) -> None:
    """Print blocks, each line wrapped to the width of the terminal; a blank line stands where the kind changes."""
    before = ""
    for block in blocks:
        if not block.lines:
            continue
        if block.kind != before or len(block.lines) > 1:
            out("")
        before = block.kind
        for line in block.lines:
            out(wrapped(line))


def wrapped(line: str) -> str:
    """The line at the terminal's width; what goes on is indented."""
    return textwrap.fill(line, width(), subsequent_indent="   ", break_on_hyphens=False) or ""


def ask_yes_no(lines: Lines, question: str, blank: str = "") -> str:
    """``yes`` or ``no``; where ``blank`` says what an empty line means, an empty line is taken too and gives ''."""
    while True:
        answer = lines.read(f"{question} 1 yes, 2 no{f', Enter for {blank}' if blank else ''}: ")
        if answer is None:
            raise Finished(ExitCode.UNFINISHED)
        word = answer.strip().casefold()
        if word in ("1", "yes", "y"):
            return "yes"
        if word in ("2", "no", "n"):
            return "no"
        if blank and word in ("", blank):
            return ""
        _refuse(lines, MoveError(f'"{answer}" is neither yes nor no', "type 1 for yes or 2 for no"))


def ask_one_of(lines: Lines, question: str, options: Iterable[str]) -> str:
    """One of ``options``, by number or words."""
    choice = list(options)
    while True:
        shown = ", ".join(f"{number} {option}" for number, option in enumerate(choice, 1))
        answer = lines.read(f"{question} {shown}: ")
        if answer is None:
            raise Finished(ExitCode.UNFINISHED)
        word = answer.strip()
        if word.isdigit() and 1 <= int(word) <= len(choice):
            return choice[int(word) - 1]
        for option in choice:
            if option.casefold() == word.casefold():
                return option
        _refuse(lines, MoveError(f'"{answer}" is none of these', f"type 1 to {len(choice)}"))


def _refuse(lines: Lines, error: FaulttreeError) -> None:
    """Say what is wrong; ends a session whose answers come from a file, because the file has to be put right."""
    if lines.strict:
        raise UsageError(f"{lines.place()}{error.what}", error.advice)
    out(wrapped(f"{error.what}. {error.advice[:1].upper()}{error.advice[1:]}."))


Record = Callable[[Walk], None]
"""Stores the last move of a walk; returns only when it is safe. Raises JournalError."""


class Session:
    """A walk in line mode, from where it is to its end or until the person stops."""

    def __init__(
        self, walk: Walk, record: Record, save_copy: Callable[[str], str], lines: Lines, practice: bool
    ) -> None:
        self.walk = walk
        self.record = record
        self.save_copy = save_copy
        self.lines = lines
        self.practice = practice

    def run(self) -> ExitCode:
        """Ask until the walk ends, is handed over or is stopped."""
        try:
            while True:
                self._show()
                if self.walk.ended:
                    self._after_the_end()
                self._one_answer()
                if self.walk.state == HANDED_OVER:
                    show(hand_over_page(self.walk, self.practice))
                    return ExitCode.DONE
                if self.walk.state == STOPPED:
                    return self._stopped()
        except Finished as finished:
            return finished.code
        except KeyboardInterrupt:
            self._last_line()
            raise

    def _show(self) -> None:
        """The whole screen; between the lines of a fix, which was just shown whole, only the next line."""
        short = in_the_lines(self.walk) and self.walk.log[-1].move.kind == Kind.DONE
        show(next_line(self.walk, self.practice) if short else screen(self.walk, self.practice))

    def _after_the_end(self) -> None:
        """At the end one may still note something, or go back where no check passed; an empty line or stop leaves."""
        out("")
        while self.walk.ended:
            words = "Note, also found" if self.walk.passed else "Back, note, also found"
            answer = self.lines.read(f"{words}, or Enter to leave: ")
            if answer is None or answer.strip().casefold() in ("", "stop", "leave"):
                raise Finished(ExitCode.DONE)
            self._take(answer)

    def _one_answer(self) -> None:
        out("")
        answer = self.lines.read("> ")
        if answer is None:
            self._move(Move(Kind.STOP))
        else:
            self._take(answer)

    def _take(self, answer: str) -> None:
        try:
            meant = understand(self.walk, answer)
            if isinstance(meant, Aside):
                self._aside(meant)
            else:
                self._move(self._whole(meant))
        except JournalError:
            raise
        except MoveError as error:
            _refuse(self.lines, error)

    def _whole(self, meant: Meant) -> Move:
        """The move, after asking for the text that it cannot do without."""
        if not meant.asks:
            return meant.move
        text = self.lines.read(f"{meant.asks}: ")
        if text is None:
            raise Finished(ExitCode.UNFINISHED)
        return completed(meant, text)

    def _move(self, move: Move) -> None:
        """Make a move: first what it leads to, then the journal, then it counts."""
        after = apply(self.walk, move)
        while True:
            try:
                self.record(after)
            except JournalError as error:
                self._not_recorded(error)
            else:
                self.walk = after
                return

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
        except JournalError as error:
            out(wrapped(f"{error.what}. {error.advice}."))
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
        if not answer.strip().isdigit():
            raise MoveError(f'"{answer}" is no line of the fallback', f"type fallback again, then 0 to {count}")
        self._move(Move(Kind.FALLBACK, line=int(answer)))
        if int(answer):
            out(wrapped('Recorded. You may hand over now: type "hand over". Going on is your choice.'))

    def _stopped(self) -> ExitCode:
        self._last_line()
        return ExitCode.UNFINISHED

    def _last_line(self) -> None:
        """What stays open when the session is left before its end."""
        left = open_lines(self.walk)
        out("")
        for line in left:
            out(wrapped(f"STILL {line}"))
        out(wrapped("The walk is saved and unfinished. NOT APPROVED FOR RETURN TO SERVICE."))


def ask_occupant(walk_library_ask: str, lines: Lines) -> str:
    """The occupant, as moves name it: on, off, or empty for not answered."""
    if not walk_library_ask:
        return ""
    return {"yes": "on", "no": "off", "": ""}[ask_yes_no(lines, walk_library_ask, "not answered")]


def take_over_move(walk: Walk, lines: Lines, role: str = "") -> Move:
    """Taking over asks anew: the role, the occupant, and of each open item whether it still is."""
    library = walk.library
    if role not in library.roles:
        role = ask_one_of(lines, "Your role?", library.roles)
    occupant = ask_occupant(library.occupant.ask if library.occupant else "", lines)
    return Move(Kind.TAKE_OVER, role=role, occupant=occupant, closed=ask_closed(walk, lines))


def ask_closed(walk: Walk, lines: Lines) -> tuple[str, ...]:
    """The open items that are closed, by asking for each of them."""
    asked = {
        name: ask_yes_no(lines, f"{item.kind.upper()}: {sentence(item.text)} Is this still so?")
        for name, item in walk.library.open_items.items()
        if name in walk.key.open_items
    }
    return tuple(name for name, answer in asked.items() if answer == "no")
