"""``faulttree explain``: what a rule means."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace

from faulttree.cells import broken, in_columns
from faulttree.cli.exits import ExitCode
from faulttree.cli.output import Bold, out, width
from faulttree.cli.parser import did_you_mean, examples
from faulttree.cli.report import document
from faulttree.problems import UsageError
from faulttree.rules.pages import Page, names, page


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Say what a rule means, why it is there, and show it wrong and right. The beginning of a name, such as cause, "
        "lists the rules of that family; without a name all rules are listed."
    )
    parser.add_argument("rule", nargs="?", default="", metavar="RULE", help="the name of a rule, or its beginning")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="default: text")
    parser.epilog = examples(
        "faulttree explain cause-lost",
        "faulttree explain cause",
        "faulttree explain",
        "faulttree explain --format json",
    )


def run(args: Namespace) -> ExitCode:
    """Print the page of a rule, or the names of a family."""
    if sys.flags.optimize > 1:
        raise UsageError("Python was told to leave out the pages of the rules (-OO)", "run faulttree without -OO")
    wanted = args.rule.strip().lower()
    known = list(names())
    if wanted in known:
        out(document(page(wanted)._asdict())) if args.format == "json" else _print_page(page(wanted))
        return ExitCode.DONE
    family = [name for name in known if name.startswith(wanted)]
    if not family:
        advice = did_you_mean(wanted, known) or '"faulttree explain" lists the rules'
        raise UsageError(f'there is no rule "{args.rule}"', advice)
    if args.format == "json":
        rules = [{"name": name, "severity": page(name).severity, "summary": page(name).summary} for name in family]
        out(document({"rules": rules}))
        return ExitCode.DONE
    for line in in_columns([(name, page(name).summary) for name in family], width(), indent=""):
        out(line)
    return ExitCode.DONE


def _print_page(found: Page) -> None:
    """Prose is broken to the width of the window, pieces of files stay as they are."""
    columns = width()
    out(Bold(found.name), f" ({found.severity})")
    out("")
    for line in broken(found.summary, columns):
        out(line)
    for heading, text in (("Meaning", found.meaning), ("Why", found.why)):
        out("")
        out(Bold(heading))
        for paragraph in text.split("\n\n"):
            for line in broken(paragraph, columns, "  ", "  "):
                out(line)
    for heading, piece in (("Wrong", found.wrong), ("Right", found.right)):
        out("")
        out(Bold(heading))
        for line in piece.split("\n"):
            out(f"  {line}".rstrip())
