"""Nothing that is printed can act on a terminal, and no encoding ends the program."""

from __future__ import annotations

import io
import sys
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faulttree.cli import output
from faulttree.cli.output import Bold, out, wants_colour, width
from faulttree.visible import carried, one_line, visible

ANY_TEXT = st.text(st.characters(exclude_categories=()))
BIDI_CLASSES = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}


@given(ANY_TEXT)
def test_nothing_that_acts_on_a_terminal_gets_through(text: str) -> None:
    """No character of category Cc but newline and tab, no bidirectional control, no surrogate, no line separator."""
    for character in visible(text):
        assert character in "\n\t" or unicodedata.category(character) not in ("Cc", "Cs", "Zl", "Zp")
        assert unicodedata.bidirectional(character) not in BIDI_CLASSES
        assert character not in "\u061c\u200e\u200f"


TAGS = "".join(map(chr, range(0xE0000, 0xE0080)))
"""The block Tags, unassigned places included (Unicode, Blocks.txt)."""


@given(st.text(st.characters(exclude_categories=("Cc", "Cf", "Cs", "Zl", "Zp"), exclude_characters=TAGS)))
def test_a_text_without_such_characters_stays_as_it_is(text: str) -> None:
    assert visible(text) == text


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("\x1b[2J", "\\x1b[2J"),
        ("\x9b31m", "\\x9b31m"),
        ("a\u202eb", "a\\u202eb"),
        ("\ud800", "\\ud800"),
        ("a\u2028b", "a\\u2028b"),
        ("\x7f\r", "\\x7f\\x0d"),
        ("a\u200bb\xad\U000e0041", "a\\u200bb\\u00ad\\U000e0041"),
    ],
)
def test_such_characters_are_shown_by_their_code(text: str, shown: str) -> None:
    assert visible(text) == shown


def test_one_line_has_no_line_end() -> None:
    assert one_line("a\nb\tc\r") == "a\\nb\\tc\\x0d"


@given(ANY_TEXT, st.sampled_from(["ascii", "latin-1", "cp1252", "utf-8", "cp437"]))
def test_every_text_can_be_written_in_every_encoding(text: str, encoding: str) -> None:
    """With the error handler that `prepare` sets, writing never fails, and no escape byte comes out."""
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding=encoding, errors="backslashreplace", newline="\n")
    stream.write(carried(visible(text), encoding))
    stream.flush()
    assert not set(raw.getvalue()) & (set(range(0x20)) - {0x09, 0x0A} | {0x7F})


def test_signs_have_forms_in_ascii() -> None:
    assert carried("0.5 N·m — ≥ 3 → “a”", "ascii") == '0.5 N.m - >= 3 -> "a"'
    assert carried("0.5 N·m", "utf-8") == "0.5 N·m"
    assert carried("0.5 N·m", "latin-1") == "0.5 N·m"


@pytest.mark.parametrize(
    ("option", "environ", "terminal", "wanted"),
    [
        ("auto", {}, True, True),
        ("auto", {}, False, False),
        ("auto", {"NO_COLOR": ""}, True, True),
        ("auto", {"NO_COLOR": "1"}, True, False),
        ("auto", {"NO_COLOR": "1", "FORCE_COLOR": "1"}, True, False),
        ("auto", {"FORCE_COLOR": "1"}, False, True),
        ("auto", {"FORCE_COLOR": ""}, False, False),
        ("auto", {"TERM": "dumb"}, True, False),
        ("always", {"NO_COLOR": "1", "TERM": "dumb"}, False, True),
        ("never", {"FORCE_COLOR": "1"}, True, False),
    ],
)
def test_when_colour_is_used(option: str, environ: dict[str, str], terminal: bool, wanted: bool) -> None:
    """The rules of no-color.org and force-color.org for empty and set variables; the option beats both."""
    assert wants_colour(option, environ, terminal) is wanted


def test_bold_is_written_only_with_colour(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    out(Bold("error"), " x")
    assert capsys.readouterr().out == "error x\n"
    monkeypatch.setitem(output._inked, "stdout", True)
    out(Bold("err\x1bor"), " x")
    assert capsys.readouterr().out == "\x1b[1merr\\x1bor\x1b[0m x\n"


@pytest.mark.parametrize(("columns", "wanted"), [("40", 40), ("7", 24), ("500", 100), ("", 80), ("many", 80)])
def test_width(columns: str, wanted: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    monkeypatch.setattr(output.os, "get_terminal_size", _no_terminal)
    assert width() == wanted


def _no_terminal(_: int) -> None:
    raise OSError


def test_a_stream_that_is_not_there_is_no_error(monkeypatch: pytest.MonkeyPatch) -> None:
    """A program without a console has None for its streams."""
    monkeypatch.setattr(sys, "stdout", None)
    out("into nothing")
