"""A walk that waits, in line mode: taken up again on exactly the files that it went by, with everything asked anew."""

from __future__ import annotations

import argparse
import contextlib
from pathlib import Path

from faulttree.cli.in_use import library_in_use
from faulttree.cli.keeping import say_left
from faulttree.cli.lines import show, take_over_move, wrapped
from faulttree.cli.listening import Beforehand
from faulttree.cli.output import out
from faulttree.cli.signals import held
from faulttree.journal import Journal
from faulttree.present import done_so_far, start_page
from faulttree.sessions import changed_since, line_times, now, opened
from faulttree.walk import Walk, apply


def resumed(args: argparse.Namespace, folder: Path, lines: Beforehand) -> tuple[Journal, Walk]:
    """The journal of the walk that ``args`` name, and the walk after taking it over."""
    journal, walk = opened(folder, args.resume)
    lines.walk, lines.is_recorded = walk, True
    try:
        return journal, _taken_over(args, journal, walk, lines)
    except BaseException:
        with contextlib.suppress(OSError, ValueError):
            say_left(walk, line_times(journal.recorded))
        journal.close()
        raise


def _taken_over(args: argparse.Namespace, journal: Journal, walk: Walk, lines: Beforehand) -> Walk:
    out(wrapped(f"Walk {journal.id}: {walk.tree.symptom}. Revision {walk.tree.revision}."))
    for line in changed_since(library_in_use(args), journal.recorded):
        out(wrapped(line))
    show([done_so_far(walk)])
    out("")
    after = apply(walk, take_over_move(walk, lines, args.role or ""))
    with held():
        journal.append(after, now())
    show(start_page(after, journal.recorded.header.facts.practice))
    return after
