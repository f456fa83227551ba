"""A walk line by line: begun, resumed or listed, and led to its end."""

from __future__ import annotations

import argparse
import gc
from pathlib import Path

from faulttree.cli.beginning import begun
from faulttree.cli.choose import show_waiting
from faulttree.cli.exits import ExitCode
from faulttree.cli.line_mode import Dialogue
from faulttree.cli.lines import Answers, Finished, Keyboard, Lines, wrapped
from faulttree.cli.output import out, talk
from faulttree.cli.resuming import is_withdrawn, resumed
from faulttree.cli.withdrawn import Withdrawn
from faulttree.journal import Journal
from faulttree.sessions import file_named, line_times, now
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
        kind = Withdrawn if args.resume and is_withdrawn(args, journal, walk) else Dialogue
        dialogue = _dialogue(kind, journal, walk, lines)
        code = dialogue.close(args.role or "") if args.resume and walk.over else dialogue.run()
    if not dialogue.walk.over:
        out(wrapped(f"Go on with it by: faulttree walk --resume {journal.id}"))
    return code


def _dialogue(kind: type[Dialogue], journal: Journal, walk: Walk, lines: Lines) -> Dialogue:
    practice = journal.recorded.header.facts.practice

    def record(after: Walk) -> None:
        journal.append(after, now())

    def save_copy(path: str) -> str:
        return str(journal.save_copy(file_named(path)))

    return kind(walk, record, save_copy, lines, practice, lambda: line_times(journal.recorded))
