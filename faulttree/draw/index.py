"""The page that lists the drawings of a folder: plain HTML without scripts or links outside."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple
from urllib.parse import quote

from faulttree.draw.figure import Figure
from faulttree.draw.outline import in_html, outline_of, summary_of
from faulttree.draw.text import xml

STYLE = "body{font:1rem/1.5 sans-serif;max-width:50rem;margin:2rem auto;padding:0 1rem;color:#000;background:#fff}"
STYLE += "h2{margin-top:2.5rem}summary{cursor:pointer}@media print{details{display:none}}"


GENERATOR = '<meta name="generator" content="faulttree draw">'
"""By this line the page is known as one that may be written anew."""


class Drawn(NamedTuple):
    """A figure with the files that it was drawn to; the names are those in the page's folder."""

    figure: Figure
    files: tuple[str, ...]


def index_page(operator: str, revision: str, drawings: Sequence[Drawn]) -> str:
    """The page."""
    return "\n".join(_lines(operator, revision, drawings)) + "\n"


def _lines(operator: str, revision: str, drawings: Sequence[Drawn]) -> Iterator[str]:
    title = f"Drawings of trees: {operator}"
    yield '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">'
    yield "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">"
    yield f'<meta name="viewport" content="width=device-width">\n{GENERATOR}'
    yield f"<title>{xml(title)}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n<h1>{xml(title)}</h1>"
    about = f"Library revision {revision}. " if revision else ""
    yield f"<p>{xml(about)}These drawings are for review. They are not approved data.</p>"
    before = ""
    for drawn in drawings:
        figure = drawn.figure
        if figure.tree != before:
            before = figure.tree
            yield f"<h2>{xml(figure.symptom)}</h2>"
        yield from _drawing(drawn)
    yield "</main>\n</body>\n</html>"


def _drawing(drawn: Drawn) -> Iterator[str]:
    figure, files = drawn
    yield f"<h3>{xml(figure.about[0])}</h3>"
    if figure.against:
        yield f"<p>{xml(figure.against)}</p>"
    names = ("drawing",) if len(files) == 1 else tuple(f"part {number}" for number in range(1, len(files) + 1))
    links = (f'<a href="{xml(quote(file))}">{name}</a>' for file, name in zip(files, names, strict=True))
    yield f"<p>{xml(summary_of(figure))}</p>\n<p>{', '.join(links)}</p>" if files else ""
    yield f"<details><summary>The same as a list</summary>{in_html(outline_of(figure))}</details>"
