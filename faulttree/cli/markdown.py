"""A comparison as Markdown, for the text of a pull request.

Whatever comes from a file stands in a code span: there no mark, link, mention, tag or reference means anything
(CommonMark 0.31.2, section 6.1). A span ends only at a run of as many backticks as it began with, so it begins with
more than its text has.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence

from faulttree.compare import OTHER, WEIGHTS, Change, Comparison, Longest
from faulttree.compare.telling import users
from faulttree.visible import one_line


def code(text: str) -> str:
    """``text`` as a code span in one line, whatever it holds."""
    text = one_line(text)
    if not text.strip():
        return "`\u00a0`"
    longest = max((len(run) for run in re.findall("`+", text)), default=0)
    fence = "`" * (longest + 1)
    # One blank at both ends is taken off again, and parts the text's own backticks from the fence.
    return f"{fence} {text} {fence}" if longest or text[0] == " " or text[-1] == " " else f"{fence}{text}{fence}"


def page(
    comparison: Comparison, headings: Mapping[str, str], total: str, minutes: Callable[[Longest], str]
) -> Iterator[str]:
    """The lines of the comparison; what weighs least is folded away."""
    yield f"**{total}**"
    for weight in WEIGHTS:
        changes = comparison.of(weight)
        if changes:
            yield ""
            if weight == OTHER:
                yield from ("<details>", f"<summary>{headings[weight]}: {len(changes)}</summary>")
            else:
                yield f"### {headings[weight]}: {len(changes)}"
            yield from _listed(changes)
            if weight == OTHER:
                yield from ("", "</details>")
    if comparison.other_longest:
        yield from ("", "### Longest way, in minutes", "")
        for each in comparison.other_longest:
            yield f"- {code(each.tree)} on {code(each.model)}: {minutes(each)}"


def _listed(changes: Sequence[Change]) -> Iterator[str]:
    for tree in dict.fromkeys(change.tree for change in changes):
        yield from ("", f"{code(tree)}:" if tree else "Shared entries:", "")
        for change in changes:
            if change.tree == tree:
                yield from _item(change)


def _item(change: Change) -> Iterator[str]:
    subjects = ", ".join(map(code, change.subjects))
    place = "" if change.sort == "tree" else f"{change.sort} {subjects}: "
    on = f" (on {', '.join(map(code, change.models))})" if change.models else ""
    yield f"- {place}{change.says.format(*map(code, change.names))}{on}"
    for word, text in (("before", change.before), ("after", change.after)):
        if text:
            yield f"  - {word}: {code(text)}"
    if change.used_by is not None:
        yield f"  - {users(change.used_by, code)}"
