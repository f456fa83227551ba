"""A walk that waits, in line mode: taken up again on exactly the files that it went by, with everything asked anew.

Of one that is over it is said what it left open.
"""

from __future__ import annotations

import argparse
import contextlib
from pathlib import Path

from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import library_in_use
from faulttree.cli.keeping import say_left
from faulttree.cli.lines import Finished, show, take_over_move, wrapped
from faulttree.cli.listening import Beforehand
from faulttree.cli.output import out
from faulttree.cli.signals import held
from faulttree.journal import Journal
from faulttree.present import Block, done_so_far, start_page
from faulttree.present.blocks import open_lines
from faulttree.present.progress import set_aside
from faulttree.sessions import line_times, now, opened
from faulttree.since import SINCE, Since, over_since, since_begun
from faulttree.walk import Walk, apply


def resumed(args: argparse.Namespace, folder: Path, lines: Beforehand) -> tuple[Journal, Walk, Since]:
    """The journal of the walk that ``args`` name, the walk once it is taken over, and what became of its tree since.

    One that is over is given as it is: it is not walked on, so that nothing is asked of its tree.
    """
    journal, walk = opened(folder, args.resume)
    lines.walk, lines.is_recorded = walk, True
    try:
        if walk.over:
            return journal, _over(journal, walk), Since()
        since = since_begun(library_in_use(args), journal.recorded, walk)
        lines.has_code = not since.withdrawn
        return journal, _taken_over(args, journal, walk, lines, since), since
    except BaseException:
        with contextlib.suppress(OSError, ValueError):
            say_left(walk, line_times(journal.recorded))
        journal.close()
        raise


def _taken_over(args: argparse.Namespace, journal: Journal, walk: Walk, lines: Beforehand, since: Since) -> Walk:
    out(wrapped(f"Walk {journal.id}: {walk.tree.symptom}. Revision {walk.tree.revision}."))
    show([Block("text", (SINCE,)), Block("how", since.differences)]) if since.differences else None
    out(wrapped(since.said)) if since.said else None
    # What is printed next must not push it off the screen of somebody who is there.
    is_asked = bool(since.differences) and lines.attended
    if is_asked and lines.read("Enter once you have read it: ") is None:
        raise Finished(ExitCode.UNFINISHED)
    walk = since.onto.walk if since.onto else walk
    show([done_so_far(walk), set_aside(walk)])
    out("")
    after = apply(walk, take_over_move(walk, lines, args.role or ""))
    with held():
        if since.onto:
            since.onto.record(journal)
        journal.append(after, now())
    if not since.withdrawn:
        show(start_page(after, journal.recorded.header.facts.practice))
    return after


def _over(journal: Journal, walk: Walk) -> Walk:
    """Say what is over since when, and what it left open."""
    out(wrapped(f"Walk {journal.id}: {walk.tree.symptom}. It {over_since(walk, journal.recorded)}"))
    show([Block("open", open_lines(walk))])
    out("")
    return walk
