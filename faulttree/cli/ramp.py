"""The ramp screen from the command line: whether there is a terminal for it, how it looks, what is said last."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import here, library_of_tree
from faulttree.cli.lines import wrapped
from faulttree.cli.output import is_terminal, out, wants_colour

if TYPE_CHECKING:
    from faulttree.sessions import Ready
    from faulttree.tui.looks import Looks

PLAIN = "FAULTTREE_PLAIN"
"""Where this is set and not empty, line mode is taken even on a terminal."""

POOR = ("", "dumb")
"""Kinds of terminal that cannot move a cursor."""


def wants_screen(args: argparse.Namespace, environ: Mapping[str, str]) -> bool:
    """Whether the walk takes the whole terminal: there is one, and nothing asks for lines instead."""
    lines = args.plain or args.answers or args.resume == ""
    able = all(map(is_terminal, (sys.stdin, sys.stdout, sys.stderr))) and environ.get("TERM", "") not in POOR
    return able and not lines and not environ.get(PLAIN)


def on_screen(args: argparse.Namespace, walks: Path, practice: bool) -> ExitCode:
    """Run the screen to its end, and say last what stays open."""
    library = library_of_tree(args, args.tree)
    what, code = _chosen(args, library, walks)
    looks = _looks(args, os.environ)
    _tell_textual(looks)
    # Loaded here, as it takes longer than all other commands together.
    from faulttree.tui.app import RampApp
    from faulttree.tui.wanted import Wanted

    wanted = Wanted(
        library,
        walks,
        what=what,
        role=args.role or "",
        model=args.model or "",
        practice=practice,
        aircraft=args.aircraft,
        item=args.item,
        base=args.base,
        resume=args.resume or "",
        code=code,
        cwd=here(),
    )
    app = RampApp(wanted, looks)
    app.run(mouse=not args.calm)
    for line in app.last_words:
        out(wrapped(line))
    if app.broken is not None:
        raise app.broken
    return ExitCode(app.return_code or 0)


def _chosen(args: argparse.Namespace, library: Path, walks: Path) -> tuple[Ready | None, str]:
    """What is walked first, where that was said, and the code that it goes on from.

    What was asked for and cannot be is told before the screen opens, as line mode tells it.
    """
    # Loaded only here: the first page does without.
    from faulttree.journal import find_journal
    from faulttree.library import load_library
    from faulttree.sessions import model_of, ready, ready_by_code, role_of

    what, code = None, ""
    if args.resume:
        find_journal(walks, args.resume)
    elif args.readback is not None:
        what, code = ready_by_code(library, args.readback)
    elif args.tree:
        what = ready(library, args.tree, here())
        model_of(what.tree, args.model)
    loaded = what.library if what else load_library(library).library if args.role else None
    if loaded is not None:
        role_of(loaded, args.role)
    return what, code


def _looks(args: argparse.Namespace, environ: Mapping[str, str]) -> Looks:
    from faulttree.tui.looks import Looks

    encoding = (getattr(sys.stdout, "encoding", "") or "").lower().replace("-", "")
    return Looks(
        day=args.day,
        colour=wants_colour(args.color, environ, terminal=True),
        ascii=args.ascii or encoding not in ("utf8", "utf16") or environ.get("TERM") == "linux",
        calm=args.calm,
    )


def _tell_textual(looks: Looks) -> None:
    """Its settings stand in the environment and are read when it is loaded: nothing moves by itself, ever."""
    os.environ["TEXTUAL_ANIMATIONS"] = "none"
    os.environ["TEXTUAL_SMOOTH_SCROLL"] = "0"
    if looks.calm:
        os.environ.setdefault("TEXTUAL_FPS", "5")
    # Empty counts as set there, and not here.
    if looks.colour:
        os.environ.pop("NO_COLOR", None)
    else:
        os.environ["NO_COLOR"] = "1"
