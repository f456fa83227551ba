"""Changes in words: what the command says of one, and a list for whoever goes on with a walk that began before."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from faulttree.compare.changes import JUDGE, OTHER, WEAKER, WEIGHTS, Change
from faulttree.compare.comparing import Comparison
from faulttree.compare.titles import Titles, in_words, quoted_in
from faulttree.visible import one_line

HEADINGS = {
    WEAKER: "What protects became WEAKER",
    JUDGE: "To be judged by somebody who knows the equipment",
    OTHER: "Other changes",
}

EXAMPLES = "case-"
"""How the kinds of changes begin that are about example walks."""


def words_of(change: Change, quoted: Sequence[str]) -> str:
    """What a change says, with its names as ``quoted``."""
    on = f" (on {', '.join(change.models)})" if change.models else ""
    return change.says.format(*quoted) + one_line(on)


def plain_words(change: Change) -> str:
    """What a change says, its place first, as one line."""
    place = "" if change.sort == "tree" else f"{change.sort} {', '.join(map(one_line, change.subjects))}: "
    return place + words_of(change, [f'"{one_line(name)}"' for name in change.names])


MOST_USERS = 8


def users(trees: Sequence[str], quoted: Callable[[str], str] = one_line) -> str:
    """Which trees use an entry, in words: of many the first and how many more."""
    if not trees:
        return "used by no tree"
    if len(trees) <= MOST_USERS:
        return f"used by {', '.join(map(quoted, trees))}"
    shown = trees[: MOST_USERS - 1]
    return f"used by {', '.join(map(quoted, shown))} and {len(trees) - len(shown)} more"


def told_plainly(comparison: Comparison, found: Titles) -> Iterator[str]:
    """The changes as lines of text, what weighs most first, each with what was and what is.

    Whoever goes on with a walk knows no names of files: what they stand for is ``found`` in words. Nor are they told
    of example walks, which only test a tree.
    """
    for weight in WEIGHTS:
        changes = [change for change in comparison.of(weight) if not change.kind.startswith(EXAMPLES)]
        if changes:
            yield f"{HEADINGS[weight]}: {len(changes)}."
        for change in changes:
            yield f"- {_with_titles(change, found)}"
            sides = (("before", change.before), ("now", change.after))
            yield from (f"  {word}: {one_line(quoted_in(text, found, change.kind))}" for word, text in sides if text)


def _with_titles(change: Change, found: Titles) -> str:
    names = [in_words(name, found, change.kind) for name in change.names]
    where = [in_words(name, found, change.sort.replace(" ", "-")) for name in change.subjects]
    place = "" if change.sort == "tree" else f"{change.sort} {', '.join(_quoted(where))}: "
    return place + words_of(change, _quoted(names))


def _quoted(names: Sequence[str]) -> list[str]:
    return [f'"{one_line(name)}"' for name in names]
