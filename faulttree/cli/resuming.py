"""A walk that waits, in line mode: taken up again on exactly the files that it went by, with everything asked anew.

Of one that is over, what it left open is recorded as closed.
"""

from __future__ import annotations

import argparse
from pathlib import Path

from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import library_in_use
from faulttree.cli.lines import Finished, Lines, ask_one_of, ask_yes_no, refuse, show, take_over_move, wrapped
from faulttree.cli.output import out
from faulttree.journal import Journal
from faulttree.keys import Kind, Move
from faulttree.present import Block, done_so_far, start_page
from faulttree.present.blocks import open_lines, sentence
from faulttree.present.choices import asked_whether_open
from faulttree.present.over import NOTHING_OPEN, ONLY_CLOSING, WHO_CLOSED, not_yours
from faulttree.problems import MoveError
from faulttree.sessions import changed_since, now, opened, over_since
from faulttree.value import replace
from faulttree.visible import visible
from faulttree.walk import Walk, apply


def resumed(args: argparse.Namespace, folder: Path, lines: Lines) -> tuple[Journal, Walk]:
    """The journal of the walk that ``args`` name, and the walk once it is taken over, or, where it is over, closed."""
    journal, walk = opened(folder, args.resume)
    try:
        return journal, close_items(args, journal, walk, lines) if walk.over else _taken_over(
            args, journal, walk, lines
        )
    except BaseException:
        journal.close()
        raise


def _taken_over(args: argparse.Namespace, journal: Journal, walk: Walk, lines: Lines) -> Walk:
    out(wrapped(f"Walk {journal.id}: {walk.tree.symptom}. Revision {walk.tree.revision}."))
    for line in changed_since(library_in_use(args), journal.recorded):
        out(wrapped(line))
    show([done_so_far(walk)])
    out("")
    after = apply(walk, take_over_move(walk, lines, args.role or ""))
    journal.append(after, now())
    show(start_page(after, journal.recorded.header.facts.practice))
    return after


def close_items(args: argparse.Namespace, journal: Journal, walk: Walk, lines: Lines) -> Walk:
    """The walk that is over, once each item that somebody says is closed is recorded; its end stays as it was."""
    out(wrapped(f"Walk {journal.id}: {walk.tree.symptom}. It {over_since(walk, journal.recorded)}"))
    show([Block("open", open_lines(walk))])
    out("")
    out(wrapped(ONLY_CLOSING))
    role = args.role if args.role in walk.library.roles else ask_one_of(lines, "Your role?", walk.library.roles)
    for name in asked_whether_open(walk, role):
        item = walk.library.open_items[name]
        if ask_yes_no(lines, f"{item.kind.upper()}: {sentence(item.text)} Is this still so?") == "no":
            walk = _closed(journal, walk, Move(Kind.CLOSED, item=name, role=role), lines)
    show([Block("open", open_lines(walk) or (NOTHING_OPEN,)), Block("text", not_yours(walk, role))])
    return walk


def _closed(journal: Journal, walk: Walk, move: Move, lines: Lines) -> Walk:
    """The walk once an item is recorded as closed, by whoever closed it."""
    while True:
        who = lines.read(f"{WHO_CLOSED}: ")
        if who is None:
            raise Finished(ExitCode.UNFINISHED)
        try:
            after = apply(walk, replace(move, text=visible(who.strip())))
        except MoveError as error:
            refuse(lines, error)
        else:
            journal.append(after, now())
            return after
