"""Text from files, names and people, made fit to be shown: nothing in it acts on a terminal or turns reading round.

Whatever writes to a terminal passes every text through `visible` or `one_line` at its border. Only the bare interpreter
is needed here, because every command loads this module.
"""

from __future__ import annotations

BIDI_CONTROLS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""The characters with the property Bidi_Control (Unicode, PropList.txt)."""

UNSEEN = frozenset("\u00ad\u180e\u200b\u2060\u2061\u2062\u2063\u2064")
"""Format characters that are not seen and that no script needs, as no file may hold them; tags beside them."""

ASCII_FORMS = {
    "·": ".", "—": "-", "–": "-", "−": "-", "…": "...", "→": "->", "×": "x", "±": "+/-", "≤": "<=", "≥": ">=",
    "‘": "'", "’": "'", "“": '"', "”": '"', "°": " deg ", "µ": "u", "½": "1/2", "\xa0": " ",
}  # fmt: skip
"""How a few signs are written where the encoding of the stream has no place for them."""

_ASCII_TABLE = str.maketrans(ASCII_FORMS)


def visible(text: str) -> str:
    r"""``text`` with every character that could act on a terminal in a form that only shows it, such as \x1b."""
    if text.replace("\n", "").replace("\t", "").isprintable():
        return text
    return "".join(_shown(character) for character in text)


def _shown(character: str) -> str:
    code = ord(character)
    if character in "\n\t":
        return character
    if code < 0x20 or 0x7F <= code < 0xA0:
        return f"\\x{code:02x}"
    if 0xE0000 <= code < 0xE0080:
        return f"\\U{code:08x}"
    if (
        character in BIDI_CONTROLS
        or character in UNSEEN
        or character in "\u2028\u2029\ufeff"
        or 0xD800 <= code < 0xE000
    ):
        return f"\\u{code:04x}"
    return character


def one_line(text: str) -> str:
    r"""``text`` without line ends and tabs, which stand as \n and \t."""
    return text if text.isprintable() else visible(text).replace("\n", "\\n").replace("\t", "\\t")


def carried(text: str, encoding: str | None) -> str:
    """``text`` as ``encoding`` can carry it; what it still cannot is left to the stream's own escapes."""
    if text.isascii() or not encoding:
        return text
    try:
        text.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return text.translate(_ASCII_TABLE)
    return text


def in_ascii(text: str) -> str:
    r"""``text`` with nothing beyond ASCII: common signs in their written form, the rest as \u codes."""
    if text.isascii():
        return text
    return text.translate(_ASCII_TABLE).encode("ascii", "backslashreplace").decode()
