"""``faulttree walk``: from a symptom to a confirmed corrective action, on the whole terminal or line by line."""

from __future__ import annotations

import argparse
import os

from faulttree.cli.exits import ExitCode
from faulttree.cli.parser import examples
from faulttree.cli.ramp import on_screen, wants_screen
from faulttree.journal.names import default_folder
from faulttree.problems import UsageError


def configure(parser: argparse.ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Walk a tree: one question at a time, each warning before the step it belongs to, to a corrective action "
        "whose operational check passed, or to a hand-over. Every move is recorded before the next question. It takes "
        "the whole terminal; where there is none, or with --plain, it goes line by line."
    )
    parser.add_argument("tree", nargs="?", metavar="TREE", help="the tree's id or file; without it, pick a symptom")
    parser.add_argument("--plain", action="store_true", help="line mode: one question, one line of input")
    parser.add_argument("--day", action="store_true", help="begin with the light page; night is usual, v changes it")
    parser.add_argument("--ascii", action="store_true", help="no signs beyond ASCII")
    parser.add_argument("--calm", action="store_true", help="few redraws and no mouse, for slow lines")
    parser.add_argument("--as", dest="role", metavar="ROLE", help="your role; without it, the library's first role")
    parser.add_argument("--model", metavar="MODEL", help="the model; without it, it is asked for where it matters")
    parser.add_argument("--answers", metavar="FILE", help="take the answers from FILE, one a line")
    parser.add_argument(
        "--resume", nargs="?", const="", metavar="ID", help="go on with a walk; without ID, list those that wait"
    )
    parser.add_argument("--format", choices=("text", "json"), help="of the list that --resume gives; default: text")
    parser.add_argument("--readback", metavar="CODE", help="go on from a read-back code, or from its words")
    parser.add_argument("--practice", action="store_true", help="for training: kept apart and never counted")
    parser.add_argument("--aircraft", default="", metavar="TEXT", help="the aircraft, for the record")
    parser.add_argument("--item", default="", metavar="TEXT", help="the item's number, for the record")
    parser.add_argument("--base", default="", metavar="TEXT", help="the base, for the record")
    parser.epilog = examples(
        "faulttree walk --plain",
        "faulttree walk cot-will-not-release --as mechanic --model Bracken",
        "faulttree walk --resume",
        "faulttree walk --resume --format json",
    )


def run(args: argparse.Namespace) -> ExitCode:
    """Walk, resume, go on from a code, or list what waits."""
    _only_one(args)
    practice = args.practice or _says_practice(args.resume)
    folder = default_folder(practice)
    if wants_screen(args, os.environ):
        return on_screen(args, folder, practice)
    from faulttree.cli.in_lines import in_lines

    return in_lines(args, folder, practice)


def _says_practice(resume: str | None) -> bool:
    """Whether the id is that of a practice walk: these are kept apart, and their ids say so."""
    return resume is not None and resume.strip().upper().startswith("PRACTICE")


def _only_one(args: argparse.Namespace) -> None:
    given = [name for name in ("tree", "resume", "readback") if getattr(args, name) is not None]
    if len(given) > 1:
        raise UsageError(f"{' and '.join(given)} do not go together", "give a tree, or --resume, or --readback")
    if args.format is not None and args.resume != "":
        raise UsageError("--format is for the list of walks", 'list them by "faulttree walk --resume --format json"')
