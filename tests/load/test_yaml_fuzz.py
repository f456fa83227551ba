"""Whatever the bytes: a root or problems, never an exception, and the same with and without libyaml."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from node_form import placed

from faulttree.load.parse import HAS_LIBYAML, Loaded, load
from faulttree.load.yaml_messages import RULES

HERE = Path(__file__).parent
SEEDS = [case["yaml"] for case in json.loads((HERE / "yaml-test-suite" / "cases.json").read_text("utf-8"))]
SEEDS += [path.read_text("utf-8") for path in sorted((HERE.parent / "sample").glob("*.yaml"))]
NAMES = {name for name, _ in RULES}

PIECES = """\
a|b c|look|- |-|? |?|: |:|, |,|[|]|{|}|"|'|>|>2|#| # x|  |&a |*a |!|!!str |%|---|\\|\\x41|\\e|\\ud800|\\U00110000
\\UFFFFFFFF|é|😀|<<|<<: |0|1.5|null|~|@|`|k: |"q": |''|""|=|.|!<x>|!e!x|%41|%YAML 1.2|%TAG ! x""".replace(
    "\n", "|"
).split("|")
PIECES += [
    "|",
    "|-",
    "\n",
    "\n  ",
    "\n    ",
    "\n- ",
    "\n   -x",
    " - y",
    "\t",
    "\r\n",
    "\r",
    "\0",
    "\x85",
    "\u2028",
    "\ufeff",
    "\u202e",
    "\ufdd0",
]
PIECES += ["\n---\n", "\n...\n", "k: v\n", "|\n  t\n\n", ">\n  t u\n  w\n"]


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """A text of the suite or the sample with one to three places replaced."""
    text = draw(st.sampled_from(SEEDS))[:2000]
    for _ in range(draw(st.integers(1, 3))):
        start = draw(st.integers(0, len(text)))
        text = text[:start] + draw(st.sampled_from([*PIECES, ""])) + text[start + draw(st.integers(0, 5)) :]
    return text


TEXTS = st.one_of(mutated(), st.lists(st.sampled_from(PIECES), max_size=16).map("".join), st.text(max_size=40))


def sound(loaded: Loaded) -> None:
    """What holds of every result."""
    lines = loaded.text.split("\n")
    assert loaded.root is not None or loaded.problems
    assert list(loaded.problems) == sorted(loaded.problems, key=lambda problem: problem.order())
    for problem in loaded.problems:
        start, end = problem.span[:2], problem.span[2:]
        assert problem.rule in NAMES
        assert problem.message.isprintable()
        assert problem.help
        assert (1, 1) <= start <= end
        assert end[0] <= len(lines)
        assert end[1] <= len(lines[end[0] - 1]) + 2


@given(st.binary(max_size=200))
@settings(max_examples=500, deadline=None)
def test_random_bytes(data: bytes) -> None:
    """Bytes at random."""
    sound(load(data, "a.yaml"))


@given(st.binary(max_size=8), st.sampled_from(SEEDS), st.integers(0, 500))
@settings(max_examples=200, deadline=None)
def test_bytes_in_the_middle(data: bytes, seed: str, place: int) -> None:
    """Bytes at random amid YAML."""
    whole = seed.encode()
    sound(load(whole[:place] + data + whole[place:], "a.yaml"))


@pytest.mark.skipif(not HAS_LIBYAML, reason="PyYAML has no libyaml here")
@given(TEXTS)
@settings(max_examples=1000, deadline=None)
def test_texts_with_and_without_libyaml(text: str) -> None:
    """Mutated and random YAML: sound, and the same nodes, places and problems from both readers."""
    data = text.encode("utf-8", "surrogatepass")
    with_it, without = load(data, "a.yaml", True), load(data, "a.yaml", False)
    sound(without)
    assert with_it.problems == without.problems
    assert placed(with_it.root) == placed(without.root)


@pytest.mark.parametrize(
    "data",
    [
        b"[" * 100_000,
        b"- " * 100_000,
        b"? " * 100_000,
        b"a: " * 100_000,
        b"a: " + b"?" * 500_000,
        b"a:" + b" " * 500_000,
        b"x" * 1_000_000,
        b"\0" * 1_000_000,
        b"\xff" * 1_000_000,
        b"\r" * 1_000_000,
        b"a:\n" + b"\tb: 1\n" * 100_000,
        b"- *a\n" * 100_000,
        b"\n".join(b" " * depth + b"a:" for depth in range(1000)),
        b"&a [*a]",
    ],
    ids=lambda data: repr(data[:8]),
)
def test_hostile_files(data: bytes) -> None:
    """Large and deep files end in problems, soon and without an exception."""
    sound(load(data, "a.yaml"))
