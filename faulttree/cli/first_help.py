"""What is shown for the program as a whole: how to start, and the help of all commands."""

from __future__ import annotations

from collections.abc import Sequence

from faulttree.cells import broken, in_columns
from faulttree.cli.exits import MEANINGS

PURPOSE = "faulttree walks crew and mechanic from a symptom to a confirmed corrective action."
PATIENT = "The patient comes first: if the patient cannot wait, use the operator's emergency procedure."
OPTIONS = (
    ("--library DIR", "use this library; else $FAULTTREE_LIBRARY, the nearest library.yaml upward, the one that ships"),
    ("--color WHEN", "always, never or auto"),
    ("--debug", "show the traceback of an unexpected error"),
    ("-h, --help", "show help; after a command, its own"),
    ("--version", "print the version"),
)
EXAMPLES = ("faulttree symptoms", "faulttree check --explore")
DOCUMENTS = "The documentation is in docs/ beside the program. Report errors of the program to whoever maintains it."


def _what_it_is(width: int) -> list[str]:
    return [*broken(PURPOSE, width), *broken(PATIENT, width)]


def top_help(commands: Sequence[tuple[str, str]], width: int) -> list[str]:
    """The help of the program: commands, options, exit codes, where to read on."""
    return [
        *_what_it_is(width),
        "",
        *in_columns(
            (("faulttree", "pick a symptom and walk it"), ("faulttree [OPTION ...] COMMAND ...", "")), width, ""
        ),
        "",
        "Commands:",
        *in_columns(commands, width),
        "",
        "Options, before or after the command:",
        *in_columns(OPTIONS, width),
        "",
        "Exit codes:",
        *in_columns([(str(int(code)), text) for code, text in MEANINGS], width),
        "",
        "Examples:",
        *(f"  {example}" for example in EXAMPLES),
        "",
        *broken(DOCUMENTS, width),
    ]
