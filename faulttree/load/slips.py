"""Slips of the hand behind an error of syntax: what a reader of YAML cannot name, because to it all was text.

A no-break space looks like a blank and counts as a letter; it comes along when text is pasted. A colon without a blank
after it is part of a word. Quotes that were not closed end where the next ones open, many lines below.
"""

from __future__ import annotations

import re
from typing import NamedTuple

_LIKE_BLANKS = "\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000"
_ODD_BLANK = re.compile(rf"^[ -]*(?:[\w-]+:)?[ ]*([{_LIKE_BLANKS}])")
COLON_IN_WORD = re.compile(r"^ *(?:- +)?[A-Za-z][\w-]*(:)(?=[^\s:/])")
"""A key whose colon has no blank after it; in group 1 the colon."""


class Slip(NamedTuple):
    """Where the slip is in the text, and what is said of it."""

    start: int
    message: str
    advice: str


def slip_near(text: str, index: int, above: bool = True) -> Slip | None:
    """What was probably meant in the line of an index, or in the line above it; None where nothing is seen."""
    begin = text.rfind("\n", 0, index) + 1
    lines = [_line(text, begin)]
    before = text[:begin].rstrip("\n ")
    if above and before:
        lines.append(_line(text, before.rfind("\n") + 1))
    for look in (_odd_blank, _colon):
        for start, line in lines:
            if slip := look(start, line):
                return slip
    return None


def _line(text: str, begin: int) -> tuple[int, str]:
    end = text.find("\n", begin)
    return begin, text[begin : end if end >= 0 else len(text)]


def _odd_blank(start: int, line: str) -> Slip | None:
    match = _ODD_BLANK.match(line)
    if not match:
        return None
    name = "a no-break space" if match[1] in "\u00a0\u202f" else "an unusual space"
    message = f'here is {name}, "U+{ord(match[1]):04X}", which does not count as a blank'
    return Slip(start + match.start(1), message, "put a blank in its place, and in that of all like it")


def _colon(start: int, line: str) -> Slip | None:
    match = COLON_IN_WORD.match(line)
    return Slip(start + match.start(1), NO_BLANK, AFTER_COLON) if match else None


NO_BLANK = "no blank follows the colon, so this is no key with a value"
AFTER_COLON = "put a blank after the colon; put a text that is meant so in quotes"


_KEY_IN_QUOTES = re.compile(r"\n *(?:- +)?[A-Za-z][\w-]*:(?: |\n)")


def quote_slip(text: str, index: int) -> Slip | None:
    """What is wrong with the quotes that end before an index where more text follows; None where none end there."""
    quoted = _quoted_before(text, index)
    if quoted is None:
        return None
    start, end = quoted
    if _KEY_IN_QUOTES.search(text, start, end):
        message = f"the quotes that open here are closed only in line {text.count(chr(10), 0, end) + 1}"
        return Slip(start, message, "close them where the text ends")
    advice = "put a text that has quotes in it in single quotes"
    if text[start] == "'":
        advice = "write an apostrophe in single quotes twice, or put the text in double quotes"
    return Slip(end - 1, "the quotes end here, and more text follows", advice)


def _quoted_before(text: str, index: int) -> tuple[int, int] | None:
    """Where the text in quotes begins and ends that stands right before an index."""
    import yaml

    try:
        for token in yaml.scan(text, Loader=yaml.SafeLoader):
            end = token.end_mark.index
            if isinstance(token, yaml.ScalarToken) and token.style in ("'", '"') and not text[end:index].strip(" "):
                return (token.start_mark.index, end) if end <= index else None
            if end > index:
                return None
    except yaml.YAMLError:
        return None
    return None
