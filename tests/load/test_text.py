"""From bytes to text: sizes, encodings, line ends, and the characters that are refused."""

from __future__ import annotations

import sys
import unicodedata

import pytest
from node_form import bare

from faulttree.load.parse import load
from faulttree.load.text import SIZE_LIMIT, Places, decode, refused, short
from faulttree.problems import START_OF_FILE, Span

# Unicode 15, PropList.txt, property Bidi_Control: U+061C, U+200E..U+200F, U+202A..U+202E, U+2066..U+2069.
BIDI_CONTROL = {0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A)}

# Format characters of Default_Ignorable_Code_Point (Unicode, DerivedCoreProperties.txt; from memory) that no script
# needs: soft hyphen, vowel separator, blanks and operators without width, tags. Joiners stay.
NOT_SEEN = {0xAD, 0x180E, 0x200B, *range(0x2060, 0x2065), 0xE0001, *range(0xE0020, 0xE0080)}

# The Unicode Standard, section 23.7: the 66 codes that are for ever no characters.
NO_CHARACTERS = {
    *range(0xFDD0, 0xFDF0),
    *(plane + end for plane in range(0, 0x110000, 0x10000) for end in (0xFFFE, 0xFFFF)),
}


def rules(data: bytes) -> list[str]:
    return [problem.rule for problem in load(data, "a.yaml").problems]


def test_largest_file() -> None:
    """A mebibyte is read, one byte more is not even looked at."""
    largest = b"a: " + b"x" * (SIZE_LIMIT - 3)
    assert rules(largest) == []
    loaded = load(largest + b"\xff", "a.yaml")
    (problem,) = loaded.problems
    assert (problem.rule, problem.span, loaded.root, loaded.text) == ("yaml-too-large", START_OF_FILE, None, "")
    assert problem.message == "the file has 1048577 bytes, more than 1048576"


def test_byte_order_mark_is_dropped() -> None:
    """The mark is no part of the text and moves no column."""
    loaded = load("\ufeffa: 1\n".encode(), "a.yaml")
    assert loaded.text == "a: 1\n"
    assert loaded.root is not None
    assert loaded.root.span == Span(1, 1, 1, 2)
    assert rules("\ufeff\ufeffa: 1\n".encode()) == ["yaml-control-character"]


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32", "utf-32-le", "utf-32-be"])
@pytest.mark.parametrize("text", ["a: 1\n", "# é\na: 1\n", "{}"])
def test_other_encodings_are_named(encoding: str, text: str) -> None:
    """UTF-16 and UTF-32 are told by name, with or without a mark (YAML 1.2.2, section 5.2, the table)."""
    (problem,) = load(text.encode(encoding), "a.yaml").problems
    assert problem.rule == "yaml-not-utf8"
    assert f"in {encoding[:6].upper()}," in problem.message


def test_crlf_is_one_line_end() -> None:
    """Lines and columns are those of the same text with line feeds; values hold no carriage return."""
    text = "a: b\n# c\nd: |\n  e\n  f\n\ng: 'h\n  i'\nj: &k l\n"
    with_crlf = load(text.replace("\n", "\r\n").encode(), "a.yaml")
    with_lf = load(text.encode(), "a.yaml")
    assert with_crlf.problems == with_lf.problems
    assert [problem.rule for problem in with_lf.problems] == ["yaml-anchor"]
    assert with_crlf.text == text.replace("\n", "\r\n")


def test_every_refused_character_and_no_other() -> None:
    """C0 but tab and line feed, DEL, C1, lone surrogates, bidi, line separators, BOM, not seen, no characters."""
    every = "".join(map(chr, range(sys.maxunicode + 1)))
    controls = {ord(c) for c in every if unicodedata.category(c) in ("Cc", "Cs", "Zl", "Zp")} - {0x09, 0x0A}
    assert set(map(ord, refused().findall(every))) == controls | BIDI_CONTROL | NO_CHARACTERS | NOT_SEEN | {0xFEFF}
    assert {unicodedata.category(chr(code)) for code in NOT_SEEN} == {"Cf"}


@pytest.mark.parametrize(
    "code",
    [0x00, 0x07, 0x0B, 0x1B, 0x7F, 0x80, 0x85, 0x9F, 0xAD, 0x200B, 0x2028, 0x202E, 0xFDD0, 0xFEFF, 0x1FFFE, 0xE0041],
)
def test_raw_and_escaped_characters_are_refused_alike(code: int) -> None:
    """A character is refused where it stands and where an escape brings it; reading goes on after both."""
    raw = load(f"a: x{chr(code)}y\nb:\n".encode(), "a.yaml")
    escaped = load(f'a: "x\\U{code:08X}y"\nb:\n'.encode(), "a.yaml")
    rule = "yaml-bidi" if code in BIDI_CONTROL else "yaml-control-character"
    assert [(p.rule, p.span) for p in raw.problems] == [(rule, Span(1, 5, 1, 6)), ("yaml-empty", Span(2, 1, 2, 2))]
    assert [(p.rule, p.span) for p in escaped.problems] == [(rule, Span(1, 6, 1, 16)), ("yaml-empty", Span(2, 1, 2, 2))]
    assert all(f"U+{code:04X}" in loaded.problems[0].message for loaded in (raw, escaped))


def test_refused_characters_reach_no_value() -> None:
    """What is read on with has stand-ins, one for one."""
    loaded = load(b'a: "\\e\\ud800"\nb: \x1bc\n', "a.yaml")
    assert loaded.text == 'a: "\\e\\ud800"\nb: \ufffdc\n'
    assert bare(loaded.root) == {"a": "\ufffd\ufffd", "b": "\ufffdc"}


def test_many_refused_characters_are_counted() -> None:
    """A binary file gives twenty problems and a number, not a million problems."""
    problems = decode(b"a" + b"\x01" * 1000, "a.yaml").problems
    assert len(problems) == 20
    assert problems[-1].message.endswith("; 980 more follow")


def test_places_count_code_points() -> None:
    """Columns count code points, lines only line feeds; the index after the end has a place."""
    place = Places("é😀x\n\ny").span
    assert [place(index)[:2] for index in range(7)] == [(1, 1), (1, 2), (1, 3), (1, 4), (2, 1), (3, 1), (3, 2)]


def test_short_fits_one_line() -> None:
    """Culprits in messages are one line of bounded length."""
    assert short("a\n  b") == "a b"
    assert len(short("x" * 1000)) == 60
    assert short("soft\xadhyphen, \u200bwide space\u3000") == "soft\ufffdhyphen, \ufffdwide space"
