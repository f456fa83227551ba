"""``faulttree check``: validate files, and prove that every cause is found."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from importlib import import_module

from faulttree.cli import selection
from faulttree.cli.checked import Found, Result, found_by, joined, look_at, selected
from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import need_own_library, say_if_shipped
from faulttree.cli.output import out
from faulttree.cli.parser import examples
from faulttree.cli.targets import Target, targets
from faulttree.problems import ERROR, UsageError

FORMATS = ("text", "json", "github", "sarif", "junit")


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Validate files and prove, for each cause on each model, that the tree leads to a fix that clears it or to an "
        "end that names it. A file is checked with the library above it; its own problems are shown, and those of the "
        "shared files that it needs. Columns count code points from 1.\n\n"
        "The proof shows that each listed single fault is found if the readings are right; not that the list is "
        "complete or the fault single. A warning alone exits 0, with --strict 1.\n\n"
        "A warning is let stand by a comment in its line, or in a line above: # stet RULE: reason"
    )
    parser.epilog = examples(
        "faulttree check",
        "faulttree check trees/cot-will-not-release.yaml --concise",
        "faulttree check --explore --strict",
        "faulttree check --select cause,case --format github",
        "faulttree check --fix trees",
    )
    _add_options(parser)


def _add_options(parser: ArgumentParser) -> None:
    """What is checked, what is told of it and how, and what else is done, in the order of the help."""
    parser.add_argument(
        "path", nargs="*", metavar="PATH", help="files, folders, or ids of trees; default: the library in use"
    )
    parser.add_argument("--format", choices=FORMATS, default="text", help="default: text")
    parser.add_argument("--concise", action="store_true", help="one line a problem, without frames and help")
    parser.add_argument("--strict", action="store_true", help="exit 1 at warnings too")
    selection.add_options(parser)
    text = "first mend how the files look, where that changes neither meaning nor comments"
    parser.add_argument("--fix", action="store_true", help=text)
    parser.add_argument("--diff", action="store_true", help="show what --fix would change; write and check nothing")
    text = "pass over named files that no library is above, as a hook for all YAML files must"
    parser.add_argument("--pass-over", action="store_true", help=text)
    parser.add_argument("--explore", action="store_true", help="visit every state of a walk; a line a tree and model")
    text = "processes for large libraries; default: as many as pay"
    parser.add_argument("--processes", type=int, default=0, metavar="N", help=text)
    text = "list what is let stand, what the trees claim by saying nothing, and what nothing comes to or uses"
    parser.add_argument("-v", "--verbose", action="store_true", help=text)


def run(args: Namespace) -> ExitCode:
    """Check what is named, tell what is wrong."""
    _refuse_what_does_not_fit(args)
    chosen = selection.selection_of(args)
    asked = targets(args.path, args)
    if not args.path:
        say_if_shipped(args, asked[0].folder)
    if args.diff or args.fix:
        from faulttree.cli import mend

        if args.diff:
            return mend.show(asked, args)
        if not args.path:
            need_own_library(args)
        mend.fix(asked, args)
    results, founds = _look(asked, args)
    found = selected(joined(founds), chosen)
    is_broken = _tell(args, results, found)
    told = found.problems if args.strict else [each for each in found.problems if each.severity == ERROR]
    return ExitCode.PROBLEMS if is_broken or told or selection.weighs(found.left_out) else ExitCode.DONE


def _look(asked: Sequence[Target], args: Namespace) -> tuple[list[Result], list[Found]]:
    """What was found in each library; where only problems are asked for, several processes look at a large one."""
    results: list[Result] = []
    founds: list[Found] = []
    for target in asked:
        found = None
        if not target.parts and not args.verbose and not args.explore and args.processes != 1:
            from faulttree.cli.several import look_in_parts

            found = look_in_parts(target.folder, args.processes)
        if found is None:
            results.append(look_at(target))
            found = found_by(results[-1])
        founds.append(found)
    return results, founds


def _refuse_what_does_not_fit(args: Namespace) -> None:
    """Options that a format has no place for are refused, so that nobody waits for what never comes."""
    if args.processes < 0:
        raise UsageError(f'"{args.processes}" is no number of processes', "give 1 or more, or leave out --processes")
    if args.format == "text":
        return
    for name in ("concise", "diff", "explore", "verbose"):
        if getattr(args, name) and (name in ("concise", "diff") or args.format != "json"):
            option = "-v" if name == "verbose" else f"--{name}"
            raise UsageError(f"{option} does not go with --format {args.format}", f"leave out {option}")


def _tell(args: Namespace, results: Sequence[Result], found: Found) -> bool:
    """Print what was found; returns whether exploring found a rule that is broken."""
    reporter = import_module(f"faulttree.cli.check_{args.format}")
    if args.format in ("text", "json"):
        return bool(reporter.tell(args, results, found))
    for line in reporter.lines(found, args.strict):
        out(line)
    return False
