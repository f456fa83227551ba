"""What a walk that is over left open, in line mode: asked for item by item, and recorded as closed by whom."""

from __future__ import annotations

from collections.abc import Callable

from faulttree.cli.exits import ExitCode
from faulttree.cli.lines import Finished, Lines, ask_one_of, ask_yes_no, refuse, show, wrapped
from faulttree.cli.output import out
from faulttree.keys import Kind, Move
from faulttree.present import Block
from faulttree.present.blocks import open_lines, still_so
from faulttree.present.choices import asked_whether_open
from faulttree.present.over import NOTHING_OPEN, ONLY_CLOSING, WHO_CLOSED, not_yours
from faulttree.problems import MoveError
from faulttree.visible import visible
from faulttree.walk import Walk

Make = Callable[[Move], Walk]
"""Makes a move and records it; gives the walk after it. Raises MoveError where the move is not possible."""


def close_items(walk: Walk, lines: Lines, role: str, make: Make) -> None:
    """Ask somebody for each open item that they may speak of; what is closed is recorded, and nothing else changes."""
    if not walk.key.open_items:
        out(wrapped(NOTHING_OPEN))
        return
    out(wrapped(ONLY_CLOSING))
    if role not in walk.library.roles:
        role = ask_one_of(lines, "Your role?", walk.library.roles)
    for name in asked_whether_open(walk, role):
        if ask_yes_no(lines, still_so(walk.library.open_items[name])) == "no":
            walk = _closed(Move(Kind.CLOSED, item=name, role=role), lines, make)
    show([Block("open", open_lines(walk) or (NOTHING_OPEN,)), Block("text", not_yours(walk, role))])


def _closed(move: Move, lines: Lines, make: Make) -> Walk:
    """The walk once the item is recorded as closed, by whoever closed it."""
    while True:
        who = lines.read(f"{WHO_CLOSED}: ")
        if who is None:
            raise Finished(ExitCode.UNFINISHED)
        try:
            return make(Move(move.kind, item=move.item, role=move.role, text=visible(who.strip())))
        except MoveError as error:
            refuse(lines, error)
