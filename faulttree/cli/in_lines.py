"""A walk line by line: begun, resumed or listed, and led to its end."""

from __future__ import annotations

import argparse
import gc
import os
import shlex
from pathlib import Path

from faulttree.cli.beginning import begun
from faulttree.cli.choose import show_waiting
from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import here, library_of_tree
from faulttree.cli.line_mode import Dialogue
from faulttree.cli.lines import Answers, Finished, Keyboard, Lines, wrapped
from faulttree.cli.output import out, talk
from faulttree.cli.resuming import resumed
from faulttree.journal import Journal
from faulttree.library import find_library
from faulttree.present.another import Another
from faulttree.sessions import file_named, line_times, now, symptom_of
from faulttree.walk import Walk


def in_lines(args: argparse.Namespace, folder: Path) -> ExitCode:
    """Walk, resume, go on from a code, or list what waits."""
    # It may last for hours, so memory is looked after again.
    gc.enable()
    if args.resume == "":
        show_waiting(folder)
        return ExitCode.DONE
    lines: Lines = Answers(args.answers) if args.answers else Keyboard()
    try:
        journal, walk = resumed(args, folder, lines) if args.resume else begun(args, folder, lines)
    except Finished as finished:
        return finished.code
    with journal:
        if journal.torn:
            talk(wrapped(f"{journal.torn}."))
        code = _dialogue(args, journal, walk, lines).run()
    if not journal.recorded.entries[-1].ended:
        out(wrapped(f"Go on with it by: faulttree walk --resume {journal.id}"))
    return code


def _dialogue(args: argparse.Namespace, journal: Journal, walk: Walk, lines: Lines) -> Dialogue:
    practice = journal.recorded.header.facts.practice

    def record(after: Walk) -> None:
        journal.append(after, now())

    def save_copy(path: str) -> str:
        return str(journal.save_copy(file_named(path)))

    def another(tree: str) -> Another:
        place = library_of_tree(args, args.tree)
        return Another(symptom_of(place, tree), f"Begin it by: {_command(place, tree, practice)}")

    return Dialogue(walk, record, save_copy, lines, practice, lambda: line_times(journal.recorded), another)


def _command(place: Path, tree: str, practice: bool) -> str:
    """The command that begins a walk of a tree of the library in ``place``, to be typed as it stands."""
    words = ["faulttree", "walk", tree]
    words += [] if place == find_library(None, os.environ, here()) else ["--library", str(place)]
    words += ["--practice"] if practice else []
    return shlex.join(words)
