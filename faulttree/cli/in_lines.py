"""A walk line by line: begun, resumed or listed, and led to its end."""

from __future__ import annotations

import argparse
import contextlib
import gc
import os
import shlex
import sys
from pathlib import Path

from faulttree.cli.beginning import begun
from faulttree.cli.choose import show_waiting, show_waiting_as_json
from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import here, library_in_use, library_of_tree
from faulttree.cli.line_mode import Dialogue
from faulttree.cli.lines import Answers, Finished, Keyboard, Lines, Practised, wrapped
from faulttree.cli.listening import Beforehand, Said
from faulttree.cli.output import hush, out, talk
from faulttree.cli.resuming import resumed
from faulttree.cli.signals import Signalled, heeded
from faulttree.cli.withdrawn import Withdrawn
from faulttree.journal import Journal
from faulttree.library import find_library
from faulttree.present.another import Another
from faulttree.problems import FaulttreeError
from faulttree.sessions import file_named, line_times, now, symptom_of
from faulttree.since import Since
from faulttree.walk import Walk


def in_lines(args: argparse.Namespace, folder: Path, practice: bool) -> ExitCode:
    """Walk, resume, go on from a code, or list what waits."""
    # It may last for hours, so memory is looked after again.
    gc.enable()
    if args.resume == "":
        show_list = show_waiting_as_json if args.format == "json" else show_waiting
        show_list(_library_if_any(args), folder, args.role or "")
        return ExitCode.DONE
    with heeded():
        try:
            lines = Answers(args.answers) if args.answers else Keyboard()
            return _walked(args, folder, Practised(lines) if practice else lines)
        except Signalled:
            _put_out()
            return ExitCode.UNFINISHED


def _library_if_any(args: argparse.Namespace) -> Path | None:
    """The library in use; walks that wait are listed without one too."""
    try:
        return library_in_use(args)
    except FaulttreeError:
        return None


def _put_out() -> None:
    """Write out what was said last; a terminal that went away takes nothing any more."""
    try:
        sys.stdout.flush()
    except OSError:
        hush()


def _walked(args: argparse.Namespace, folder: Path, lines: Lines) -> ExitCode:
    before = Beforehand(lines)
    try:
        journal, walk, since = _taken_up_or_begun(args, folder, before)
    except (Finished, Said):
        return ExitCode.UNFINISHED
    with journal:
        if journal.torn:
            talk(wrapped(f"{journal.torn}."))
        dialogue = _dialogue(Withdrawn if since.withdrawn else Dialogue, args, journal, walk, lines)
        try:
            return dialogue.close(args.role or "") if args.resume and walk.over else dialogue.run(before.is_owed)
        finally:
            _say_how_to_go_on(journal, dialogue)


def _taken_up_or_begun(args: argparse.Namespace, folder: Path, before: Beforehand) -> tuple[Journal, Walk, Since]:
    """The journal, the walk, and what became of its tree since it began; of one that begins now nothing did."""
    return resumed(args, folder, before) if args.resume else (*begun(args, folder, before), Since())


def _say_how_to_go_on(journal: Journal, dialogue: Dialogue) -> None:
    if not dialogue.walk.over:
        with contextlib.suppress(OSError, ValueError):
            out(wrapped(f"Go on with it by: faulttree walk --resume {journal.id}"))


def _dialogue(kind: type[Dialogue], args: argparse.Namespace, journal: Journal, walk: Walk, lines: Lines) -> Dialogue:
    practice = journal.recorded.header.facts.practice

    def record(after: Walk) -> None:
        journal.append(after, now())

    def save_copy(path: str) -> str:
        return str(journal.save_copy(file_named(path)))

    def another(tree: str) -> Another:
        place = library_of_tree(args, args.tree)
        return Another(symptom_of(place, tree), f"Begin it by: {_command(place, tree, practice)}")

    return kind(walk, record, save_copy, lines, practice, lambda: line_times(journal.recorded), another)


def _command(place: Path, tree: str, practice: bool) -> str:
    """The command that begins a walk of a tree of the library in ``place``, to be typed as it stands."""
    words = ["faulttree", "walk", tree]
    words += [] if place == find_library(None, os.environ, here()) else ["--library", str(place)]
    words += ["--practice"] if practice else []
    return shlex.join(words)
