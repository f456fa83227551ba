"""``faulttree explain``: what a rule means."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from faulttree.cli.exits import ExitCode
from faulttree.cli.output import Bold, out
from faulttree.cli.parser import did_you_mean, examples
from faulttree.problems import UsageError
from faulttree.rules.pages import names, page


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Say what a rule means, why it is there, and show it wrong and right. The beginning of a name, such as cause, "
        "lists the rules of that family; without a name all rules are listed."
    )
    parser.add_argument("rule", nargs="?", default="", metavar="RULE", help="the name of a rule, or its beginning")
    parser.epilog = examples("faulttree explain cause-lost", "faulttree explain cause", "faulttree explain")


def run(args: Namespace) -> ExitCode:
    """Print the page of a rule, or the names of a family."""
    wanted = args.rule.strip().lower()
    known = list(names())
    if wanted in known:
        _print_page(wanted)
        return ExitCode.DONE
    family = [name for name in known if name.startswith(wanted)]
    if not family:
        advice = did_you_mean(wanted, known) or '"faulttree explain" lists the rules'
        raise UsageError(f'there is no rule "{args.rule}"', advice)
    for name in family:
        out(name)
    return ExitCode.DONE


def _print_page(name: str) -> None:
    for line in page(name).rstrip().split("\n"):
        heading = line[:1].strip() and line.endswith(":")
        out(Bold(line) if heading else line)
