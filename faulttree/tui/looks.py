"""How things look: the colours of night and day, the signs of the signal words, and plain forms of both.

Colour is used for the two signal words alone and never without the word and its sign. All text has a contrast of at
least 7:1 to what it stands on (WCAG 2.2, success criterion 1.4.6), which a test computes.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from rich.style import Style

from faulttree.visible import in_ascii

Look = Literal["plain", "strong", "faint", "status", "key", "warning", "caution", "note"]

ORANGE = "#ff8200"
YELLOW = "#ffd100"
"""Near the safety orange and safety yellow of ANSI Z535.1 (from memory), on a screen's scale."""


class Colours(NamedTuple):
    """What text is written in and on; ``faint`` is for what is only there to be found."""

    ink: str
    paper: str
    faint: str


NIGHT = Colours(ink="#ffe8cc", paper="#000000", faint="#c2b098")
DAY = Colours(ink="#000000", paper="#ffffff", faint="#3d3d3d")
SIGNAL = {"warning": ("#000000", ORANGE), "caution": ("#000000", YELLOW)}


class Looks(NamedTuple):
    """What the person and the terminal want."""

    day: bool = False
    colour: bool = True
    ascii: bool = False
    calm: bool = False

    @property
    def colours(self) -> Colours:
        """The colours of now."""
        return DAY if self.day else NIGHT

    def fit(self, text: str) -> str:
        """The text as the terminal can show it."""
        return in_ascii(text) if self.ascii else text

    def sign(self, signal: str) -> str:
        """The sign before a signal word: a triangle, a square, or nothing."""
        signs = {"warning": ("▲ ", "/!\\ "), "caution": ("■ ", "[!] ")}
        return signs[signal][self.ascii] if signal in signs else ""


def style(look: Look, looks: Looks) -> Style:
    """How a look is drawn; where there is no colour, bold and reversed letters alone tell."""
    strong = look in ("strong", "key", "warning", "caution", "note", "status")
    if not looks.colour:
        return Style(bold=strong, reverse=look in ("warning", "caution"))
    colours = looks.colours
    ink, paper = SIGNAL.get(look, (colours.faint if look == "faint" else colours.ink, colours.paper))
    return Style(color=ink, bgcolor=paper, bold=strong)


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours ``#rrggbb``, 1 to 21 (WCAG 2.2, definitions of contrast and luminance)."""
    lighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(share: float) -> float:
    return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)
