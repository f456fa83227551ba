"""What a YAML reader found wrong, in words of our own, with what to write instead.

The readers speak of tokens and of node content; a mechanic who writes a tree needs to hear of quotes, colons and
indentation. Each case below names a part of the reader's message, the rule, our message and our advice. ``{found}``
stands for the culprit, ``{line}`` for the line where the broken thing began.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

from yaml.error import Mark, MarkedYAMLError

from faulttree.load.slips import quote_slip, slip_near
from faulttree.load.text import short
from faulttree.problems import ERROR, Problem, Span

RULES = (
    ("prose-comma", "a comma has split a sentence in braces or brackets, and its rest became a key or an item"),
    ("prose-comment", "a comment one blank after a text was probably meant as part of it"),
    ("prose-dash", "a line that begins with a dash was read as part of a text, or is no item"),
    ("yaml-alias", "an alias stands for a value written elsewhere"),
    ("yaml-anchor", "an anchor names a value for use elsewhere"),
    ("yaml-bidi", "a character turns the direction of writing"),
    ("yaml-control-character", "a control character, or a code that is no character"),
    ("yaml-directive", "a line of instructions to the YAML reader"),
    ("yaml-documents", "a second document in one file"),
    ("yaml-empty", "a value, an item or the whole file is empty"),
    ("yaml-key-not-text", "a key is empty or a collection"),
    ("yaml-key-twice", "a key stands twice in one mapping"),
    ("yaml-merge", "a key would merge another mapping"),
    ("yaml-not-utf8", "the file is not in UTF-8"),
    ("yaml-syntax", "the text is not YAML"),
    ("yaml-tab", "a tab stands where blanks are wanted"),
    ("yaml-tag", "a tag says of which type a value is"),
    ("yaml-too-deep", "the nesting is too deep"),
    ("yaml-too-large", "the file is too large"),
)
"""Every rule that reading can break, with what it is about, in alphabetical order."""

_QUOTE = "put the text in quotes"
_INDENT = "indent all lines of one level by the same number of blanks"
_ESCAPE = "write two backslashes for a backslash, or use single quotes"
_DIRECTIVE = "delete the line that starts with a percent sign"


class _Case(NamedTuple):
    """``wanted`` is searched for in the reader's message; ``at_start`` points at where the broken thing began."""

    wanted: str
    rule: str
    message: str
    advice: str
    at_start: bool = False


_CASES = (
    _Case(r"character '\\t' that cannot", "yaml-tab", "a tab stands where blanks are wanted", "indent by blanks"),
    _Case(r"character .* that cannot start", "yaml-syntax", 'a text cannot start with "{found}"', _QUOTE),
    _Case(r"directive|incompatible YAML", "yaml-directive", "a line of instructions to the YAML reader", _DIRECTIVE),
    _Case(r"duplicate tag handle", "yaml-directive", "a line of instructions to the YAML reader", _DIRECTIVE),
    _Case(r"an alias", "yaml-alias", 'a text cannot start with "*"', _QUOTE, True),
    _Case(r"an anchor", "yaml-anchor", 'a text cannot start with "&"', _QUOTE, True),
    _Case(r"a tag|undefined tag handle", "yaml-tag", 'a text cannot start with "!"', _QUOTE, True),
    _Case(r"unexpected end of stream", "yaml-syntax", "the quotes that open here are never closed", "close them", True),
    _Case(
        r"unexpected document separator",
        "yaml-syntax",
        'the quotes that open here are still open at "---" or "..."',
        "close them",
        True,
    ),
    _Case(r"unknown escape character", "yaml-syntax", 'there is no escape "\\{found}"', _ESCAPE),
    _Case(r"hexadecimal numbers", "yaml-syntax", "an escape has too few hexadecimal digits", _ESCAPE),
    _Case(r"block scalar", "yaml-syntax", 'only a line end may follow "|" or ">"', "begin the text on the next line"),
    _Case(
        r"expected ':'",
        "yaml-syntax",
        "here is no colon, so this is no key with a value",
        'write "key: value", or indent the line if it goes on with the text above',
        True,
    ),
    _Case(
        r"sequence entries are not",
        "yaml-syntax",
        "a list cannot start here",
        "start the list on a line of its own, with all dashes in one column",
    ),
    _Case(r"mapping keys are not", "yaml-syntax", "a question mark cannot start a key here", _QUOTE),
    _Case(r"found '(<directive>)'", "yaml-directive", "a line of instructions to the YAML reader", _DIRECTIVE),
    _Case(
        r"flow (sequence|mapping).*stream end",
        "yaml-syntax",
        'the "{found}" that opens here is never closed',
        "close it",
        True,
    ),
    _Case(
        r"flow sequence",
        "yaml-syntax",
        'here a comma or "]" is missing; the list opens in line {line}',
        "put a text with brackets or colons in quotes",
    ),
    _Case(
        r"flow mapping",
        "yaml-syntax",
        'here a comma or "}}" is missing; the braces open in line {line}',
        "put a text with braces or colons in quotes",
    ),
    _Case(r"block mapping.*'<block", "yaml-syntax", "the indentation of this line fits no line above", _INDENT),
    _Case(r"block collection.*'<block", "yaml-syntax", "the indentation of this line fits no item above", _INDENT),
    _Case(r"block mapping.*'-'", "yaml-syntax", "a dash stands among keys", "indent the list below its key"),
    _Case(r"block collection.*'\?'", "yaml-syntax", "a key stands among the items of a list", _INDENT),
    _Case(
        r"block (mapping|collection).*'<scalar>'",
        "yaml-syntax",
        "more text follows what has ended",
        "put the whole text in quotes, and check the indentation",
    ),
    _Case(r"found ':'", "yaml-syntax", "a colon stands here without a key before it", _QUOTE),
    _Case(
        r"block (mapping|collection)|expected '<document",
        "yaml-syntax",
        '"{found}" cannot follow what stands before it',
        _QUOTE + ", and check the indentation",
    ),
    _Case(r"node content", "yaml-syntax", "here a value is missing", "write the value, or put the text in quotes"),
)
_OTHER = _Case("", "yaml-syntax", "this is not YAML", _QUOTE + ", and check the indentation")
_DASH_WITHOUT_BLANK = _Case(
    "",
    "prose-dash",
    'no blank follows the "-", so this is no item of the list',
    "put a blank after the dash, or the text in quotes",
    True,
)
_SECOND_COLON = _Case(
    "", "yaml-syntax", "a second colon stands in the line", _QUOTE + " that holds a colon and a blank"
)
_KEY_BELOW_TEXT = _Case(
    "", "yaml-syntax", "a key cannot stand below a text", "check the indentation of this line and of the one above"
)

_OWN = {
    "prose-comma": (
        '"{found}" is a key without a value: a comma in braces has split the sentence',
        "put the sentence in quotes, or write it on a line of its own; if this is a key, give it a value",
    ),
    "prose-comment": ('the text is cut short by "{found}"', "put the text in quotes, or two blanks before the comment"),
    "prose-dash": (
        'a line that begins with "{found}" was read as part of the text before it',
        "put the dashes of a list in one column, with a blank after each, or the whole text in quotes",
    ),
    "yaml-alias": ('"{found}" is an alias', "write the value out here; put a text that starts with a star in quotes"),
    "yaml-anchor": ('"{found}" is an anchor', "delete it; put a text that starts with an ampersand in quotes"),
    "yaml-control-character": ('the escape "{found}" stands for no character', "write the character itself"),
    "yaml-directive": ('"{found}" is an instruction to the YAML reader', "delete this line"),
    "yaml-documents": ("a second document starts here", "put it in a file of its own, or delete this line"),
    "yaml-empty": ("{found} is empty", "write a value, or delete it"),
    "yaml-key-not-text": ("a key is {found}", "write the key as a text; put a text with brackets or braces in quotes"),
    "yaml-key-twice": ('the key "{found}" stands twice, first in {place}', "rename or delete one of the two"),
    "yaml-merge": ('the key "<<" would merge another mapping', "write the keys out here"),
    "yaml-tag": ('"{found}" is a tag', "delete it; put a text that starts with an exclamation mark in quotes"),
    "yaml-too-deep": ("the nesting is deeper than {found} levels", "use fewer levels"),
}


def own_problem(rule: str, span: Span, file: str, **words: str) -> Problem:
    """A problem that is no syntax error; ``words`` fill the places of its message."""
    message, advice = _OWN[rule]
    return Problem(rule, ERROR, message.format(**words), advice, file, span)


def syntax_problem(error: MarkedYAMLError, text: str, place: Callable[[int], Span], file: str) -> Problem:
    """The problem that stopped the reader; ``place`` gives the span of the character at an index of ``text``."""
    said = " ".join(filter(None, (error.context, error.problem)))
    mark = error.problem_mark or error.context_mark
    case = _colon_case(text, mark) if "mapping values" in said else _case(said)
    if case.at_start and error.context_mark:
        mark = error.context_mark
    index = min(mark.index, len(text)) if mark else 0
    if "expected ':'" in said and text[index : index + 1] == "-":
        case = _DASH_WITHOUT_BLANK
    if case is _KEY_BELOW_TEXT or case.message.startswith(("here is no colon", "the indentation of")):
        slip = slip_near(text, index, above=case is _KEY_BELOW_TEXT)
        if slip:
            return Problem("yaml-syntax", ERROR, slip.message, slip.advice, file, place(slip.start))
    if "<scalar>" in said:
        slip = quote_slip(text, index)
        if slip:
            return Problem("yaml-syntax", ERROR, slip.message, slip.advice, file, place(slip.start))
    line = error.context_mark.line + 1 if error.context_mark else 1
    message = case.message.format(found=short(text[index : index + 1]), line=line)
    return Problem(case.rule, ERROR, message, case.advice, file, place(index))


def _case(said: str) -> _Case:
    return next((case for case in _CASES if re.search(case.wanted, said)), _OTHER)


def _colon_case(text: str, mark: Mark | None) -> _Case:
    """A colon too many is either part of a sentence or the sign of a line that is indented too far."""
    index = mark.index if mark else 0
    before = text[text.rfind("\n", 0, index) + 1 : index]
    return _SECOND_COLON if re.search(r":\s", before) else _KEY_BELOW_TEXT
