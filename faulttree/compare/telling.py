"""Changes in words: what the command says of one, and a list for whoever goes on with a walk that began before."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from faulttree.compare.changes import JUDGE, OTHER, WEAKER, WEIGHTS, Change
from faulttree.compare.comparing import Comparison
from faulttree.visible import one_line

HEADINGS = {
    WEAKER: "What protects became WEAKER",
    JUDGE: "To be judged by somebody who knows the equipment",
    OTHER: "Other changes",
}


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


def told_plainly(comparison: Comparison) -> Iterator[str]:
    """The changes as lines of text, what weighs most first, each with what was and what is."""
    for weight in WEIGHTS:
        changes = comparison.of(weight)
        if changes:
            yield f"{HEADINGS[weight]}: {len(changes)}."
        for change in changes:
            yield f"- {plain_words(change)}"
            sides = (("before", change.before), ("now", change.after))
            yield from (f"  {word}: {one_line(text)}" for word, text in sides if text)
