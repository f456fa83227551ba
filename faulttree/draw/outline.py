"""A figure as a nested list in words: the same steps, notices and routes, for those who cannot see a drawing.

Unlike the drawing it has room for how a step is done and for notices in full.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from faulttree.cells import broken
from faulttree.draw.dot import MARK_WORDS
from faulttree.draw.figure import Box, Figure, Line, Row, by_source
from faulttree.draw.labels import percent
from faulttree.draw.text import plain, xml
from faulttree.present.blocks import one_or_more, sentence


class Item(NamedTuple):
    """An entry of a list, with a list of its own."""

    text: str
    below: tuple[Item, ...] = ()


def outline_of(figure: Figure) -> tuple[Item, ...]:
    """What stands before the first step, then each step with its notices, its work and its routes."""
    lines = by_source(figure)
    return (*_columns(figure.opening), *(_step(figure, box, lines[name]) for name, box in figure.boxes.items()))


def _columns(columns: Iterable[Sequence[Row]]) -> Iterator[Item]:
    """An item for each heading of the columns, with what stands below it."""
    for column in columns:
        heads = [at for at, row in enumerate(column) if row.kind == "head"]
        for head, end in zip(heads, (*heads[1:], len(column)), strict=True):
            yield Item(column[head].text, tuple(Item(row.text) for row in column[head + 1 : end] if row.text))


def _step(figure: Figure, box: Box, lines: Iterable[Line]) -> Item:
    changed = f": {'; '.join(box.changed)}" if box.changed else ""
    mark = f"{MARK_WORDS[box.mark]}{changed}. " if box.mark else ""
    needs = f" · {box.needs}" if box.needs else ""
    title = "" if box.shape == "hand over" else f": {box.title}"
    return Item(f"{mark}{box.number}. {box.name} · {box.head}{needs}{title}", tuple(_below(figure, box, lines)))


def _below(figure: Figure, box: Box, lines: Iterable[Line]) -> Iterator[Item]:
    yield from (Item(text) for text in box.notices)
    yield from (Item(text) for text in box.do)
    yield from (Item(text) for text in box.details)
    yield from (Item(row.text) for row in box.rows if row.text and row.text != box.title)
    yield from (Item(_route(figure, line)) for line in lines)


def _route(figure: Figure, line: Line) -> str:
    about = "; ".join(filter(None, (line.note, line.says, "" if line.share is None else percent(line.share))))
    target = figure.boxes[line.target]
    mark = f"{line.mark} " if line.mark else ""
    return f"{mark}{line.label}{f' ({about})' if about else ''}: go to {target.number}, {target.title}"


def summary_of(figure: Figure) -> str:
    """What is drawn, in two sentences: how many steps of which kind, and how it begins."""
    shapes = [box.shape for box in figure.boxes.values()]
    names = {"check": ("check", ""), "fix": ("fix", "fixes"), "end": ("end", ""), "hand over": ("hand-over", "")}
    counts = (one_or_more(shapes.count(shape), *pair) for shape, pair in names.items() if shape in shapes)
    said = ", ".join(counts)
    return f"{said}. It begins with: {sentence(figure.boxes[figure.start].title)}"


def in_lines(figure: Figure, width: int) -> Iterator[str]:
    """The list as lines of text."""
    for text in (figure.symptom, *figure.about, *filter(None, (figure.against, figure.figures))):
        yield from broken(plain(text), width)
    for item in outline_of(figure):
        yield ""
        yield from broken(plain(item.text), width, "", "  ")
        for below in item.below:
            yield from broken(plain(below.text), width, "  - ", "    ")


def in_html(items: Iterable[Item], attributes: str = "") -> str:
    """The list as ``ul`` and ``li``, well-formed as XML."""
    return f"<ul{attributes}>{''.join(map(_item, items))}</ul>"


def _item(item: Item) -> str:
    return f"<li>{xml(item.text)}{in_html(item.below) if item.below else ''}</li>"
