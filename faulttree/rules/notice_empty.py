"""A notice has no hazard, result or avoidance that says anything.

Meaning:
    A warning or caution has a blank, a dash or a word such as "none" where its hazard, its result or its avoidance
    should stand, or says the same twice. Where a key is left out, the shape of the file is wrong: another problem.

Why:
    Each of the three is needed: what can hurt somebody, what then happens, and what to do so that it does not. A notice
    that lacks one is read and does not help.

Wrong:
    hot-lens: {signal: warning, hazard: The lens gets hot, result: TBD, avoid: n/a}

Right:
    hot-lens: {signal: warning, hazard: The lens gets hot, result: It burns fingers, avoid: Hold it by its handle.}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Notice
from faulttree.rules.context import Hit, Path, Shared
from faulttree.rules.words import says_nothing


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each text of a notice."""
    for notice in shared.library.notices.values():
        said: dict[str, str] = {}
        for what, path, text in _texts(notice):
            plain = text.strip().rstrip(".").casefold()
            if says_nothing(text):
                yield Hit(path, f'the {what} of "{notice.id}" says nothing', _help(what))
            elif plain in said:
                yield Hit(path, f'the {what} of "{notice.id}" is the same as the {said[plain]}', _help(what))
            said.setdefault(plain, what)


def _texts(notice: Notice) -> Iterator[tuple[str, Path, str]]:
    path = ("notices", notice.id)
    if notice.signal != "note":
        yield "hazard", (*path, "hazard"), notice.hazard
        yield "result", (*path, "result"), notice.result
        for at, line in enumerate(notice.avoid):
            yield "avoidance", (*path, "avoid", at), line
    else:
        for at, line in enumerate(notice.text):
            yield "text", (*path, "text", at), line


def _help(what: str) -> str:
    return {
        "hazard": "write what can hurt somebody or damage something",
        "result": "write what then happens, and to whom or what",
        "avoidance": "write what to do so that it does not happen",
        "text": "write what helps",
    }[what]
