"""What the tests of building share: a small library of two models, a tree around given steps, its problems."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent, indent

from faulttree.load.build import build_library, build_tree
from faulttree.load.nodes import Node
from faulttree.load.parse import load
from faulttree.model import Library, Tree
from faulttree.problems import Problem

SAMPLE = Path(__file__).parent.parent / "sample"

MAIN = """
    faulttree: 1
    operator: Skarnmoor Air Rescue
    roles:
      crew: {may: look}
      mechanic: {may: mend, includes: [crew], call_out: 20}
      rigger: {may: climb}
      chief: {may: all of it, includes: [mechanic, rigger]}
    models: {Finch: one cell, Wren: two cells}
    urgencies: {soon: before the next call}
    accesses:
      lid: {is: Lid off, who: mechanic, minutes: 2, place: box, people: 2, notices: [sharp, dust]}
      mast: {is: Mast climbed, who: rigger, notices: [height]}
      door: {is: Door open}
"""

HEADER = """
    faulttree: 1
    id: no-light
    short: LMP
    symptom: No light
    equipment: [lamp]
    urgency: soon
    revision: 1
    date: 2026-01-31
    status: draft
"""

CAUSES = """
    flat: {is: Cell flat}
    worn: {is: Switch worn}
"""

OUT = """
    out: {end: out of service}
"""


def root_of(text: str) -> Node:
    """The nodes of a text that is sound YAML."""
    root, _, problems = load(dedent(text).encode(), "test.yaml")
    assert root is not None
    assert not problems
    return root


def library_and_problems(main: str = MAIN, **others: str) -> tuple[Library | None, list[Problem]]:
    """The library of these texts by kind; underscores in the names stand for hyphens."""
    texts = {"library": main} | {
        kind.replace("_", "-"): "faulttree: 1\n" + dedent(text) for kind, text in others.items()
    }
    roots = {kind: root_of(text) for kind, text in texts.items()}
    return build_library(roots, {kind: f"{kind}.yaml" for kind in roots})


def library_of(main: str = MAIN, **others: str) -> Library:
    """The library of texts that have no problem."""
    library, problems = library_and_problems(main, **others)
    assert problems == []
    assert library is not None
    return library


def tree_text(steps: str, causes: str = CAUSES, header: str = "", start: str = "first") -> str:
    """A tree around these steps, in which `out` is an end out of service."""
    parts = [dedent(HEADER).strip(), dedent(header).strip(), "causes:", indent(dedent(causes).strip(), "  ")]
    parts += [f"start: {start}", "steps:", indent(dedent(steps).strip(), "  "), indent(dedent(OUT).strip(), "  ")]
    return "\n".join(part for part in parts if part) + "\n"


def tree_of(
    steps: str, causes: str = CAUSES, header: str = "", start: str = "first", library: Library | None = None
) -> Tree:
    """The tree around steps that have no problem."""
    text = tree_text(steps, causes, header, start)
    tree, problems = build_tree(root_of(text), library or library_of(), "no-light.yaml")
    assert problems == []
    assert tree is not None
    return tree


def problems_of(
    steps: str, causes: str = CAUSES, header: str = "", start: str = "first", library: Library | None = None
) -> list[tuple[str, str, str, str]]:
    """Of each problem of the tree around the steps the rule, the marked text, the message and the help."""
    text = tree_text(steps, causes, header, start)
    tree, problems = build_tree(root_of(text), library or library_of(), "no-light.yaml")
    assert (tree is None) == bool(problems)
    return [(each.rule, marked(text, each), each.message, each.help) for each in problems]


def marked(text: str, problem: Problem) -> str:
    """The part of the text that a problem of one line points at."""
    line, column, end_line, end_column = problem.span
    assert line == end_line
    return text.split("\n")[line - 1][column - 1 : end_column - 1]
