"""Numbers and truth values against the core schema of YAML 1.2.2.

Section 10.3.2 has two tables: the regular expressions of tag resolution, and (example 10.9) the
results for a sample document. Both are used; the expressions are copied here as printed.
"""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from faulttree.load.nodes import Scalar
from faulttree.load.parse import load
from faulttree.load.scalars import bool_problem, number_problem, read_bool, read_number
from faulttree.problems import Span

PLACE = Span(3, 5, 3, 9)

# YAML 1.2.2, section 10.3.2, table of the core schema, as printed but for the blanks.
INT_10, INT_8, INT_16 = "[-+]?[0-9]+", "0o[0-7]+", "0x[0-9a-fA-F]+"
FLOAT = r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?"
INFINITY, NOT_A_NUMBER = r"[-+]?(\.inf|\.Inf|\.INF)", r"\.nan|\.NaN|\.NAN"
TRUE_OR_FALSE = "true|True|TRUE|false|False|FALSE"


def plain(text: str) -> Scalar:
    return Scalar(text, PLACE, True)


def number(text: str) -> int | float | None:
    return read_number(plain(text))


# YAML 1.2.2, example 10.9: [0, 0o7, 0x3A, -19], [0., -0.0, .5, +12e03, -2E+05], [true, True, false, FALSE].
@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("0", 0),
        ("0o7", 7),
        ("0x3A", 58),
        ("-19", -19),
        ("0.", 0.0),
        ("-0.0", -0.0),
        (".5", 0.5),
        ("+12e03", 12000.0),
        ("-2E+05", -200000.0),
    ],
)
def test_numbers_of_the_specification(text: str, value: float) -> None:
    """The printed numbers have the printed values and types, signs of zero included."""
    read = number(text)
    assert (read, type(read)) == (value, type(value))
    assert read is not None
    assert math.copysign(1, read) == math.copysign(1, value)


@pytest.mark.parametrize(("text", "value"), [("true", True), ("True", True), ("false", False), ("FALSE", False)])
def test_truth_values_of_the_specification(text: str, value: bool) -> None:
    """The printed truth values are read as printed."""
    assert read_bool(plain(text)) is value


# Forms of YAML 1.1 and of other languages, which the core schema of 1.2 does not know as numbers.
@pytest.mark.parametrize(
    "text",
    [
        "1_000",
        "0b11",
        "12:30",
        "12:30:00",
        "0o8",
        "0xg",
        "-0o7",
        "+0x1",
        "1e",
        "e5",
        ".",
        "-",
        "+",
        "",
        " 1",
        "1 ",
        "1,5",
        "1.2.3",
        "٣",
        "１",
        "½",
        "0O7",
        "0X1",
        "1e1.5",
        "--1",
        "infinity",
        "nan",
        "null",
        "~",
        "true",
        "2024-01-31",
        "1\n",
    ],
)
def test_what_is_no_number(text: str) -> None:
    """These are texts, and the problem says so."""
    assert number(text) is None
    assert "is not a number" in number_problem(plain(text), "a.yaml").message


@pytest.mark.parametrize("text", ["yes", "no", "on", "off", "y", "n", "tRUE", "1", "0", "", "~", "true "])
def test_what_is_no_truth_value(text: str) -> None:
    """The words of YAML 1.1 are texts, and the problem says what to write."""
    assert read_bool(plain(text)) is None
    problem = bool_problem(plain(text), "a.yaml")
    assert problem.message == f'"{text.strip()}" is neither true nor false'
    assert (problem.rule, problem.help, problem.span) == ("value-not-true-false", 'write "true" or "false"', PLACE)


@pytest.mark.parametrize("text", [".inf", "-.Inf", "+.INF", ".nan", ".NaN", ".NAN"])
def test_infinity_and_not_a_number_are_refused(text: str) -> None:
    """They are floats of the core schema, and refused with a message of their own."""
    assert number(text) is None
    assert number_problem(plain(text), "a.yaml").message == f'"{text}" is no figure'


@pytest.mark.parametrize(
    "text",
    [
        "1" * 19,
        "-" + "9" * 19,
        "1." + "0" * 18,
        "0.1234567890123456789",
        "1e400",
        "-1e400",
        "1e-400",
        "5e99999999999",
        "0x" + "f" * 16,
        "0o" + "7" * 40,
        "9" * 5000,
        "0x" + "f" * 5000,
    ],
)
def test_numbers_too_large_are_refused(text: str) -> None:
    """More than 18 digits or an exponent beyond a double: no value, and the problem says which of the forms it is."""
    assert number(text) is None
    problem = number_problem(plain(text), "a.yaml")
    assert "more than 18 digits" in problem.message
    assert len(problem.message) < 150


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("9" * 18, 10**18 - 1),
        ("-" + "9" * 18, 1 - 10**18),
        ("0123", 123),
        ("+7", 7),
        ("-0", 0),
        ("0" * 5000 + "7", 7),
        ("0.0", 0.0),
        ("0e-999", 0.0),
        ("1e308", 1e308),
        ("0.12345678901234567", 0.12345678901234566),
        ("0x0", 0),
    ],
)
def test_numbers_at_the_limits(text: str, value: float) -> None:
    """The largest that are read, zeros in front, and zero with any exponent."""
    assert (number(text), type(number(text))) == (value, type(value))


@pytest.mark.parametrize("text", ["1", "0.5", "0x1F"])
def test_quoted_numbers_are_texts(text: str) -> None:
    """Quotes make a text; the problem says to take them away."""
    quoted = Scalar(text, PLACE, False)
    assert read_number(quoted) is None
    assert number_problem(quoted, "a.yaml").message == f'"{text}" is a text because of its quotes'


def test_quoted_truth_values_are_texts() -> None:
    """Quotes make a text; the problem says to take them away."""
    quoted = Scalar("true", PLACE, False)
    assert read_bool(quoted) is None
    assert bool_problem(quoted, "a.yaml").help == "write true without quotes"


@given(st.one_of(st.text("0123456789+-.eExoabfINnatrue_:", max_size=12), st.floats().map(str), st.integers().map(str)))
@example("1e5")
def test_forms_are_those_of_the_specification(text: str) -> None:
    """A text is a number exactly where the printed expressions say so, sizes and infinities apart."""
    read = number(text)
    if read is not None:
        form = INT_10 if isinstance(read, int) and not text.startswith(("0o", "0x")) else f"{FLOAT}|{INT_8}|{INT_16}"
        assert re.fullmatch(form, text)
    elif not re.fullmatch(f"{INFINITY}|{NOT_A_NUMBER}", text):
        form = f"{INT_10}|{INT_8}|{INT_16}|{FLOAT}"
        assert not re.fullmatch(form, text) or "more than 18 digits" in number_problem(plain(text), "a").message
    assert (read_bool(plain(text)) is not None) == bool(re.fullmatch(TRUE_OR_FALSE, text))


@given(st.floats(allow_nan=False, allow_infinity=False, width=32))
def test_floats_come_back(value: float) -> None:
    """What Python writes is read as the same float."""
    text = repr(value)
    if sum(map(str.isdigit, text.split("e")[0])) <= 18:
        assert number(text) == value


def test_texts_keep_their_characters() -> None:
    """Nothing is resolved by its look: the traps of YAML 1.1 stay as written."""
    traps = ["4.10", "0123", "yes", "no", "12:30", "null", "~", "2024-13-45", "1_000", "=", ".nan", "0o12", "9" * 30]
    loaded = load("".join(f"- {trap}\n" for trap in traps).encode(), "a.yaml")
    assert loaded.problems == ()
    assert [item.value for item in loaded.root.items] == traps  # type: ignore
