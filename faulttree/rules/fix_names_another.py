"""The text of a fix names another fix.

Meaning:
    A line of a fix, or what its entry says was done, has the name or the title of another fix of the tree in it.

Why:
    Each fix is walked by itself: with its own warnings, parts, operational check and entry. Work that is only named
    within another is done without all of these. What follows where this fix did not help is said by `failed`, and where
    it cannot be done by `cannot`.

Wrong:
    wipe-contacts:
      fix: Wipe the contacts
      do:
        - Wipe both springs. If they are burnt, fit a new switch.
    fit-switch:
      fix: Fit a new switch

Right:
    wipe-contacts:
      fix: Wipe the contacts
      do:
        - Wipe both springs. If they are burnt, answer cannot.
      cannot: fit-switch
    fit-switch:
      fix: Fit a new switch
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from faulttree.model import Fix
from faulttree.rules.context import Context, Hit, Path
from faulttree.rules.sentences import words_of


def check(context: Context) -> Iterator[Hit]:
    """One hit for each text and fix that it names."""
    fixes = [fix for fix in context.fixes if fix.base == fix.id]
    if not fixes:
        return
    every = "\n".join([line for fix in fixes for line in (*fix.do, fix.did)]).lower()
    titles = {fix.id: _spaced(fix.text) for fix in fixes}
    for other in fixes:
        # One search in all texts together tells for most titles and names that they stand in none.
        if " " in other.text and other.text.lower() in every:
            yield from _hits(context, fixes, other.id, titles[other.id], titles)
        if "-" in other.id and other.id.lower() in every:
            yield from _hits(context, fixes, other.id, f" {other.id.lower()} ", titles)


def _hits(context: Context, fixes: Iterable[Fix], other: str, phrase: str, titles: Mapping[str, str]) -> Iterator[Hit]:
    """The texts that have the phrase, but those of the fix itself and of fixes whose own title has it."""
    for fix in fixes:
        if fix.id != other and phrase.strip() not in titles[fix.id]:
            for path, text in _texts(context, fix):
                if phrase in _spaced(text):
                    message = f'"{fix.id}" names another fix in its text, "{other}"'
                    yield Hit(path, message, "lead to it by `failed` or `cannot`, or do its work in a step of its own")


def _texts(context: Context, fix: Fix) -> Iterator[tuple[Path, str]]:
    do = context.do_path(fix.id)
    for at, line in enumerate(fix.do):
        yield (*do, at), line
    if fix.did:
        yield ("steps", fix.id, "did"), fix.did


def _spaced(text: str) -> str:
    return f" {' '.join(words_of(text))} "
