"""The header of a tree and its example walks."""

from __future__ import annotations

import pytest
from building import library_of, problems_of, root_of, tree_of, tree_text

from faulttree.load.build import build_tree
from faulttree.model import (
    Action,
    Case,
    Released,
)

FINDINGS = "findings: {A: out, B: out}"


def test_all_that_a_header_may_say() -> None:
    header = """
        also: [dark, no lamp]
        author: A. Tarn
        figures: counted
        released: {by: B, date: 2026-02-28, digest: 1e5}
        written_against: {A-1: C}
        before: The lamp is out.
        first_actions: [{who: crew, do: Tag it., notices: [hot]}]
        fallback: [{who: crew, do: Use another., notices: [hot], opens: [a], closes: [b]}]
        report: Lamp ___
        x-own: {anything: [1, 2]}
    """
    tree = tree_of(f"first: {{check: L?, who: crew, {FINDINGS}}}", header=header)
    assert (tree.also, tree.author, tree.figures, tree.report) == (
        ("dark", "no lamp"),
        "A. Tarn",
        "counted",
        "Lamp ___",
    )
    assert tree.released == Released("B", "2026-02-28", "1e5")
    assert tree.written_against == {"A-1": "C"}
    assert tree.before == ("The lamp is out.",)
    assert tree.first_actions == (Action("crew", "Tag it.", ("hot",)),)
    assert tree.fallback == (Action("crew", "Use another.", ("hot",), ("a",), ("b",)),)


@pytest.mark.parametrize("key", ["opens", "closes"])
def test_first_actions_open_and_close_nothing(key: str) -> None:
    """Only the fallback does: the first actions are a list to read, which nobody says they have done."""
    steps = f"first: {{check: L?, who: crew, {FINDINGS}}}"
    header = f"{{}}: [{{{{who: crew, do: Tag it., {key}: [a]}}}}]"
    assert [each[0] for each in problems_of(steps, header=header.format("first_actions"))] == ["key-unknown"]
    assert problems_of(steps, header=header.format("fallback")) == []


def test_cases() -> None:
    text = tree_text(f"first: {{check: L?, who: crew, {FINDINGS}}}")
    text += "cases: [{name: a, role: crew, model: Finch, cause: flat, answers: [A, done], arrives: out},"
    tree, problems = build_tree(root_of(text + " {name: b, arrives: first}]\n"), library_of(), "a.yaml")
    assert problems == []
    assert tree is not None
    assert tree.cases == (
        Case("a", "crew", "Finch", "flat", ("A", "done"), "out"),
        Case("b", "", "", "", (), "first"),
    )
