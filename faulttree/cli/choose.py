"""Choosing what to walk: the symptom, the model, and the list of walks that wait."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from faulttree.cli.lines import Lines, ask_one_of, wrapped
from faulttree.cli.output import out
from faulttree.journal import Summary
from faulttree.model import Tree
from faulttree.present.answer import whole_number
from faulttree.problems import LibraryError, UsageError
from faulttree.sessions import model_of
from faulttree.symptoms import find, listed
from faulttree.waiting import over_words, state_of, waiting, waiting_words


def choose_tree(library: Path, walks: Path, lines: Lines) -> str:
    """The id of the tree whose symptom the person picks, by number or by a few words."""
    show_waiting(walks, quiet=True)
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
        if len(found) == 1:
            out(wrapped(f"{found[0].symptom}."))
            return found[0].id
        if not found:
            out(wrapped(f'Nothing fits "{typed}". These are all symptoms.'))
        heading = f'These fit "{typed}":' if found else "What is wrong?"
        offered = found or listed(library)


def choose_model(tree: Tree, given: str | None, lines: Lines) -> str:
    """The model: as it was given, or asked for where the ways differ; empty where it makes no difference."""
    model = model_of(tree, given)
    return ask_one_of(lines, "Which one is it?", tree.models) if model is None else model


def show_waiting(folder: Path, quiet: bool = False) -> None:
    """List the walks that wait, those that press first.

    ``quiet`` says nothing where there are none, and only counts those that are over and have left no hazard open.
    """
    found = waiting(folder)
    if not found.every and not quiet:
        out("No walk waits.")
    for each in found.pressing:
        out(wrapped(waiting_words(each)))
    if found.pressing:
        out('Go on with one by "faulttree walk --resume ID".')
    if found.over and quiet:
        out(wrapped(f'{over_words(len(found.over))}: "faulttree walk --resume" lists them.'))
    elif found.over:
        out(f"{'' if not found.pressing else chr(10)}{over_words(len(found.over))}:")
        for each in found.over:
            out(wrapped(waiting_words(each)))
        out(wrapped('Record what is closed by "faulttree walk --resume ID".'))
    if found.every:
        out("")


def show_waiting_as_json(folder: Path) -> None:
    """The same list as one JSON document."""
    from faulttree.cli.report import document

    out(document({"folder": str(folder), "walks": [_as_json(each) for each in waiting(folder).every]}))


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
