"""A terminal without colour: the library of widgets writes greys instead, in lines of text and on empty ground."""

from __future__ import annotations

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

ANY = Style()


class Colourless(LineFilter):
    """Takes every colour away, greys as well; bold, reversed and underlined letters stay."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The pieces of a row in the terminal's own colours."""
        return [Segment(text, without_colour(drawn or ANY), control) for text, drawn, control in segments]


def without_colour(drawn: Style) -> Style:
    """The same look without its colours; what a mouse does to it stays."""
    return Style(
        bold=drawn.bold or None,
        reverse=drawn.reverse or None,
        underline=drawn.underline or None,
        meta=drawn.meta,
    )
