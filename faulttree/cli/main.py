"""The entry of the command line: finds the command, loads only its module, and turns errors into sentences."""

from __future__ import annotations

import gc
import sys

from faulttree import __version__
from faulttree.cli.output import hush, out, prepare, talk, width

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from types import ModuleType
    from typing import NoReturn

    from faulttree.cli.parser import Parser

COMMANDS: tuple[tuple[str, str], ...] = (
    ("walk", "walk a tree from a symptom to a confirmed corrective action"),
    ("symptoms", "find a symptom; list them all"),
    ("check", "validate trees and prove that every cause is found"),
    ("new", "begin a tree, and a library where there is none"),
    ("explain", "say what a rule means, why, wrong and right"),
    ("ways", "sum up the ways through a tree, and list them"),
    ("draw", "draw trees for review, on pages of A4 or A3"),
    ("compare", "say what changed in meaning between two libraries or trees"),
    ("release", "mark a tree as released, with its digest"),
    ("schema", "print the JSON Schemas of the files, for editors"),
    ("where", "say which library is in use and where things are kept"),
    ("completion", "print the completion script of a shell"),
    ("version", "print the version"),
    ("help", "show the help of a command"),
)
"""The commands in the order of the help; each but ``help`` is a module of this package with its name."""

START = "walk"
"""What the program's name alone does: pick a symptom and walk it."""

WITH_VALUE = ("--library", "--color")
FLAGS = ("--debug",)
HELP = ("-h", "--help")


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line ``argv`` (without the program's name) and return the exit code.

    Without ``argv`` it is the program: it takes the words of the process, and does without collecting garbage, which
    a command that soon ends has no use for and which costs most of the time of reading a large library.
    """
    if argv is not None:
        return _main(list(argv))
    gc.disable()
    try:
        return _main(sys.argv[1:])
    finally:
        gc.freeze()


def _main(words: list[str]) -> int:
    if words == ["--version"]:
        out(f"faulttree {__version__}")
        return _flushed(0)
    try:
        return _flushed(_run(words))
    except KeyboardInterrupt:
        talk("\nStopped.")
        return _exit_code("INTERRUPTED")
    except BrokenPipeError:
        hush()
        return _exit_code("PIPE_CLOSED")
    except Exception as error:
        return _failed(error, debug="--debug" in words)


def _exit_code(name: str) -> int:
    from faulttree.cli.exits import ExitCode

    return int(ExitCode[name])


def _flushed(code: int) -> int:
    """Write out what is still held back, while errors of writing can be told."""
    if sys.stdout is not None:
        sys.stdout.flush()
    return int(code)


def _run(words: Sequence[str]) -> int:
    before, command, rest = split(words)
    everything = [*before, *rest]
    prepare(_colour(everything))
    if "--version" in before:
        out(f"faulttree {__version__}")
        return 0
    asks_help = any(word in HELP for word in _options(everything))
    if command == "help":
        return _help([*(word for word in rest if not word.startswith("-"))])
    if not command and asks_help:
        return _help([])
    parser, run = load_command(command or START)
    if asks_help:
        return _print_help(parser)
    return run(parser, everything)


def _colour(words: Sequence[str]) -> str:
    """The value of --color, needed before the words are parsed; a wrong one is told of by the parser."""
    for at, word in enumerate(words):
        if word.startswith("--color="):
            return word.removeprefix("--color=")
        if word == "--color" and at + 1 < len(words):
            return words[at + 1]
    return "auto"


def _options(words: Sequence[str]) -> Sequence[str]:
    """The words before ``--``."""
    return words[: words.index("--")] if "--" in words else words


def split(words: Sequence[str]) -> tuple[list[str], str, list[str]]:
    """The options before the command, the command, and what follows it."""
    at = 0
    while at < len(words) and words[at].startswith("-"):
        name = words[at].partition("=")[0]
        if name not in (*WITH_VALUE, *FLAGS, *HELP, "--version"):
            if not _names_a_command(words):
                return list(words[:at]), START, list(words[at:])
            _refuse_option(name)
        at += 2 if words[at] in WITH_VALUE else 1
    if at > len(words):
        _refuse_option(words[-1], "it needs a value")
    return list(words[:at]), *(words[at] if at < len(words) else "", list(words[at + 1 :]))


def _names_a_command(words: Sequence[str]) -> bool:
    return any(word == name for word in words for name, _ in COMMANDS)


def _refuse_option(name: str, why: str = "") -> NoReturn:
    from faulttree.cli.parser import did_you_mean
    from faulttree.problems import UsageError

    if why:
        raise UsageError(f'option "{name}": {why}', '"faulttree --help" lists options and commands')
    advice = did_you_mean(name, (*WITH_VALUE, *FLAGS, "--help", "--version"))
    raise UsageError(
        f'there is no option "{name}" before the command', advice or "options of a command stand behind the command"
    )


def load_command(name: str) -> tuple[Parser, Callable[[Parser, list[str]], int]]:
    """The parser of a command, and what runs its words; only this command's module is loaded."""
    if name not in (each for each, _ in COMMANDS) or name == "help":
        _refuse_command(name)
    from importlib import import_module

    from faulttree.cli.parser import Parser, add_global_options

    module: ModuleType = import_module(f"faulttree.cli.{name}")
    parser = Parser(name)
    module.configure(parser)
    add_global_options(parser)
    return parser, lambda parser, words: int(module.run(parser.parse(words)))


def _refuse_command(name: str) -> NoReturn:
    from faulttree.cli.parser import did_you_mean
    from faulttree.problems import UsageError

    advice = did_you_mean(name, [each for each, _ in COMMANDS])
    raise UsageError(f'there is no command "{name}"', advice or '"faulttree --help" lists the commands')


# -- help


def _help(words: Sequence[str]) -> int:
    if words and words[0] != "help":
        parser, _ = load_command(words[0])
        return _print_help(parser)
    from faulttree.cli.first_help import top_help

    for line in top_help(COMMANDS, width()):
        out(line)
    return 0


def _print_help(parser: Parser) -> int:
    from faulttree.cli.parser import help_lines

    for line in help_lines(parser, width()):
        out(line)
    return 0


# -- errors


def _failed(error: Exception, debug: bool) -> int:
    """Say what went wrong, after what was already answered; what cannot be written any more is dropped."""
    from faulttree.cli.failures import tell

    try:
        _flushed(0)
    except OSError:
        hush()
    return tell(error, debug)
