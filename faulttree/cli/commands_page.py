"""docs/commands.md, made from the parsers, so that the page and the help cannot differ."""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.cli.exits import MEANINGS
from faulttree.cli.first_help import top_help
from faulttree.cli.main import COMMANDS, load_command
from faulttree.cli.parser import help_lines

WIDTH = 100


def commands_page() -> str:
    """The page as Markdown."""
    return "\n".join(_lines()) + "\n"


def _lines() -> Iterator[str]:
    yield "# Commands"
    yield ""
    yield "This page is made by `python -m faulttree.docs` from what `faulttree help COMMAND` prints."
    yield ""
    yield "stdout is the answer, stderr is the talk. `--format json` prints one JSON document with the number of its"
    yield "version; a version only grows. Text for people may change between versions."
    yield ""
    yield "| exit | meaning |"
    yield "| --- | --- |"
    yield from (f"| {int(code)} | {text} |" for code, text in MEANINGS)
    yield ""
    yield from _block(top_help(COMMANDS, WIDTH))
    for name, about in COMMANDS:
        if name == "help":
            continue
        parser, _ = load_command(name)
        yield ""
        yield f"## {name}"
        yield ""
        yield f"{about[:1].upper()}{about[1:]}."
        yield ""
        yield from _block(help_lines(parser, WIDTH))


def _block(lines: Iterator[str] | list[str]) -> Iterator[str]:
    yield from ("```text", *lines, "```")
