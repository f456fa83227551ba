"""What is wrong with a shape is said in our own words, at the exact place.

Each file in ``explain/<rule>/`` has one mistake; the text beside it is all that must be said of it.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faulttree.load.explain import SHAPE_RULES, explain_shape
from faulttree.load.explain_source import in_one_line
from faulttree.load.explain_view import Text, matches, number_of, same, shape_errors, view
from faulttree.load.nodes import Entry, Items, Node, Scalar, Table
from faulttree.load.parse import load
from faulttree.load.schema import KINDS, kind_of, schema_text
from faulttree.problems import Problem, Span

HERE = Path(__file__).parent
CASES = sorted((HERE / "explain").glob("*/*.yaml"))
SAMPLE = sorted((HERE.parent / "sample").glob("*.yaml"))
PLACE = Span(1, 1, 1, 2)


def explained(text: str, kind: str) -> list[Problem]:
    loaded = load(text.encode(), f"{kind}.yaml")
    assert loaded.root is not None
    assert not loaded.problems
    return explain_shape(loaded.root, kind, f"{kind}.yaml")


def as_text(problem: Problem) -> str:
    line, column, end_line, end_column = problem.span
    return f"{line}:{column}-{end_line}:{end_column} {problem.rule}: {problem.message}\n    help: {problem.help}\n"


@pytest.mark.parametrize("path", CASES, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_case(path: Path) -> None:
    problems = explained(path.read_text(encoding="utf-8"), path.stem.partition("-")[0])
    assert "".join(map(as_text, problems)) == path.with_suffix(".txt").read_text(encoding="utf-8")
    assert path.parent.name in {problem.rule for problem in problems}


def test_every_rule_has_a_case() -> None:
    assert {path.parent.name for path in CASES} == set(SHAPE_RULES)


def test_two_places_are_both_reported_in_order() -> None:
    problems = explained("faulttree: 1\ntools:\n  b: {iss: Bar}\n  a: {is: [Awl, Axe]}\n", "tools")
    assert [(problem.rule, problem.span.line) for problem in problems] == [("key-unknown", 3), ("value-not-text", 4)]


def test_empty_value_is_left_to_the_reader_of_the_text() -> None:
    loaded = load(b"faulttree: 1\ntools:\n  a: {is: }\n", "tools.yaml")
    assert loaded.root is not None
    assert [problem.rule for problem in loaded.problems] == ["yaml-empty"]
    assert explain_shape(loaded.root, "tools", "tools.yaml") == []


@pytest.mark.parametrize("word", ["4.10", "0123", "yes", "12:30", "null", "~", "true", "1e3", ".inf", "2026-11-20"])
def test_text_is_a_text_whatever_it_looks_like(word: str) -> None:
    assert explained(f"faulttree: 1\ntools:\n  a: {{is: {word}, note: '{word}'}}\n", "tools") == []


@pytest.mark.parametrize("figure", ["5", "+5", "0o17", "0x1F", "1.5", ".5", "1e3", "5.0"])
def test_number_in_a_core_form_is_a_number(figure: str) -> None:
    """The forms of YAML 1.2.2, section 10.3.2."""
    assert explained(f"faulttree: 1\nparts:\n  a: {{is: Axle, per_year: {figure}}}\n", "parts") == []


@pytest.mark.parametrize("word", ["1_000", "0b11", "1:30", ".nan", ".inf", "null", "true", "'5'", '"5"'])
def test_other_forms_are_no_numbers(word: str) -> None:
    problems = explained(f"faulttree: 1\nparts:\n  a: {{is: Axle, per_year: {word}}}\n", "parts")
    assert [problem.rule for problem in problems] == ["value-not-number"]


@pytest.mark.parametrize(
    ("word", "rules"), [("2", []), ("2.0", []), ("2.5", ["value-not-whole"]), ("0", ["value-out-of-range"])]
)
def test_whole_numbers_are_as_in_json_schema(word: str, rules: list[str]) -> None:
    """2.0 is a whole number: JSON Schema Validation, draft-07, section 6.1.1."""
    text = f"faulttree: 1\noperational_checks:\n  a: {{is: b, do: c, ask: d, who: e, proved: f, people: {word}}}\n"
    assert [problem.rule for problem in explained(text, "operational-checks")] == rules


def judged(value: str, schema: dict[str, object], plain: bool = True) -> list[str]:
    return [str(error.validator) for error in shape_errors(view(Scalar(value, PLACE, plain)), schema)]


@pytest.mark.parametrize(
    ("schema", "right", "wrong"),
    [
        ({"minimum": 2}, "2", "1"),
        ({"maximum": 2}, "2", "3"),
        ({"exclusiveMinimum": 2}, "3", "2"),
        ({"exclusiveMaximum": 2}, "1", "2"),
        ({"const": 1}, "1.0", "2"),
        ({"const": True}, "true", "1"),
        ({"const": "1"}, "1", "1.0"),
        ({"enum": ["a", 2]}, "2", "b"),
        ({"pattern": "^a$"}, "a", "a\n"),
        ({"minLength": 2}, "12", "1"),
        ({"maxLength": 1}, "1", "12"),
        ({"format": "date"}, "2024-02-29", "2026-02-29"),
    ],
)
def test_keywords_look_into_scalars(schema: dict[str, object], right: str, wrong: str) -> None:
    assert judged(right, schema) == []
    assert judged(wrong, schema) == list(schema)


def test_bounds_say_nothing_of_what_is_no_number() -> None:
    """A keyword for numbers ignores other values: JSON Schema Validation, draft-07, section 6.2."""
    assert judged("word", {"minimum": 2}) == []
    assert judged("1", {"minimum": 2}, plain=False) == []


def test_lists_that_repeat_are_compared_as_written() -> None:
    items = Items([Scalar("1", PLACE, True), Scalar("1.0", PLACE, True)], PLACE, True)
    assert shape_errors(view(items), {"uniqueItems": True}) == []
    items.items.append(Scalar("1", PLACE, False))
    assert [error.validator for error in shape_errors(view(items), {"uniqueItems": True})] == ["uniqueItems"]


def test_constants_are_of_their_own_type() -> None:
    assert same(Text(Scalar("true", PLACE, True)), True)
    assert not same(Text(Scalar("true", PLACE, False)), True)
    assert not same([], 1)
    assert number_of(["1"]) is None


def test_end_of_a_pattern_is_the_end_of_the_text() -> None:
    """As in ECMA 262, which JSON Schema refers to: without a flag, ``$`` matches at the very end only."""
    assert matches("^a$", "a")
    assert not matches("^a$", "a\n")


def test_examples_show_no_sentences_in_brackets() -> None:
    assert in_one_line(["cot", "mount"]) == "[cot, mount]"
    assert in_one_line({"a": True, "b": [1, 0.5]}) == "{a: true, b: [1, 0.5]}"
    assert in_one_line(["Pull it.", "Look at it."]) == ""
    assert in_one_line(["a, b"]) == ""


# Whatever stands in a file

WORDS = st.sampled_from(
    ["x", "Two Words", "1", "-1", "1.5", "true", "yes", " ", "a\nb", "others", "if needed", "deferred", "note", "Finch"]
)
SCALARS = st.builds(Scalar, WORDS, st.just(PLACE), st.booleans())
OTHER_KEYS = [
    "x-own",
    "zz",
    "who",
    "goto",
    "to",
    "up_to",
    "until",
    "check",
    "fix",
    "end",
    "again",
    "Finch",
    "A b",
    "a:b",
]


def table(entries: dict[str, Node]) -> Table:
    return Table({key: Entry(Scalar(key, PLACE, True), value) for key, value in entries.items()}, PLACE, True)


NODES: st.SearchStrategy[Node] = st.recursive(
    SCALARS,
    lambda inner: st.one_of(
        st.builds(Items, st.lists(inner, max_size=3), st.just(PLACE), st.booleans()),
        st.builds(table, st.dictionaries(st.sampled_from(OTHER_KEYS), inner, max_size=3)),
    ),
    max_leaves=6,
)


def owners(node: Node) -> list[Items | Table]:
    """Every list and mapping that has an entry."""
    below: list[Node] = []
    if isinstance(node, Items):
        below = node.items
    elif isinstance(node, Table):
        below = [entry.value for entry in node.entries.values()]
    found: list[Items | Table] = [node] if below and not isinstance(node, Scalar) else []
    return found + [owner for each in below for owner in owners(each)]


@settings(deadline=None, max_examples=200)
@given(data=st.data())
def test_no_file_is_beyond_words(data: st.DataObject) -> None:
    """A sample file with one value or key changed: each problem is of a known rule and well put."""
    path = data.draw(st.sampled_from(SAMPLE))
    root = load(path.read_bytes(), path.name).root
    assert root is not None
    owner = data.draw(st.sampled_from(owners(root)))
    if isinstance(owner, Items):
        owner.items[data.draw(st.integers(0, len(owner.items) - 1))] = data.draw(NODES)
    else:
        old = data.draw(st.sampled_from(sorted(owner.entries)))
        key = data.draw(st.sampled_from([old, *OTHER_KEYS]))
        del owner.entries[old]
        owner.entries[key] = Entry(Scalar(key, PLACE, True), data.draw(NODES))
    for problem in explain_shape(root, kind_of(path.name), path.name):
        assert problem.rule in SHAPE_RULES
        assert problem.message
        assert not problem.message[0].isupper()
        assert not problem.message.endswith(".")
        assert problem.help.split()[0] in {"write", "add", "take", "use", "make", "put", "begin"}
        assert problem.file == path.name


@pytest.mark.parametrize("kind", KINDS)
@settings(deadline=None, max_examples=20)
@given(root=NODES)
def test_any_root_is_refused(kind: str, root: Node) -> None:
    """None of the drawn values has the required keys."""
    assert explain_shape(root, kind, "any.yaml")


def test_sound_files_do_not_pay_for_the_schema_library() -> None:
    code = "import faulttree.load.explain, faulttree.load.schema, sys; sys.exit('jsonschema' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], cwd=HERE.parent.parent, check=False).returncode == 0


def test_no_words_of_the_schema_library_come_through() -> None:
    """Its own messages speak of schemas, properties and types."""
    said = " ".join(path.with_suffix(".txt").read_text(encoding="utf-8") for path in CASES)
    for word in ("schema", "propert", "regex", "instance", "anyOf", "valid under", "is not of type", "object", "array"):
        assert word not in said


def test_schemas_are_read_once() -> None:
    assert schema_text("tree") is schema_text("tree")
