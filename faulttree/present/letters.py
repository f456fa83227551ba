"""Letters and digits drawn large out of signs, so that a code can be read out, and read from a distance.

Each is five signs wide and five high. What is mistaken for one another in small print is drawn apart: the zero has a
slash, the one a foot and a flag, the I two bars, the S a bent spine, the Z a straight top.
"""

from __future__ import annotations

from collections.abc import Mapping

WIDE = 5
HIGH = 5
MOST = 8
"""The most characters of one group: 47 columns."""

_INK = "#"
_DRAWN = """
  A     B     C     D     E     F     G     H     I
.###. ####. .#### ###.. ##### ##### .#### #...# #####
#...# #...# #.... #..#. #.... #.... #.... #...# ..#..
##### ####. #.... #...# ###.. ###.. #..## ##### ..#..
#...# #...# #.... #..#. #.... #.... #...# #...# ..#..
#...# ####. .#### ###.. ##### #.... .###. #...# #####

  J     K     L     M     N     O     P     Q     R
..### #...# #.... #...# #...# .###. ####. .###. ####.
...#. #..#. #.... ##.## ##..# #...# #...# #...# #...#
...#. ###.. #.... #.#.# #.#.# #...# ####. #.#.# ####.
#..#. #..#. #.... #.#.# #..## #...# #.... #..#. #.##.
.##.. #...# ##### #...# #...# .###. #.... .##.# #...#

  S     T     U     V     W     X     Y     Z     0
.#### ##### #...# #...# #...# #...# #...# ##### .###.
##... ..#.. #...# #...# #.#.# .#.#. .#.#. ...#. #..##
.###. ..#.. #...# .#.#. #.#.# ..#.. ..#.. ..#.. #.#.#
...## ..#.. #...# .#.#. ##.## .#.#. ..#.. .#... ##..#
####. ..#.. .###. ..#.. #...# #...# ..#.. ##### .###.

  1     2     3     4     5     6     7     8     9
..#.. .###. ####. ...#. ##### ..##. ##### .###. .###.
.##.. #...# ....# ..##. #.... .#... ...#. #...# #...#
..#.. ..##. .###. .#.#. ####. ####. ..#.. .###. .####
..#.. .#... ....# ##### ....# #...# .#... #...# ...#.
.###. ##### ####. ...#. ####. .###. .#... .###. .##..
"""


def _read(drawn: str) -> Mapping[str, tuple[str, ...]]:
    """The glyphs by character, each as five rows; in a band the characters stand over their glyphs."""
    glyphs: dict[str, tuple[str, ...]] = {}
    for band in drawn.strip("\n").split("\n\n"):
        names, *rows = (line.split() for line in band.split("\n"))
        glyphs |= dict(zip(names, zip(*rows, strict=True), strict=True))
    return glyphs


GLYPHS = _read(_DRAWN)
"""By character, its rows from the top; ``#`` is drawn and ``.`` is not."""


def large(text: str, ink: str = "#", paper: str = " ") -> tuple[str, ...]:
    """``text`` as five lines of equal width: capitals A to Z and digits, at most eight, a column between them.

    ``ink`` and ``paper`` are what one cell is drawn with; two signs each make up for cells that are higher than wide.
    Raises ValueError where a character has no glyph, there are too many, or ink and paper are not equally wide.
    """
    unknown = [character for character in text if character not in GLYPHS]
    if unknown:
        raise ValueError(f'"{unknown[0]}" cannot be drawn large')
    if len(text) > MOST:
        raise ValueError(f'"{text}" has more than {MOST} characters')
    if len(ink) != len(paper) or not ink:
        raise ValueError(f'"{ink}" and "{paper}" are not equally wide')
    rows = (".".join(GLYPHS[character][row] for character in text) for row in range(HIGH))
    return tuple("".join(ink if cell == _INK else paper for cell in row) for row in rows)
