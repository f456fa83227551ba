"""A release names nobody who can answer for it.

Meaning:
    The tree is released, and `by` is a blank or a word such as "none", or it names an author, one of several too; or
    the author is missing, a blank or such a word. Capitals, blanks, dots and the order of a name's words make nobody
    another. A release without `by`, `date` or `digest` has the wrong shape; one whose digest does not fit is told by
    released-changed.

Why:
    People rely on a released tree because somebody other than its author has read it and answers for it.

Wrong:
    author: A. Fell
    released: {by: A. Fell, date: 2026-11-20, digest: 1f0c9a}

Right:
    author: A. Fell
    released: {by: B. Tarn, date: 2026-11-20, digest: 1f0c9a}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.people import share_somebody
from faulttree.rules.context import Context, Hit
from faulttree.rules.words import says_nothing

NO_AUTHOR, NOBODY, THE_AUTHOR = "no author", "nobody", "the author"


def unsigned(author: str, by: str) -> str:
    """Why a release by ``by`` is not signed by somebody other than ``author``, or empty; `release` asks this too."""
    if says_nothing(author):
        return NO_AUTHOR
    if says_nothing(by):
        return NOBODY
    return THE_AUTHOR if share_somebody(by, author) else ""


def check(context: Context) -> Iterator[Hit]:
    """At most one hit a tree."""
    tree = context.tree
    if tree.status != "released" or tree.released is None:
        return
    by = tree.released.by.strip()
    why = unsigned(tree.author, by)
    if why == NO_AUTHOR:
        message = f'"{tree.id}" is released and names no author'
        yield Hit(("status",), message, "write who wrote it as author, then let somebody else release it anew")
    elif why == NOBODY:
        yield Hit(("released", "by"), f'"{tree.id}" is released by "{by}"', "write who released it, or release it anew")
    elif why == THE_AUTHOR:
        message = f'"{tree.id}" is released by "{by}", who wrote it'
        yield Hit(("released", "by"), message, "let somebody else read it and release it anew")
