"""Lines of input and of output: where answers come from, and the small questions that are asked everywhere."""

from __future__ import annotations

import io
import sys
import textwrap
from collections.abc import Iterable
from pathlib import Path
from typing import Protocol

from faulttree.cli.exits import ExitCode
from faulttree.cli.output import out, width
from faulttree.closing import must_say_who, with_closed
from faulttree.keys import OFF, ON, Kind, Move
from faulttree.model import Library
from faulttree.present import Block
from faulttree.present.answer import whole_number
from faulttree.present.blocks import HURRY, first_line, open_lines, sentence, still_so, with_occupant
from faulttree.present.choices import asked_whether_open
from faulttree.present.over import NO_NAME, WHO_CLOSED
from faulttree.present.refusal import refusal
from faulttree.problems import FaulttreeError, MoveError, UnreadableError, UsageError
from faulttree.visible import visible
from faulttree.walk import Walk


class Lines(Protocol):
    """Where answers come from."""

    strict: bool
    """Whether an answer that does not fit ends the walk instead of being asked for again."""

    attended: bool
    """Whether a person sits at a terminal, who may be asked to go on."""

    def read(self, prompt: str) -> str | None:
        """The next line; None where there is no more."""

    def place(self) -> str:
        """Where the last line stood, for messages."""


class Keyboard:
    """Lines from standard input: a person, a pipe or a serial line."""

    strict = False

    def __init__(self) -> None:
        # Bytes that are no text must not end a walk: they come as half a pair of surrogates, and are refused as a line.
        if isinstance(sys.stdin, io.TextIOWrapper):
            sys.stdin.reconfigure(errors="surrogateescape")
        self.attended = bool(sys.stdin) and sys.stdin.isatty()

    def read(self, prompt: str) -> str | None:
        """Show the prompt and read a line; None at the end of the input."""
        out(wrapped(prompt.rstrip()), end=" ")
        sys.stdout.flush()
        try:
            line = sys.stdin.readline() if sys.stdin else ""
        except OSError:
            # The terminal went away.
            return None
        if not sys.stdin or not sys.stdin.isatty():
            out("")
        return line.rstrip("\r\n") if line else None

    def place(self) -> str:
        """Nothing: the person sees what was typed."""
        return ""


class Answers:
    """Lines from a file: one answer a line; blank lines and lines that begin with # are passed over."""

    strict = True
    attended = False

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
        out(wrapped(f"{prompt}{line}"))
        return line

    def place(self) -> str:
        """File and line of the last answer."""
        return f"{self.path}:{self.at}: "


class Practised:
    """The same lines, with the word PRACTICE at every prompt: what said so before may have scrolled away."""

    def __init__(self, lines: Lines) -> None:
        self.lines = lines
        self.strict = lines.strict
        self.attended = lines.attended

    def read(self, prompt: str) -> str | None:
        """The next line; None where there is no more."""
        return self.lines.read(f"PRACTICE. {prompt}")

    def place(self) -> str:
        """Where the last line stood, for messages."""
        return self.lines.place()


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
            # A command that is to be typed as it stands is not broken into lines.
            out(line if block.kind == "another" else wrapped(line))


def remind(walk: Walk) -> None:
    """What must not be forgotten while questions are asked: which walk, the occupant, what is open, the fallback."""
    hurry = (HURRY,) if first_line(walk) and walk.tree.fallback else ()
    show(
        [
            Block("status", (sentence(walk.tree.symptom),)),
            *first_line(walk),
            Block("open", open_lines(walk)),
            Block("hurry", hurry),
        ]
    )
    out("")


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
        refuse(lines, MoveError(f'"{answer}" is neither yes nor no', "type 1 for yes or 2 for no"))


def ask_one_of(lines: Lines, question: str, options: Iterable[str]) -> str:
    """One of ``options``, by number or words."""
    choice = list(options)
    while True:
        shown = ", ".join(f"{number} {option}" for number, option in enumerate(choice, 1))
        answer = lines.read(f"{question} {shown}: ")
        if answer is None:
            raise Finished(ExitCode.UNFINISHED)
        word = answer.strip()
        number = whole_number(word)
        if number is not None and 1 <= number <= len(choice):
            return choice[number - 1]
        for option in choice:
            if option.casefold() == word.casefold():
                return option
        refuse(lines, MoveError(f'"{answer}" is none of these', f"type 1 to {len(choice)}"))


def refuse(lines: Lines, error: FaulttreeError) -> None:
    """Say what is wrong; ends a session whose answers come from a file, because the file has to be put right."""
    if lines.strict:
        raise UsageError(f"{lines.place()}{error.what}", error.advice)
    out(wrapped(refusal(error)))


def ask_occupant(library: Library, lines: Lines) -> str:
    """The occupant, as moves name it: on, off, or empty for not answered and where there is no such question."""
    if library.occupant is None:
        return ""
    return {"yes": ON, "no": OFF, "": ""}[ask_yes_no(lines, library.occupant.ask, "not answered")]


def take_over_move(walk: Walk, lines: Lines, role: str = "") -> Move:
    """Taking over asks anew: the role, the occupant, and of each open item whether it still is."""
    library = walk.library
    # Until it is answered somebody may be on it, whatever was so when the walk was left.
    remind(with_occupant(walk, ""))
    if role not in library.roles:
        role = ask_one_of(lines, "Your role?", library.roles)
    occupant = ask_occupant(library, lines)
    if occupant != OFF and asked_whether_open(walk, role):
        remind(with_occupant(walk, occupant))
    return ask_closed(walk, lines, Move(Kind.TAKE_OVER, role=role, occupant=occupant))


def ask_closed(walk: Walk, lines: Lines, move: Move) -> Move:
    """``move`` with the open items that are closed, by asking its role for each that it may speak of, and by whom."""
    asked = [(name, _who_closed(walk, lines, name)) for name in asked_whether_open(walk, move.role)]
    return with_closed(move, [(name, who) for name, who in asked if who is not None])


def _who_closed(walk: Walk, lines: Lines, name: str) -> str | None:
    """Who closed an item, empty where nobody has to say; None where it is still open. Without a name it stays open."""
    while ask_yes_no(lines, still_so(walk.library.open_items[name])) == "no":
        if not must_say_who(walk.site, name):
            return ""
        who = lines.read(f"{WHO_CLOSED}: ")
        if who is None:
            raise Finished(ExitCode.UNFINISHED)
        if visible(who.strip()):
            return visible(who.strip())
        out(wrapped(NO_NAME))
    return None
