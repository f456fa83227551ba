"""The symptoms of a library: the trees that may be walked, the most urgent first, and finding one by one's own words.

Only the headers of the trees are read, and of `library.yaml` only the urgencies.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from faulttree.library import list_headers
from faulttree.library_files import shown
from faulttree.problems import FaulttreeError
from faulttree.urgency import urgencies_of

if TYPE_CHECKING:
    from pathlib import Path

    from faulttree.load.header import Header


class Listed(NamedTuple):
    """A tree as it is listed: the name of its file, its header, and the other wording that the words fit.

    ``fits`` says whether all of the words do, or only most of them.
    """

    file: str
    header: Header
    wording: str = ""
    fits: bool = True

    @property
    def id(self) -> str:
        """The id of the tree."""
        return self.header.id

    @property
    def symptom(self) -> str:
        """The symptom."""
        return self.header.symptom


def listed(folder: Path, headers: Sequence[tuple[Path, Header | None]] | None = None) -> list[Listed]:
    """The trees of a library that may be walked, the most urgent first; ``headers`` where they were read already."""
    read = list_headers(folder) if headers is None else headers
    return walkable(in_order(read, list(urgencies_of(folder))))


def ranks(folder: Path, headers: Sequence[tuple[Path, Header | None]] | None = None) -> dict[str, int]:
    """How urgent each tree is, 0 the most, by its id; empty where the library cannot be read.

    Walks that wait are listed without a library as well, and those of withdrawn trees wait like others.
    """
    try:
        read = list_headers(folder) if headers is None else headers
        order = list(urgencies_of(folder))
    except FaulttreeError:
        return {}
    rank = {urgency: at for at, urgency in enumerate(order)}
    return {header.id: rank.get(header.urgency, len(order)) for _, header in read if header}


def find(words: Sequence[str], trees: Sequence[Listed]) -> list[Listed]:
    """The trees that the words fit, in their order; empty where none does."""
    from faulttree.searching import search

    return [trees[hit.at]._replace(wording=hit.wording, fits=hit.all) for hit in search(words, _wordings(trees))]


def nothing_like(typed: str) -> str:
    """What is said above the list of all symptoms where no word of it is like what was typed."""
    return f'Nothing like "{typed}" is listed. All symptoms:'


def in_order(headers: Sequence[tuple[Path, Header | None]], order: Sequence[str]) -> list[Listed]:
    """Those with a header, most urgent first, else in the order of files; an unknown urgency comes last."""
    rank = {urgency: at for at, urgency in enumerate(order)}
    known = [Listed(shown(path), header) for path, header in headers if header]
    return sorted(known, key=lambda each: rank.get(each.header.urgency, len(rank)))


def walkable(trees: Sequence[Listed]) -> list[Listed]:
    """Those that were not withdrawn."""
    return [each for each in trees if each.header.status != "withdrawn"]


def nearest_to(words: Sequence[str], trees: Sequence[Listed]) -> list[Listed]:
    """The trees whose wording is most like the words, nearest first."""
    from faulttree.searching import nearest

    return [trees[at] for at in nearest(words, _wordings(trees))]


def _wordings(trees: Sequence[Listed]) -> list[tuple[str, tuple[str, ...], tuple[str, ...]]]:
    return [
        (each.symptom, (*each.header.also, each.id.replace("-", " ")), (*each.header.equipment, *each.header.models))
        for each in trees
    ]
