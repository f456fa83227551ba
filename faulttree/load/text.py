"""From bytes to text: size, encoding, and the characters that no file of a library may hold.

Control, escape and direction characters could draw on a terminal or reorder what a reader sees, and what is not seen
makes two texts of what looks like one, so they are refused, whether they stand in the file or come from an escape in
double quotes. CRLF counts as one line end. NEL, LS
and PS are refused too: YAML 1.1 counts lines by them, editors do not.
"""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from codecs import BOM_UTF8
from functools import cache
from itertools import islice
from typing import NamedTuple

from yaml.error import Mark

from faulttree import visible
from faulttree.problems import ERROR, START_OF_FILE, Problem, Span

SIZE_LIMIT = 1024 * 1024
"""Largest file in bytes."""

MOST_CHARACTERS = 20
"""So many refused characters of a file are reported one by one."""

LONGEST_CULPRIT = 60
"""So many characters of a culprit fit a message."""

STAND_IN = "\N{REPLACEMENT CHARACTER}"

BIDI = "".join(sorted(visible.BIDI_CONTROLS))

UNSEEN = "".join(sorted(visible.UNSEEN)) + "\U000e0001\U000e0020-\U000e007f"
"""Format characters that are not seen and that no script needs: those of Default_Ignorable_Code_Point (Unicode,
DerivedCoreProperties.txt, from memory) without joiners, and without what turns the direction."""

_ASCII_TEXT = b"\n" + bytes(range(0x20, 0x7F))
_REFUSED = "\0-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufdd0-\ufdef\ufeff\ufffe\uffff" + BIDI + UNSEEN
_PLANE_ENDS = "".join(chr(plane + low) for plane in range(0x10000, 0x110000, 0x10000) for low in (0xFFFE, 0xFFFF))

DASH_LINE = re.compile(r"\n[ \t]*(-[ \t]*\S*)")
"""A line of a text in plain form, not the first, that begins with a dash: up to the end of its first word."""

_BYTE_ORDER_MARKS = (
    (b"\xff\xfe\0\0", "UTF-32"),
    (b"\0\0\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)
_SAVE_AS_UTF8 = "save the file as UTF-8"


@cache
def refused() -> re.Pattern[str]:
    """Matches one character that no text may hold; compiled only when a text has an unusual one."""
    return re.compile(f"[\r{_REFUSED}{_PLANE_ENDS}]")


@cache
def refused_in_file() -> re.Pattern[str]:
    """The same in a file, where a carriage return may stand before a line feed."""
    return re.compile(f"(?!\r\n){refused().pattern}")


class Decoded(NamedTuple):
    """What the bytes of a file say. ``readable`` is false where no YAML can be read from ``text``.

    ``text`` has no byte order mark; refused characters are replaced one for one, so that columns stay.
    """

    text: str
    readable: bool
    problems: list[Problem]


def decode(data: bytes, file: str) -> Decoded:
    """The text in ``data`` and what is wrong with its bytes."""
    if len(data) > SIZE_LIMIT:
        message = f"the file has {len(data)} bytes, more than {SIZE_LIMIT}"
        return _unreadable("", "yaml-too-large", message, "split the file in two", file)
    other = _other_encoding(data)
    if other:
        message = f"the file is in {other}, not in UTF-8"
        return _unreadable("", "yaml-not-utf8", message, _SAVE_AS_UTF8, file)
    _, body = without_mark(data)
    try:
        text = body.decode()
        unusual = body.translate(None, _ASCII_TEXT).decode()
    except UnicodeDecodeError as error:
        return _not_utf8(body, error, file)
    if unusual and refused_in_file().search(unusual):
        return _with_refused(text, file)
    return Decoded(text, True, [])


def without_mark(data: bytes) -> tuple[bytes, bytes]:
    """The byte order mark of UTF-8, empty where there is none, and the rest."""
    return (BOM_UTF8, data[len(BOM_UTF8) :]) if data.startswith(BOM_UTF8) else (b"", data)


def _other_encoding(data: bytes) -> str:
    """The name of another Unicode encoding, by the first four bytes (YAML 1.2.2, section 5.2), or an empty text."""
    for mark, name in _BYTE_ORDER_MARKS:
        if data.startswith(mark):
            return name
    zeros = tuple(byte == 0 for byte in data[:4])
    if zeros in ((True, True, True, False), (False, True, True, True)):
        return "UTF-32"
    if zeros[:2] in ((True, False), (False, True)) and zeros[2:] in (zeros[:2], ()):
        return "UTF-16"
    return ""


def _unreadable(text: str, rule: str, message: str, advice: str, file: str, span: Span = START_OF_FILE) -> Decoded:
    return Decoded(text, False, [Problem(rule, ERROR, message, advice, file, span)])


def _not_utf8(body: bytes, error: UnicodeDecodeError, file: str) -> Decoded:
    before = body[: error.start].decode()
    message = f'the byte "{body[error.start]:02x}" (hexadecimal) is not UTF-8'
    text = refused_in_file().sub(STAND_IN, body.decode(errors="replace"))
    return _unreadable(text, "yaml-not-utf8", message, _SAVE_AS_UTF8, file, Places(before).span(len(before)))


def _with_refused(text: str, file: str) -> Decoded:
    """The text with stand-ins; the first refused characters as problems, the rest as a number."""
    found = list(islice(refused_in_file().finditer(text), MOST_CHARACTERS))
    clean, count = refused_in_file().subn(STAND_IN, text)
    place = Places(text).span
    problems = [refused_character(match[0], place(match.start()), file) for match in found]
    if count > len(found):
        last = problems[-1]
        problems[-1] = last._replace(message=f"{last.message}; {count - len(found)} more follow")
    return Decoded(clean, True, problems)


class Places:
    """Turns an index into a text into a line and a column; made once for a text, each question is cheap."""

    def __init__(self, text: str) -> None:
        self._starts = [0, *(match.end() for match in re.finditer("\n", text))]

    def span(self, index: int, length: int = 1) -> Span:
        """The span of ``length`` characters of one line, from ``index`` on."""
        line = bisect_right(self._starts, index)
        column = index - self._starts[line - 1] + 1
        return Span(line, column, line, column + length)


def refused_character(character: str, span: Span, file: str, escape: str = "") -> Problem:
    """The problem of a character that no text may hold; ``escape`` is how it was written, if not as itself."""
    bidi = bool(re.match(f"[{BIDI}]", character))
    name = "a character that turns the direction of writing" if bidi else _kind(character)
    code = f"U+{ord(character):04X}"
    what = f'the escape "{escape}" stands for {name}, "{code}"' if escape else f'here is {name}, "{code}"'
    advice = "delete it: what is read would differ from what is stored" if bidi else "delete it, or write it in words"
    return Problem("yaml-bidi" if bidi else "yaml-control-character", ERROR, what, advice, file, span)


def _kind(character: str) -> str:
    if character == "\r":
        return "a carriage return without a line feed"
    if character == "\ufeff":
        return "a byte order mark inside the text"
    if re.match(f"[{UNSEEN}]", character):
        return "a character that is not seen"
    category = unicodedata.category(character)
    return {"Cs": "half of a surrogate pair", "Cn": "a code that is no character"}.get(category, "a control character")


def block_span(text: str, start: Mark, end: Mark) -> Span:
    """The span of a text under ``|`` or ``>``: from its mark to the last character of its last line.

    Readers let the end run on over blank lines.
    """
    written = text[start.index : end.index].rstrip()
    breaks = written.count("\n")
    end_column = len(written) - written.rfind("\n") if breaks else start.column + 2
    return Span(start.line + 1, start.column + 1, start.line + 1 + breaks, end_column)


def short(text: str) -> str:
    """The text on one line, cut to a length that fits a message; what does not print is replaced."""
    line = " ".join(text.split())
    if not line.isprintable():
        line = "".join(character if character.isprintable() else STAND_IN for character in line)
    return line if len(line) <= LONGEST_CULPRIT else line[: LONGEST_CULPRIT - 3] + "..."
