"""Places of keys and values, the shape of what is loaded, and the reading with and without libyaml."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from node_form import bare, placed

from faulttree.load import parse
from faulttree.load.compose_found import MOST_PROBLEMS
from faulttree.load.nodes import DEPTH_LIMIT, Items, Scalar, Table
from faulttree.load.parse import HAS_LIBYAML, Loaded, load

READERS = [False, pytest.param(True, marks=pytest.mark.skipif(not HAS_LIBYAML, reason="no libyaml"))]
SAMPLE = sorted((Path(__file__).parents[1] / "sample").glob("*.yaml"))

TEXT = """\
a: one two   # comment
"b c": 'it''s'
d:
  - x
  - {e: f, "g": [h]}
  -
    i: "two
      lines"
j: |
  block
  text

# comment
k: >-
  folded
l: {}
é😀: ü
"""
# Counted by hand: the key and the value, each as line, column, end line, end column.
PLACES = {
    "a": ((1, 1, 1, 2), (1, 4, 1, 11)),
    "b c": ((2, 1, 2, 6), (2, 8, 2, 15)),
    "d": ((3, 1, 3, 2), (4, 3, 4, 4)),
    "j": ((9, 1, 9, 2), (9, 4, 11, 7)),
    "k": ((14, 1, 14, 2), (14, 4, 15, 9)),
    "l": ((16, 1, 16, 2), (16, 4, 16, 5)),
    "é😀": ((17, 1, 17, 3), (17, 5, 17, 6)),
}


def table(loaded: Loaded) -> Table:
    assert loaded.problems == ()
    assert isinstance(loaded.root, Table)
    return loaded.root


@pytest.mark.parametrize("libyaml", READERS)
def test_places(libyaml: bool) -> None:
    """Line, column and end of every key and value; collections by their opening mark."""
    root = table(load(TEXT.encode(), "a.yaml", libyaml))
    assert {key: (tuple(e.key.span), tuple(e.value.span)) for key, e in root.entries.items()} == PLACES
    items = root.entries["d"].value
    assert isinstance(items, Items)
    assert [tuple(item.span) for item in items.items] == [(4, 5, 4, 6), (5, 5, 5, 6), (7, 5, 7, 6)]
    braces, mapping = items.items[1:]
    assert isinstance(braces, Table)
    assert isinstance(mapping, Table)
    assert tuple(braces.entries["g"].value.span) == (5, 17, 5, 18)
    assert tuple(mapping.entries["i"].value.span) == (7, 8, 8, 13)


@pytest.mark.parametrize("libyaml", READERS)
def test_values_and_styles(libyaml: bool) -> None:
    """Values as YAML means them; plain and flow are told."""
    root = table(load(TEXT.encode(), "a.yaml", libyaml))
    assert bare(root) == {
        "a": "one two",
        "b c": "it's",
        "d": ["x", {"e": "f", "g": ["h"]}, {"i": "two lines"}],
        "j": "block\ntext\n",
        "k": "folded",
        "l": {},
        "é😀": "ü",
    }
    values = {key: entry.value for key, entry in root.entries.items()}
    assert {key: v.plain for key, v in values.items() if isinstance(v, Scalar)} == {
        "a": True, "b c": False, "j": False, "k": False, "é😀": True,
    }  # fmt: skip
    assert [v.flow for v in values.values() if not isinstance(v, Scalar)] == [False, True]


@pytest.mark.skipif(not HAS_LIBYAML, reason="PyYAML has no libyaml here")
@pytest.mark.parametrize("path", SAMPLE, ids=lambda path: path.stem)
def test_sample_is_clean_and_read_fast(path: Path) -> None:
    """The sample library has no problems, the careful reading is not needed, and both give the same."""
    data = path.read_bytes()
    loaded = load(data, path.name)
    assert loaded.problems == ()
    assert parse._fast(loaded.text) is not None
    assert parse._is_simple(loaded.text)
    assert placed(loaded.root) == placed(load(data, path.name, libyaml=False).root)


def test_sample_is_there() -> None:
    """The tests above have something to read."""
    assert len(SAMPLE) >= 8


# What libyaml and PyYAML's own reader read differently, or what only events tell: the fast way leaves it alone.
@pytest.mark.parametrize(
    "text",
    [
        "a: >#c\n  b\n",  # libyaml takes the comment, PyYAML does not
        "a: |2-#c\n    b\n",
        "a: [ ?b]\n",  # PyYAML takes every question mark in brackets for a key
        "[a, ? b]\n",
        "a: b\tc\n",  # libyaml takes tabs in plain texts and before comments, PyYAML does not
        "a: &b c\n",
        "a: [*b]\n",
        "- !b c\n",
        "&a b: c\n",
        "%YAML 1.2\n---\na: b\n",
        "a: b\n...\n",
        'a: "\\ud800"\n',  # libyaml refuses, PyYAML reads half a pair
        'a: "\\x41"\n',
        "[" * 1000,
        "- " * 81,
        " " * 81 + "a: b\n",
    ],
)
def test_fast_way_is_not_asked(text: str) -> None:
    """Texts that libyaml must not decide upon."""
    assert not parse._is_simple(text)


@pytest.mark.parametrize(
    "text", ["a: b? c!\n", "a: {ask: Is it on?, why: x}\n", "- R&D, 5 * 3\n", 'a: "x\\ny\\"z"\n', "---\na: 1\n"]
)
def test_fast_way_takes_ordinary_texts(text: str) -> None:
    """Marks inside texts do not slow the reading."""
    assert parse._is_simple(text)
    assert load(text.encode(), "a.yaml").problems == ()


@pytest.mark.skipif(not HAS_LIBYAML, reason="PyYAML has no libyaml here")
@pytest.mark.parametrize(
    ("text", "fast"),
    [
        ("a: b - c -d\ne: -5\n", True),
        ("a: b -\n  c -d\n", True),
        ("- a\n- b-c\n  -d\n", False),
        ("a: b\n\n  -c\n", False),
    ],
)
def test_fast_way_ends_at_a_dash_that_begins_a_line_of_a_text(text: str, fast: bool) -> None:
    """Only there: a dash within a line is no reason to read again."""
    assert (parse._fast(text) is not None) == fast
    assert (load(text.encode(), "a.yaml").problems == ()) == fast


@pytest.mark.parametrize("text", ["[ask?b, c ? d, e?]", "{a?: b?, c: d ?}", "- a ? b\n- c?d\n", "{ask: Is it on?}"])
@pytest.mark.parametrize("libyaml", READERS)
def test_question_marks_are_text(text: str, libyaml: bool) -> None:
    """Inside brackets too, with and without libyaml (YAML 1.2.2, section 7.3.3)."""
    loaded = load(text.encode(), "a.yaml", libyaml)
    assert loaded.problems == ()
    values = bare(loaded.root)
    words = [*values, *values.values()] if isinstance(values, dict) else values
    assert text.count("?") == sum(word.count("?") for word in words)


def test_without_libyaml() -> None:
    """Where PyYAML lacks libyaml, loading works and gives the same."""
    code = (
        "import sys; sys.modules['yaml._yaml'] = None\n"
        "from faulttree.load.parse import HAS_LIBYAML, load\n"
        "loaded = load(b'a: {b: c}\\nd:\\n', 'a.yaml')\n"
        "print(HAS_LIBYAML, sorted(loaded.root.entries), [p.rule for p in loaded.problems])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False ['a', 'd'] ['yaml-empty']"


def test_depth_limit() -> None:
    """The limit is reached, not passed; the root is level 1."""
    deepest = "[" * DEPTH_LIMIT + "]" * DEPTH_LIMIT
    assert load(deepest.encode(), "a.yaml").problems == ()
    (problem,) = load(f"[{deepest}]".encode(), "a.yaml").problems
    assert (problem.rule, problem.span.column) == ("yaml-too-deep", DEPTH_LIMIT + 1)


def test_problems_end_somewhere() -> None:
    """A file with countless problems is read no further than a thousand of them."""
    problems = load(b"- &a b\n" * 3000, "a.yaml").problems
    assert len(problems) == MOST_PROBLEMS
    assert problems[-1].message.endswith("; after 1000 problems reading stops here")


def test_root_where_reading_went_on() -> None:
    """Problems that reading survives leave a root; an empty scalar stands where a value is missing."""
    loaded = load(b"a: &x 1\na: 2\nb:\nc: *x\n<<: *x\nd: {e: f, g}\n", "a.yaml")
    assert bare(loaded.root) == {"a": "1", "b": "", "c": "", "d": {"e": "f"}}
    assert len(loaded.problems) == 6


def test_no_root_after_a_syntax_error() -> None:
    """What could not be read to its end has no root."""
    assert load(b"a: 1\nb: [\n", "a.yaml").root is None


def test_problems_name_the_file() -> None:
    """The name that was given stands in each problem."""
    problems = load(b"a:\nb: \x01\nc: d: e\n", "trees/lamp.yaml").problems
    assert [problem.file for problem in problems] == ["trees/lamp.yaml"] * 3
