"""Headers for listings: read line by line, and the same as when they are read as YAML."""

from __future__ import annotations

import subprocess
import sys
from datetime import date

import pytest
from building import HEADER, SAMPLE, tree_text
from hypothesis import given, settings
from hypothesis import strategies as st

from faulttree.dates import is_date
from faulttree.load import header
from faulttree.load.header import Header, has_end, read_header

PLAIN = """faulttree: 1
id: no-light            # = file name
short: LMP
symptom: The lamp doesn't light:never   # in any weather
also:
- dark

  # a comment
- no lamp
equipment: [hand lamp, head lamp]
models:
    - Finch
    - Wren
urgency: soon
revision: 12
date: 2026-01-31
status: draft
before:
  - The lamp's charger is off.
  - do: >-
      Say "it is off.

      # no comment
      id: [another
    # a comment "
    data: {A-1: "3", B: '4'}
report: |
  symptom: {another
first_actions: [{who: crew, do: Tag it.}]
otherwise: {cannot: out}
causes:
  flat: {is: "Cell
flat"}
"""

READ = Header(
    id="no-light",
    symptom="The lamp doesn't light:never",
    also=("dark", "no lamp"),
    equipment=("hand lamp", "head lamp"),
    urgency="soon",
    models=("Finch", "Wren"),
    revision=12,
    status="draft",
    date="2026-01-31",
)


def by_lines(text: str) -> Header | None:
    """The header as it is read line by line; None where that declines."""
    try:
        return header._header(header._plain_values(header._head_of(text.encode()).decode()))
    except header._Declined:
        return None


def by_yaml(text: str) -> Header | None:
    return header._read_as_yaml(header._head_of(text.encode()))


def test_a_plain_header_is_read_line_by_line() -> None:
    assert by_lines(PLAIN) == READ == by_yaml(PLAIN)


@pytest.mark.parametrize("item", ["'no lamp'", '"no lamp"', "no\n  lamp", ">\n  no lamp", "|\n  no lamp"])
def test_a_header_that_is_not_plain_is_read_as_yaml(item: str) -> None:
    text = PLAIN.replace("no lamp", item)
    assert by_lines(text) is None
    assert by_yaml(text) == read_header(text.encode()) == READ


def test_the_sample_is_read_line_by_line() -> None:
    text = (SAMPLE / "lamp-does-not-light.yaml").read_text()
    found = by_lines(text)
    assert found is not None
    assert (found.id, found.revision, found.also) == ("lamp-does-not-light", 2, ("lamp is dead", "no light"))
    assert found == by_yaml(text)


def test_line_ends_of_other_systems_and_a_byte_order_mark_change_nothing() -> None:
    assert read_header(PLAIN.replace("\n", "\r\n").encode()) == READ
    assert read_header(b"\xef\xbb\xbf" + PLAIN.encode()) == READ


def test_what_is_left_out_is_empty() -> None:
    found = read_header(tree_text("first: {end: out of service}").encode())
    assert found is not None
    assert (found.also, found.models) == ((), ())


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("id: no-light", "id: no light"),
        ("revision: 12", "revision: 0"),
        ("revision: 12", "revision: 1\u0663"),
        ("revision: 12", "revision: twelve"),
        ("date: 2026-01-31", "date: 2026-02-30"),
        ("status: draft", "status: ready"),
        ("urgency: soon\n", ""),
        ("equipment: [hand lamp, head lamp]\n", ""),
        ("- dark", "- dark\n- dark"),
        ("    - Wren", "    - wren"),
        ("symptom:", "symptom: {a: b}\nsymptom:"),
        ("The lamp", "The \x1b[31mlamp"),
        ("The lamp", "\u202eThe lamp"),
        ("short: LMP", "short: [LMP"),
        ("also:", "also: &a"),
    ],
)
def test_a_header_that_cannot_be_read_is_none(before: str, after: str) -> None:
    assert before in PLAIN
    text = PLAIN.replace(before, after, 1)
    assert read_header(text.encode()) is None


def test_bytes_that_are_no_text_have_no_header() -> None:
    assert read_header(b"") is None
    assert read_header(b"causes: {}") is None
    assert read_header(b"\xff\xfe\x00") is None
    assert read_header(PLAIN.replace("lamp", "l\udcffmp").encode(errors="surrogateescape")) is None


def test_only_what_stands_before_the_causes_is_read() -> None:
    text = PLAIN.partition("causes:")[0] + "causes:\n  ][ no YAML at all\nsymptom: another"
    assert read_header(text.encode()) == READ
    assert has_end(text.encode())
    assert not has_end(PLAIN.partition("\ncauses:")[0].encode())


@given(st.dates())
def test_every_day_of_the_calendar_is_a_date(day: date) -> None:
    assert is_date(day.isoformat())


@given(st.from_regex(r"[0-9]{4}-[0-3][0-9]-[0-3][0-9]", fullmatch=True))
def test_a_date_is_what_the_calendar_has(text: str) -> None:
    """Compared with the calendar of the standard library, which is the proleptic Gregorian one."""
    try:
        date.fromisoformat(text)
    except ValueError:
        assert not is_date(text)
    else:
        assert is_date(text)


@pytest.mark.parametrize(
    "text", ["", "2026", "2026-1-31", "20260131", "2026-W05-6", "2026-01-31T10", "٢٠٢٦-01-31", " 2026-01-31"]
)
def test_other_forms_are_no_dates(text: str) -> None:
    assert not is_date(text)


# -- the two ways agree

LINES = r"""
also: | also: [a, b] | also: [a, | b] | - a | - b | c d | models: [Wren] | models: Wren | before: | # c | }
symptom: a b | symptom: a: b | symptom: a #b | symptom: a # b | symptom: a#b | symptom: 'a' | symptom: | symptom: a:
symptom: "a | symptom: it's | symptom: > | id: x | x-own: "a | id: y" | 'id': z | symptom: - a | symptom: -a
revision: 0x10 | revision: 2.0 | date: 2024-02-29 | x-own: {a: [b]} | x-own: {a: | also: [] | also: [a, a] | ---
also: ['a', b] | also: [a: b] | equipment: [a] | equipment: | short: X | symptom: a\u00a0b | symptom:  a  b
"""
PIECES = [piece.strip() for line in LINES.strip().split("\n") for piece in line.split("|")]
PIECES += ["", "x-own: |", "symptom: a\u00a0b", "symptom: a\u2028b", *HEADER.strip().replace("    ", "").split("\n")]
PIECES += [
    *("x-own: >", "x-own: |-\n  id: [a", "x-own:\n  - b: >-\n      'c\n    d: e", 'x-own: {a: "b"}', "x-own: 'a' 'b"),
    *('x-own: {a: "b", c: \'d}', "x-own:\n  - |\n    'a\n  - 'b", "x-own: a >", "symptom: a > b", "symptom: 5' wide"),
]
PIECES += [indent + piece for indent in ("  ", "    ") for piece in ("- a", "- b", "c d", "# c", "b]", "id: x", "}")]
"""Lines that headers are put together of, sound and unsound."""


def put_in(lines: list[str], piece: str, at: int) -> None:
    """Puts a piece in the place of the line that has the same key, else at a place of its own."""
    key = piece.partition(":")[0]
    same = [index for index, line in enumerate(lines) if line.partition(":")[0] == key and ":" in piece]
    if same:
        lines[same[0]] = piece
    else:
        lines.insert(at % (len(lines) + 1), piece)


@settings(max_examples=400)
@given(st.lists(st.tuples(st.sampled_from(PIECES), st.integers(0, 20)), max_size=5))
def test_both_ways_read_the_same_header_where_both_read_one(pieces: list[tuple[str, int]]) -> None:
    lines = HEADER.strip().replace("    ", "").split("\n")
    for piece, at in pieces:
        put_in(lines, piece, at)
    text = "\n".join(lines) + "\ncauses: {}\n"
    quick, careful = by_lines(text), by_yaml(text)
    if quick is not None and careful is not None:
        assert quick == careful
    assert read_header(text.encode()) == (quick or careful)


def test_no_yaml_and_no_model_are_imported_for_a_plain_header() -> None:
    """Listings are asked for at the start of every walk; what they do not need would be waited for."""
    code = (
        "import sys; from pathlib import Path; from faulttree.load.header import read_header\n"
        f"assert read_header(Path({str(SAMPLE / 'lamp-does-not-light.yaml')!r}).read_bytes())\n"
        "print(' '.join(set(sys.modules) & {'yaml', 'dataclasses', 'jsonschema', 'faulttree.model', 'inspect'}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""
