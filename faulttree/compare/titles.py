"""What names of files stand for, in words: for whoever goes on with a walk and never saw a file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from faulttree.compare.comparing import Side
from faulttree.compare.entries import ENTRIES
from faulttree.compare.shared import entry_words
from faulttree.compare.steps import title
from faulttree.model import Tree

Titles = Mapping[str, Mapping[str, str]]
"""By what is named, as changes call it (step, cause, limit ...), name to words."""

AS_THEY_ARE = ("roles", "models", "urgencies", "documents")
"""These are called by their names on every page."""

_HYPHENATED = re.compile(r"(?<![\w-])[A-Za-z0-9]+(?:-[A-Za-z0-9]+)+(?![\w-])")
_NAME = re.compile(r"[\w.-]+")
_PARTED = re.compile(r"(, | > |: )")
SUMMARIES = "step-"
"""The changes that tell a whole step in one text, with the names of its notices in it."""


def titles(*sides: Side) -> Titles:
    """The words of all steps, causes and shared entries; where the sides differ, those of the first."""
    found: dict[str, dict[str, str]] = {"step": {}, "cause": {}}
    for side in sides:
        for tree in side.trees.values():
            for sort, name, words in _of_tree(tree):
                found[sort].setdefault(name, words)
        for field, (sort, *_) in ENTRIES.items():
            if field not in AS_THEY_ARE:
                entries = found.setdefault(sort, {})
                for name, entry in getattr(side.library, field).items():
                    entries.setdefault(name, entry_words(entry))
    return found


def _of_tree(tree: Tree) -> Iterator[tuple[str, str, str]]:
    for variant in tree.distinct_variants():
        yield from (("step", name, title(step)) for name, step in variant.steps.items())
        yield from (("cause", name, cause.text) for name, cause in variant.causes.items())


def in_words(name: str, found: Titles, kind: str = "") -> str:
    """The words of a name; the name itself where it stands for nothing. ``kind`` of a change says what is meant."""
    sorts = sorted(found, key=lambda sort: not kind.startswith(sort.replace(" ", "-")))
    return next((words for sort in sorts if (words := found[sort].get(name))), name)


def quoted_in(text: str, found: Titles, kind: str = "") -> str:
    """A text of what was or is, with names in words: one alone, a list of them, a way from step to step, a summary.

    Any other text is prose, in which a word may happen to be a name, and stays as it is.
    """

    def quoted(name: str) -> str:
        words = in_words(name, found, kind)
        return f'"{words}"' if words != name else name

    if kind.startswith(SUMMARIES):
        return _HYPHENATED.sub(lambda match: quoted(match[0]), text)
    parts = _PARTED.split(text)
    if not all(_NAME.fullmatch(part) for part in parts[::2]):
        return text
    return "".join(part if at % 2 else quoted(part) for at, part in enumerate(parts))
