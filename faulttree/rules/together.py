"""What a rule finds of several causes at one step, on one model or several, told together: a mistake is one problem.

Hits are told together where they say the same of their causes and the same is to be done. Warnings may be let stand
by a comment, which is about one line, so those are told together only where their place is the same.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from faulttree.rules.advice import listed
from faulttree.rules.context import Hit

MOST_NAMES = 6
"""So many causes are named in a message; a list of all is with the problem."""


class Found(NamedTuple):
    """A hit and the models on which it was found."""

    hit: Hit
    models: Sequence[str]


def together(found: Mapping[Hit, Sequence[str]], by_place: bool) -> list[list[Found]]:
    """The hits in groups that are told as one, the one with the shortest way first in each."""
    groups: dict[object, list[Found]] = {}
    for hit, models in found.items():
        key = (hit.of_several, hit.help, hit.path if by_place else ()) if hit.cause else hit
        groups.setdefault(key, []).append(Found(hit, models))
    return [sorted(group, key=lambda each: len(each.hit.way)) for group in groups.values()]


def message_of(group: Sequence[Found], models: int) -> str:
    """What a group says; ``models`` is on how many models the rule was asked."""
    on: dict[str, dict[str, None]] = {}
    for hit, names in group:
        on.setdefault(hit.cause, {}).update(dict.fromkeys(names))
    some = {cause: "" if len(names) == models else f"on {', '.join(names)}" for cause, names in on.items()}
    if len(some) == 1:
        return _with(group[0].hit.message, next(iter(some.values())))
    before, after = group[0].hit.of_several
    if len(set(some.values())) == 1:
        return _with(f"{before}causes {_some([listed([cause]) for cause in some])}{after}", next(iter(some.values())))
    names = _some([_with(listed([cause]), where) for cause, where in some.items()])
    return f"{before}causes {names}{after}"


def _with(message: str, on: str) -> str:
    return f"{message} ({on})" if on else message


def _some(names: Sequence[str]) -> str:
    """The names, or the first of them and how many more."""
    if len(names) <= MOST_NAMES:
        return ", ".join(names)
    return f"{', '.join(names[: MOST_NAMES - 1])} and {len(names) - MOST_NAMES + 1} more"
