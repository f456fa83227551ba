"""Choosing what to walk: the symptom, the model, and the list of walks that wait."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from faulttree.cli.lines import Lines, ask_one_of, wrapped
from faulttree.cli.output import out
from faulttree.journal import Summary
from faulttree.model import Tree
from faulttree.present.answer import whole_number
from faulttree.problems import LibraryError, UsageError
from faulttree.sessions import model_of
from faulttree.symptoms import find, listed, nothing_like, ranks
from faulttree.waiting import over_words, state_of, waiting, waiting_words

MOST_WAITING = 3
"""Walks that wait and are named where a walk begins."""


def choose_tree(library: Path, walks: Path, lines: Lines, role: str = "") -> str:
    """The id of the tree whose symptom the person picks, by number or by a few words."""
    show_waiting(library, walks, role, quiet=True)
    offered = listed(library)
    if not offered:
        raise LibraryError("the library has no tree", 'see its folder with "faulttree where"')
    heading = "What is wrong?"
    while True:
        out(heading)
        for at, each in enumerate(offered, 1):
            out(wrapped(f"{at}. {each.symptom}"))
        answer = lines.read("Number, or a few words: ")
        if answer is None:
            raise UsageError(
                "no symptom was chosen", 'answer with a number, or name a tree; "faulttree --help" lists all commands'
            )
        typed = answer.strip()
        number = whole_number(typed)
        if number is not None and 1 <= number <= len(offered):
            return offered[number - 1].id
        found = find(typed.split(), listed(library)) if typed else []
        if len(found) == 1 and found[0].fits:
            out(wrapped(f"{found[0].symptom}."))
            return found[0].id
        heading = f'These fit "{typed}":' if found and found[0].fits else f'Not all of "{typed}" fits. The nearest:'
        if not found:
            heading = nothing_like(typed)
        offered = found or listed(library)


def choose_model(tree: Tree, given: str | None, lines: Lines) -> str:
    """The model: as it was given, or asked for where the ways differ; empty where it makes no difference."""
    model = model_of(tree, given)
    return ask_one_of(lines, "Which one is it?", tree.models) if model is None else model


def show_waiting(library: Path | None, folder: Path, role: str = "", quiet: bool = False) -> None:
    """List the walks that wait. Those that press most are printed last: what comes before may have scrolled away.

    ``library`` says how urgent each tree is. ``quiet`` says nothing where there are none, names the few that press
    most, and only counts those that are over and have left no hazard open.
    """
    found = waiting(folder, role, ranks(library) if library else {})
    if not found.every and not quiet:
        out("No walk waits.")
    if found.over and quiet:
        out(wrapped(f'{over_words(len(found.over))}: "faulttree walk --resume" lists them.'))
    elif found.over:
        out(f"{over_words(len(found.over))}:")
        _print_last_first(found.over)
        out(wrapped('Record what is closed by "faulttree walk --resume ID".'))
        out("") if found.pressing else None
    _show_pressing(found.pressing, found.pressing[:MOST_WAITING] if quiet else found.pressing)
    if found.every:
        out("")


def _show_pressing(pressing: Sequence[Summary], shown: Sequence[Summary]) -> None:
    """Some of the walks that press, under a line that says how many there are and which is which."""
    if len(pressing) > 1:
        more = len(pressing) - len(shown)
        left = f', {more} of them not here: "faulttree walk --resume" lists them' if more else ""
        out(wrapped(f"{len(pressing)} walks wait or have left a hazard open{left}. The last one presses most:"))
    _print_last_first(shown)
    if pressing:
        out(wrapped('Go on with one by "faulttree walk --resume ID".'))


def _print_last_first(walks: Sequence[Summary]) -> None:
    for each in reversed(walks):
        out(wrapped(waiting_words(each)))


def show_waiting_as_json(library: Path | None, folder: Path, role: str = "") -> None:
    """The same walks as one JSON document, those that press most first."""
    from faulttree.cli.report import document

    found = waiting(folder, role, ranks(library) if library else {})
    out(document({"folder": str(folder), "walks": [_as_json(each) for each in found.every]}))


def _as_json(summary: Summary) -> dict[str, Any]:
    """A walk that waits; of one that cannot be used only its file, and why."""
    file = {"id": summary.id, "file": str(summary.path), "problem": summary.problem}
    if summary.header is None or summary.last is None:
        return file
    header, last = summary.header, summary.last
    return {
        **file,
        "tree": header.tree,
        "symptom": header.symptom,
        "revision": header.revision,
        "model": header.model,
        "practice": header.facts.practice,
        "aircraft": header.facts.aircraft,
        "item": header.facts.item,
        "base": header.facts.base,
        "begun": header.at,
        "last": last.at,
        "state": state_of(summary),
        "role": last.role,
        "step": last.step,
        "moves": summary.moves,
        "open_items": list(last.open_items),
    }
