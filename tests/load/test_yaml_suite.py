"""The YAML test suite: what is taken and refused is frozen, and what is taken means what the suite says.

Many valid cases are refused on purpose: anchors, aliases, tags, directives, empty values, keys that are no
texts, and several documents have no place in a library; AB8U, "Sequence entry that looks like two with wrong
indentation", would make one step of two. See yaml-test-suite/SOURCE.txt for where the cases come from.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from node_form import placed

from faulttree.load.nodes import Items, Node, Scalar
from faulttree.load.parse import HAS_LIBYAML, load

FOLDER = Path(__file__).with_name("yaml-test-suite")
CASES = json.loads((FOLDER / "cases.json").read_text("utf-8"))
ACCEPTED = "accepted"

# The reader is laxer than YAML 1.2.2 here: comments without a blank before them, lines of brackets and quotes that are
# indented too little, dashes alone in brackets. None of them changes what a text says.
TAKEN_THOUGH_INVALID = {"9C9N", "9JBA", "CVW2", "DK95-01", "G5U8", "QB6E", "SU5Z", "YJV2"}

# Without a line end at the end of the file, PyYAML and libyaml add none to a last line of blanks in a block text.
READ_OTHERWISE = {"L24T-01"}


def outcome(text: str, libyaml: bool) -> str:
    problems = load(text.encode(), "case", libyaml).problems
    return problems[0].rule if problems else ACCEPTED


def frozen() -> dict[str, str]:
    lines = (FOLDER / "outcomes.txt").read_text("utf-8").splitlines()
    return dict(line.split(" ", 1) for line in lines if not line.startswith("#"))


@pytest.mark.parametrize("libyaml", [False, pytest.param(True, marks=pytest.mark.skipif(not HAS_LIBYAML, reason="no"))])
def test_outcomes_are_as_frozen(libyaml: bool) -> None:
    """Every case of the suite is accepted, or refused by the same rule, as the frozen list says."""
    assert {case["id"]: outcome(case["yaml"], libyaml) for case in CASES} == frozen()


def test_all_cases_are_there() -> None:
    """The suite has 402 cases, 308 of them valid."""
    assert (len(CASES), sum(case["valid"] for case in CASES)) == (402, 308)


def test_invalid_cases_are_refused() -> None:
    """No invalid case is accepted but those that are known."""
    taken = {case["id"] for case in CASES if not case["valid"] and frozen()[case["id"]] == ACCEPTED}
    assert taken == TAKEN_THOUGH_INVALID


def test_accepted_cases_mean_what_the_suite_says() -> None:
    """Values, styles and order of every accepted valid case are those of the suite's events."""
    outcomes = frozen()
    accepted = [case for case in CASES if case["valid"] and case["events"] and outcomes[case["id"]] == ACCEPTED]
    differing = {
        case["id"] for case in accepted if meant(load(case["yaml"].encode(), "case").root) != expected(case["events"])
    }
    assert differing == READ_OTHERWISE
    assert len(accepted) > 150


@pytest.mark.skipif(not HAS_LIBYAML, reason="PyYAML has no libyaml here")
def test_same_with_and_without_libyaml() -> None:
    """Nodes, places and problems do not depend on libyaml."""
    for case in CASES:
        with_it, without = (load(case["yaml"].encode(), "case", libyaml) for libyaml in (True, False))
        assert (placed(with_it.root), with_it.problems) == (placed(without.root), without.problems), case["id"]


def meant(node: Node | None) -> Any:
    """A node as the suite's events tell it: plain or not, flow or not, and the values."""
    if isinstance(node, Scalar):
        return (node.plain, node.value)
    if isinstance(node, Items):
        return [node.flow, *(meant(item) for item in node.items)]
    assert node is not None
    return {"flow": node.flow, "entries": [(meant(key), meant(value)) for key, value in node.entries.values()]}


def expected(events: str) -> Any:
    lines = iter(line.lstrip(" ") for line in events.split("\n"))
    assert (next(lines), next(lines)[:4]) == ("+STR", "+DOC")
    return next_value(lines)


def next_value(lines: Iterator[str]) -> Any:
    line = next(lines)
    if line.startswith("=VAL "):
        return (line[5] == ":", unescaped(line[6:]))
    if line.startswith("+SEQ"):
        return ["[]" in line, *iter(lambda: next_value(lines), "end")]
    if line.startswith("+MAP"):
        values = list(iter(lambda: next_value(lines), "end"))
        return {"flow": "{}" in line, "entries": list(zip(values[::2], values[1::2], strict=True))}
    assert line in ("-SEQ", "-MAP")
    return "end"


def unescaped(text: str) -> str:
    return re.sub(r"\\(.)", lambda match: {"n": "\n", "t": "\t", "b": "\b", "r": "\r", "\\": "\\"}[match[1]], text)
