"""A new walk in line mode: from a tree, from a symptom in the person's words, or from a read-back code."""

from __future__ import annotations

import argparse
from pathlib import Path

from faulttree.cli.choose import choose_model, choose_tree
from faulttree.cli.in_use import here, library_of_tree
from faulttree.cli.lines import ask_closed, ask_occupant, ask_yes_no, remind, show, wrapped
from faulttree.cli.listening import Beforehand
from faulttree.cli.output import out
from faulttree.cli.signals import held
from faulttree.journal import Facts, Journal
from faulttree.keys import Kind, Move
from faulttree.model import Library, Tree
from faulttree.present import done_so_far, start_page
from faulttree.present.blocks import with_occupant
from faulttree.present.ends import NOT_CARRIED
from faulttree.problems import UsageError
from faulttree.readback import begin
from faulttree.sessions import Ready, ready, ready_by_code, role_of, started
from faulttree.walk import Walk


def begun(args: argparse.Namespace, folder: Path, lines: Beforehand) -> tuple[Journal, Walk]:
    """A new walk and its journal in ``folder``."""
    what, code = _what(args, folder, lines)
    move = _first_move(args, lines, what.library, what.tree, code)
    with held():
        journal, walk = started(folder, what, move, Facts(args.practice, args.aircraft, args.item, args.base))
    out("")
    out(wrapped(f"Walk {journal.id}. It is recorded as you go. Type stop to leave, help for the words."))
    show(start_page(walk, args.practice))
    return journal, walk


def _what(args: argparse.Namespace, folder: Path, lines: Beforehand) -> tuple[Ready, str]:
    """What is walked, and the read-back code that it goes on from, if any."""
    place = library_of_tree(args, args.tree)
    if args.readback is not None:
        return ready_by_code(place, args.readback)
    return ready(place, args.tree or choose_tree(place, folder, lines, args.role or ""), here()), ""


def _first_move(args: argparse.Namespace, lines: Beforehand, library: Library, tree: Tree, code: str) -> Move:
    """The walk's beginning: what a code says, the occupant, the model where ways differ, the role as it was said."""
    role = role_of(library, args.role)
    lines.walk = begin(tree, library, Move(Kind.BEGIN, role=role, code=code, model="" if code else tree.models[0]))
    if code:
        remind(with_occupant(lines.walk, ""))
        _confirm(lines.walk, lines)
    occupant = ask_occupant(library, lines)
    model = "" if code else choose_model(tree, args.model, lines)
    move = Move(Kind.BEGIN, role=role, model=model, occupant=occupant, code=code)
    return ask_closed(begin(tree, library, move), lines, move) if code else move


def _confirm(walk: Walk, lines: Beforehand) -> None:
    """What the code says, to be read back and confirmed."""
    model = "" if walk.tree.alike else f" {walk.key.model}."
    out(wrapped(f"The code says: {walk.tree.symptom}.{model}"))
    show([done_so_far(walk)])
    out(wrapped(NOT_CARRIED))
    out("")
    if ask_yes_no(lines, "Read this back to whoever gave you the code. Is it right?") == "no":
        raise UsageError("the code was not confirmed", "have it said again, letter by letter")
