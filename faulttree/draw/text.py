r"""Text for graphviz: nothing in it can end a string, become markup or be taken for one of graphviz's own codes.

Labels that are composed of several parts are HTML-like strings, between ``<`` and ``>``; graphviz reads them as XML and
replaces codes such as ``\N`` in them, so XML's signs are written as entities and backslashes are doubled. All
other strings stand in double quotes. Characters that XML 1.0 does not have, and those that act on terminals or turn the
direction of reading, are shown as codes, by `faulttree.visible`.
"""

from __future__ import annotations

import re
from functools import lru_cache

from faulttree.cells import broken, cells, is_narrow
from faulttree.visible import one_line

_SPECIAL = re.compile(r"[&<>\"'\\]")
_ENTITIES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"})


def plain(text: str) -> str:
    """``text`` as one line of characters that XML can carry."""
    text = one_line(text)
    if text.isascii():
        return text
    return text.replace("\ufffe", "\\ufffe").replace("\uffff", "\\uffff")


def xml(text: str) -> str:
    """``text`` for the content or an attribute of an XML element."""
    if not text.isprintable() or not text.isascii():
        text = plain(text)
    return text.translate(_ENTITIES) if _SPECIAL.search(text) else text


def markup(text: str) -> str:
    """``text`` for the inside of an HTML-like label."""
    return marked(plain(text))


def marked(line: str) -> str:
    """A line that is `plain` already for the inside of an HTML-like label."""
    return line.translate(_ENTITIES).replace("\\", "\\\\") if _SPECIAL.search(line) else line


def quoted(text: str) -> str:
    """``text`` as a string in double quotes; graphviz reads entities there too, so the ampersand is written as one."""
    return '"' + plain(text).replace("&", "&amp;").replace("\\", "\\\\").replace('"', '\\"') + '"'


@lru_cache(maxsize=4096)
def wrapped(text: str, width: int) -> tuple[str, ...]:
    """``text`` in lines of at most ``width`` cells; a word that is longer is cut."""
    text = plain(text)
    narrow = is_narrow(text)
    if narrow and len(text) <= width:
        return (" ".join(text.split()),)
    words = text.split()
    if max(map(len, words), default=0) > width // 2:
        words = [piece for word in words for piece in _cut(word, width)]
    elif narrow:
        return _narrow_lines(" ".join(words), width)
    return tuple(broken(" ".join(words), width))


def _narrow_lines(text: str, width: int) -> tuple[str, ...]:
    """What `broken` makes of words of single cells, none longer than a line, with one blank between two."""
    lines = []
    while len(text) > width:
        at = text.rfind(" ", 0, width + 1)
        lines.append(text[:at])
        text = text[at + 1 :]
    return (*lines, text)


def _cut(word: str, width: int) -> list[str]:
    if cells(word) <= width:
        return [word]
    pieces, piece, used = [], "", 0
    for character in word:
        size = cells(character)
        if used + size > width or len(piece) >= 4 * width:
            pieces.append(piece)
            piece, used = "", 0
        piece, used = piece + character, used + size
    return [*pieces, piece]
