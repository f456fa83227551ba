"""Choosing what to walk: the symptom, the model, and the list of walks that wait."""

from __future__ import annotations

from pathlib import Path

from faulttree.cli.lines import Lines, ask_one_of, wrapped
from faulttree.cli.output import out
from faulttree.cli.symptoms import find, listed
from faulttree.journal import Summary, summaries
from faulttree.model import Library, Tree
from faulttree.present.answer import whole_number
from faulttree.problems import LibraryError, UsageError


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
            raise UsageError("no symptom was chosen", "name a tree, or answer with a number")
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


def choose_model(library: Library, tree: Tree, given: str | None, lines: Lines) -> str:
    """The model: as it was given, or asked for where the ways differ; empty where it makes no difference."""
    if given:
        for model in tree.models:
            if model.casefold() == given.casefold():
                return model
        raise UsageError(f'"{given}" is no model of this tree', f"choose one of: {', '.join(tree.models)}")
    if len(tree.models) == 1:
        return tree.models[0]
    if tree.alike:
        return ""
    return ask_one_of(lines, "Which one is it?", tree.models)


def show_waiting(folder: Path, quiet: bool = False) -> list[Summary]:
    """List the walks that can be gone on with, newest first; ``quiet`` says nothing where there are none.

    A walk that has ended with something open is listed too: nobody else would be reminded of it.
    """
    waiting = [each for each in summaries(folder, include_ended=True) if not each.ended or _left_open(each)]
    if not waiting and not quiet:
        out("No walk waits.")
    for each in waiting:
        out(wrapped(_line(each)))
    if waiting:
        out('Go on with one by "faulttree walk --resume ID".')
        out("")
    return waiting


def _left_open(summary: Summary) -> list[str]:
    """The names of the items that are open, as words."""
    return [name.replace("-", " ") for name in summary.last.open_items] if summary.last else []


def _line(summary: Summary) -> str:
    if summary.header is None or summary.last is None:
        return f"{summary.id}: cannot be used: {summary.problem}"
    header, last = summary.header, summary.last
    state = "ended" if last.ended else last.state if last.state != "going" else "unfinished"
    left = f" OPEN: {', '.join(_left_open(summary))}." if last.open_items else ""
    about = " ".join(text for text in (header.facts.aircraft, header.facts.item) if text)
    at = last.at[:16].replace("T", " ")
    return f"{header.walk}: {header.symptom}, {state}, {at} UTC.{f' {about}.' if about else ''}{left}"
