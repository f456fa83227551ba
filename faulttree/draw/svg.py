"""What graphviz gives as svg, made into a page: A4 or A3, with title, description and an equivalent nested list.

The list stands in the description, in elements of XHTML, as SVG allows for other text; nothing of it is shown.
Names of graphviz's own that would be read out or shown in passing are replaced by the words of the steps.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from faulttree.draw.outline import in_html, outline_of, summary_of
from faulttree.draw.paper import MARGIN, Placed
from faulttree.draw.parts import Part
from faulttree.draw.plan import Plan
from faulttree.draw.text import xml
from faulttree.present.blocks import sentences

_SIZE = re.compile(r'<svg width="([\d.]+)pt" height="([\d.]+)pt"')
_NAMED = re.compile(r"<title>([^<]*)</title>")
_COMMENT = re.compile(r"<!--.*?-->\n?", re.DOTALL)
XHTML = "http://www.w3.org/1999/xhtml"


class Laid(NamedTuple):
    """A part as graphviz laid it out: its svg, and its size in points."""

    svg: str
    wide: float
    high: float


def laid(svg: str) -> Laid:
    """What graphviz wrote; ValueError where it is no svg of it."""
    found = _SIZE.search(svg)
    if not found:
        raise ValueError("no svg")
    return Laid(svg, float(found[1]), float(found[2]))


def pages(plan: Plan, drawn: Sequence[Laid], placed: Sequence[Placed]) -> list[str]:
    """The finished svg of each part."""
    titles = {f"n{box.number}": f"{box.number}. {box.title}" for box in plan.figure.boxes.values()}
    titles |= {"start": "start", "opening": "before the first step"}
    description = (
        f'<desc id="description">{xml(" ".join((summary_of(plan.figure), *sentences(plan.figure.about))))}\n'
        f"{in_html(outline_of(plan.figure), f' xmlns={chr(34)}{XHTML}{chr(34)}')}</desc>\n"
    )
    inner = (_inner(each.svg, titles) for each in drawn)
    heads = (_head(plan, part, where) for part, where in zip(plan.parts, placed, strict=True))
    shifts = (_shift(each, where) for each, where in zip(drawn, placed, strict=True))
    return [
        f"{head}{description}{shift}{groups}</g>\n</svg>\n"
        for head, shift, groups in zip(heads, shifts, inner, strict=True)
    ]


def _head(plan: Plan, part: Part, placed: Placed) -> str:
    across, down = placed.paper.points
    title = plan.figure.symptom if len(plan.parts) == 1 else f"{plan.figure.symptom}, part {part.number}"
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" role="img"'
        f' aria-labelledby="title description" width="{placed.paper.wide}mm" height="{placed.paper.high}mm"'
        f' viewBox="0 0 {across:.2f} {down:.2f}">\n<title id="title">{xml(title)}</title>\n'
    )


def _shift(drawn: Laid, placed: Placed) -> str:
    """White paper, and the group that puts the drawing on it."""
    left = (placed.paper.points[0] - drawn.wide * placed.scale) / 2
    return (
        '<rect width="100%" height="100%" fill="white"/>\n'
        f'<g transform="translate({left:.2f} {MARGIN:.2f}) scale({placed.scale:.4f})">\n'
    )


def _inner(svg: str, titles: Mapping[str, str]) -> str:
    """The groups of graphviz's svg, with titles in words and without others."""
    text = _COMMENT.sub("", svg[svg.index("<g ") : svg.rindex("</svg>")])
    text = text.replace("Helvetica,sans-Serif", "Helvetica,Arial,sans-serif")
    text = text.replace('font-family="Helvetica"', 'font-family="Helvetica,Arial,sans-serif"')

    def named(found: re.Match[str]) -> str:
        words = titles.get(found[1])
        return f"<title>{xml(words)}</title>" if words else ""

    return _NAMED.sub(named, text)
