"""``faulttree version``: print the version."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from faulttree import __version__
from faulttree.cli.exits import ExitCode
from faulttree.cli.output import out
from faulttree.cli.parser import examples


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = "Print the version of the program."
    parser.epilog = examples("faulttree version", "faulttree --version")


def run(args: Namespace) -> ExitCode:
    """Print it."""
    out(f"faulttree {__version__}")
    return ExitCode.DONE
