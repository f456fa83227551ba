"""``faulttree completion``: a completion script, made from the parsers of all commands.

The scripts are static; only the names of trees are asked for when they are needed, by ``faulttree symptoms``.
What a word completes to is told by what help calls it: TREE, PATH, FILE, DIR, RULE, or its choices.
"""

from __future__ import annotations

from argparse import Action, ArgumentParser, Namespace
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from faulttree.cli.exits import ExitCode
from faulttree.cli.main import COMMANDS, load_command
from faulttree.cli.output import out
from faulttree.cli.parser import PROGRAM, examples, takes_value, visible_actions

SHELLS = ("bash", "zsh", "fish")
TREES = f"{PROGRAM} symptoms --format ids 2>/dev/null"


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Print a completion script for a shell: commands, options, their values, rules, and the names of the trees of "
        "the library in use. Make it again after an update."
    )
    parser.add_argument("shell", choices=SHELLS, metavar="SHELL", help="bash, zsh or fish")
    parser.epilog = examples(
        "faulttree completion bash > faulttree.bash && source ./faulttree.bash",
        "faulttree completion zsh > _faulttree",
        "faulttree completion fish > faulttree.fish",
    )


def run(args: Namespace) -> ExitCode:
    """Print the script."""
    make = {"bash": bash, "zsh": zsh, "fish": fish}[args.shell]
    for line in make(list(told())):
        out(line)
    return ExitCode.DONE


class Told(NamedTuple):
    """An option or a word: its names (none for a word), what it is, and what its value completes to."""

    names: tuple[str, ...]
    about: str
    values: str
    """``""`` for nothing known, ``none`` for a flag, ``tree``, ``file``, ``dir``, or the choices with blanks."""


class Command(NamedTuple):
    """A command with its options and words."""

    name: str
    about: str
    options: tuple[Told, ...]
    words: tuple[Told, ...]


def told() -> Iterator[Command]:
    """Every command as completion sees it."""
    for name, about in COMMANDS:
        if name == "help":
            names = " ".join(each for each, _ in COMMANDS)
            yield Command(name, about, (), (Told((), "command", names),))
            continue
        parser, _ = load_command(name)
        every = [_told(action) for action in visible_actions(parser)]
        yield Command(
            name, about, tuple(each for each in every if each.names), tuple(each for each in every if not each.names)
        )


def _told(action: Action) -> Told:
    return Told(tuple(action.option_strings), action.help or "", _values(action))


def _values(action: Action) -> str:
    """What the value of an action completes to."""
    if action.option_strings and not takes_value(action):
        return "none"
    if action.choices:
        return " ".join(str(each) for each in action.choices)
    name = str(action.metavar or "")
    if name == "RULE":
        from faulttree.rules.pages import names

        return " ".join(names())
    if name == "KIND":
        from faulttree.load.schema import KINDS

        return " ".join(KINDS)
    return {"TREE": "tree", "PATH": "file", "FILE": "file", "DIR": "dir"}.get(name, "")


# -- bash


def bash(commands: Iterable[Command]) -> Iterator[str]:
    """The script for bash 4 and later."""
    every = list(commands)
    yield "# bash completion for faulttree"
    yield "_faulttree() {"
    yield '  local word="${COMP_WORDS[COMP_CWORD]}" before="${COMP_WORDS[COMP_CWORD-1]}" command="" at'
    yield "  for ((at = 1; at < COMP_CWORD; at++)); do"
    yield '    case "${COMP_WORDS[at]}" in'
    yield "      --library|--color) ((at++)) ;;"
    yield "      -*) ;;"
    yield '      *) command="${COMP_WORDS[at]}"; break ;;'
    yield "    esac"
    yield "  done"
    yield "  COMPREPLY=()"
    yield '  case "$command:$before" in'
    yield '    *:--library) mapfile -t COMPREPLY < <(compgen -d -- "$word"); return ;;'
    yield '    *:--color) mapfile -t COMPREPLY < <(compgen -W "always never auto" -- "$word"); return ;;'
    for command in every:
        for option in command.options:
            if option.values != "none" and not {"--library", "--color"} & set(option.names):
                names = "|".join(f"{command.name}:{name}" for name in option.names)
                yield f"    {names}) {_compgen(option.values)}; return ;;"
    yield "  esac"
    yield '  case "$command" in'
    top = " ".join((*(command.name for command in every), "--library --color --debug --help --version"))
    yield f'    "") {_compgen(top)} ;;'
    for command in every:
        yield f"    {command.name})"
        options = " ".join(name for option in command.options for name in option.names if name.startswith("--"))
        yield '      if [[ "$word" == -* ]]; then'
        yield f"        {_compgen(options)}"
        yield "      else"
        yield f"        {_compgen(command.words[0].values if command.words else '')}"
        yield "      fi ;;"
    yield "  esac"
    yield "}"
    yield "complete -o filenames -F _faulttree faulttree"


def _compgen(values: str) -> str:
    kinds = {"file": "-f", "dir": "-d", "tree": f'-W "$({TREES})"'}
    if not values:
        return ":"
    return f'mapfile -t COMPREPLY < <(compgen {kinds.get(values) or f"""-W "{values}" """.strip()} -- "$word")'


# -- zsh


def zsh(commands: Iterable[Command]) -> Iterator[str]:
    """The script for zsh; the file must be called ``_faulttree`` and stand in a folder of ``fpath``."""
    every = list(commands)
    yield "#compdef faulttree"
    yield f'_faulttree_trees() {{ compadd -- ${{(f)"$({TREES})"}} }}'
    yield "_faulttree() {"
    yield "  local line state"
    yield "  _arguments -C '--library[use this library]:folder:_files -/' '--color[colour]:when:(always never auto)' \\"
    yield "    '--debug[show tracebacks]' '(-h --help)'{-h,--help}'[show help]' '--version[print the version]' \\"
    yield "    '1: :->command' '*::word:->word'"
    yield "  case $state in"
    yield "    command)"
    yield "      local -a commands=("
    yield from (f"        {_quoted(f'{command.name}:{command.about}')}" for command in every)
    yield "      )"
    yield "      _describe command commands ;;"
    yield "    word)"
    yield "      case $line[1] in"
    for command in every:
        specs = [*(_zsh_option(option) for option in command.options), *(_zsh_word(word) for word in command.words)]
        yield f"        {command.name}) _arguments {' '.join(specs)} ;;"
    yield "      esac ;;"
    yield "  esac"
    yield "}"
    yield '_faulttree "$@"'


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "'\\''") + "'"


def _zsh_option(option: Told) -> str:
    about = option.about.replace("[", "(").replace("]", ")").replace(":", "\\:")
    value = "" if option.values == "none" else f":value:{_zsh_values(option.values)}"
    specs = [_quoted(f"{name}[{about}]{value}") for name in option.names]
    return " ".join(specs)


def _zsh_word(word: Told) -> str:
    return _quoted(f"*: :{_zsh_values(word.values)}")


def _zsh_values(values: str) -> str:
    kinds = {"": " ", "file": "_files", "dir": "_files -/", "tree": "_faulttree_trees"}
    return kinds.get(values) or f"({values})"


# -- fish


def fish(commands: Iterable[Command]) -> Iterator[str]:
    """The script for fish."""
    every = list(commands)
    yield "# fish completion for faulttree"
    yield "complete -c faulttree -f"
    for command in every:
        yield f"complete -c faulttree -n __fish_use_subcommand -a {command.name} -d {_fished(command.about)}"
    for command in every:
        begin = f"complete -c faulttree -n '__fish_seen_subcommand_from {command.name}'"
        for option in command.options:
            names = " ".join(f"-l {name[2:]}" if name.startswith("--") else f"-s {name[1:]}" for name in option.names)
            yield f"{begin} {names} -d {_fished(option.about)}{_fish_values(option.values, option=True)}"
        for word in command.words:
            if word.values:
                yield f"{begin}{_fish_values(word.values, option=False)}"


def _fished(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


def _fish_values(values: str, option: bool) -> str:
    if values == "none":
        return ""
    if values == "file":
        return " -r -F" if option else " -F"
    needs = " -x" if option else ""
    if values == "dir":
        return f"{needs} -a '(__fish_complete_directories)'"
    given = f"({TREES})" if values == "tree" else values
    return f"{needs} -a {_fished(given)}" if given else needs
