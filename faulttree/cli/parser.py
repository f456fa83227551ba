"""The parser of one command's words, and its help.

Each command's module has ``configure(parser)``, which gives a description, the arguments and, as epilog, examples
made by ``examples``; and ``run(args)``, which returns an exit code. What does not fit is raised as a
`UsageError` that names what was probably meant; nothing is ever guessed and run.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, NoReturn

from faulttree.cells import broken, in_columns
from faulttree.cli.output import ALWAYS, AUTO, NEVER
from faulttree.problems import UsageError

PROGRAM = "faulttree"
HEADING = "Examples:"
GLOBAL_GROUP = "in every command"


def _formatter(prog: str) -> argparse.HelpFormatter:
    """What argparse asks for at each argument and never prints; left to find its width it would load `shutil`."""
    return argparse.HelpFormatter(prog, width=80)


class Parser(argparse.ArgumentParser):
    """An argument parser that raises, suggests and never abbreviates."""

    def __init__(self, command: str) -> None:
        super().__init__(f"{PROGRAM} {command}", formatter_class=_formatter, allow_abbrev=False, add_help=False)
        self.command = command

    def error(self, message: str) -> NoReturn:
        """Raise what argparse has to say, in our own form."""
        message = message.removeprefix("argument ")
        raise UsageError(f"{self.prog}: {message}", f'"{PROGRAM} help {self.command}" shows how it is called')

    def _check_value(self, action: argparse.Action, value: Any) -> None:
        if action.choices is not None and value not in action.choices:
            name = "/".join(action.option_strings) or str(action.metavar or action.dest)
            choices = [str(each) for each in action.choices]
            advice = f"choose one of: {', '.join(choices)}"
            raise UsageError(f'"{value}" is no value for {name}', did_you_mean(str(value), choices) or advice)

    def parse(self, words: Sequence[str]) -> argparse.Namespace:
        """The values of ``words``; raises `UsageError` where a word is left over."""
        args, left = self.parse_known_args(list(words))
        if left:
            raise self._left_over(left[0])
        return args

    def _left_over(self, word: str) -> UsageError:
        show_help = f'"{PROGRAM} help {self.command}" shows how it is called'
        if word.startswith("-"):
            name = word.partition("=")[0]
            options = [option for action in visible_actions(self) for option in action.option_strings]
            advice = did_you_mean(name, [each for each in options if each.startswith("--")])
            return UsageError(f'there is no option "{name}" in {self.prog}', advice or show_help)
        return UsageError(f'"{word}" is one word too many for {self.prog}', show_help)


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A question with the known word that is most like ``word``; empty where none is."""
    from difflib import get_close_matches

    like = get_close_matches(word, list(known), n=1)
    return f'did you mean "{like[0]}"?' if like else ""


def choice_of(word: str, known: Sequence[str]) -> str:
    """What to advise where ``word`` is none of the few that are ``known``: the one most like it, else all."""
    return did_you_mean(word, known) or f"choose one of: {', '.join(known)}"


def add_global_options(parser: argparse.ArgumentParser) -> None:
    """The options that every command has; they may stand before the command too."""
    group = parser.add_argument_group(GLOBAL_GROUP)
    group.add_argument("--library", metavar="DIR", help="use the library in DIR")
    whens = (ALWAYS, NEVER, AUTO)
    group.add_argument("--color", choices=whens, default=AUTO, metavar="WHEN", help="always, never or auto (default)")
    group.add_argument("--debug", action="store_true", help="show the traceback of an unexpected error")
    group.add_argument("-h", "--help", action="store_true", help="show this help")


def examples(*commands: str) -> str:
    """Commands to copy, as the end of a help."""
    return "\n".join((HEADING, *(f"  {command}" for command in commands)))


def examples_of(parser: argparse.ArgumentParser) -> list[str]:
    """The commands in a parser's examples."""
    return [line.strip() for line in (parser.epilog or "").splitlines() if line.startswith("  ")]


# -- help


def visible_actions(parser: argparse.ArgumentParser) -> list[argparse.Action]:
    """The arguments that help and completion speak of, in order."""
    return [action for action in parser._actions if action.help != argparse.SUPPRESS]


def is_global(parser: argparse.ArgumentParser, action: argparse.Action) -> bool:
    """Whether it is one of the options that every command has."""
    groups = [group for group in parser._action_groups if group.title == GLOBAL_GROUP]
    return any(action in group._group_actions for group in groups)


def usage(parser: argparse.ArgumentParser) -> str:
    """How the command is called, its own options included."""
    own = [action for action in visible_actions(parser) if not is_global(parser, action)]
    options = [f"[{_form(action)}]" for action in own if action.option_strings]
    words = [_word(action) for action in own if not action.option_strings]
    return " ".join((parser.prog, *options, *words))


def _form(action: argparse.Action) -> str:
    """An option as it is written, by its long name."""
    name = action.option_strings[-1]
    return f"{name} {value_name(action)}" if takes_value(action) else name


def _word(action: argparse.Action) -> str:
    name = value_name(action)
    return {"?": f"[{name}]", "*": f"[{name} ...]", "+": f"{name} [...]"}.get(str(action.nargs), name)


def takes_value(action: argparse.Action) -> bool:
    """Whether a value follows the option."""
    return action.nargs != 0


def value_name(action: argparse.Action) -> str:
    """What stands for the value: the choices, or a name."""
    if action.choices and not action.metavar:
        return "|".join(str(each) for each in action.choices)
    return str(action.metavar or action.dest.upper())


def help_lines(parser: argparse.ArgumentParser, width: int) -> Iterator[str]:
    """The help of a command, in lines of at most ``width`` cells; examples stay whole."""
    yield from broken(usage(parser), width, "", "    ")
    for paragraph in (parser.description or "").split("\n\n"):
        yield ""
        yield from broken(paragraph, width)
    actions = visible_actions(parser)
    own = [action for action in actions if not is_global(parser, action)]
    words = [action for action in own if not action.option_strings]
    options = [action for action in own if action.option_strings]
    for title, group in (("Words", words), ("Options", options), ("In every command", actions[len(own) :])):
        if group:
            yield from ("", f"{title}:")
            yield from in_columns([(_label(action), action.help or "") for action in group], width)
    if parser.epilog:
        yield from ("", *parser.epilog.splitlines())


def _label(action: argparse.Action) -> str:
    if not action.option_strings:
        return value_name(action)
    names = ", ".join(action.option_strings)
    return f"{names} {value_name(action)}" if takes_value(action) else names
