"""A label of a finding cannot be told from another answer.

Meaning:
    Two labels of a check differ in capital letters or blanks only, a label is a word of the walk (such as unable,
    back, note, passed or help) or begins with one that more is typed behind ("note it"), or it has digits only.

Why:
    People answer by typing the label or its number, in line mode and over the radio. "Back" would
    go back, "2" would be the second finding. Yes and no are no words of the walk.

Wrong:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Done: fit-cell, "2": wipe-contacts}

Right:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Clean: fit-cell, Film: wipe-contacts}
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from faulttree.keys import ASIDES, GIVE_UP, Kind
from faulttree.rules.context import Context, Hit

WORDS = frozenset(Kind) | frozenset((*ASIDES, GIVE_UP))
"""The words of the walk: every move, and those that make none."""


def check(context: Context) -> Iterator[Hit]:
    """One hit for each label."""
    for step in context.checks:
        if step.base == step.id:
            seen: dict[str, str] = {}
            for label in (finding.label for finding in step.findings):
                if reason := _reason(label, seen):
                    path = ("steps", step.id, "findings", label, "~")
                    yield Hit(path, f'the label "{label}" {reason}', _advice(label))
                seen.setdefault(_plain(label), label)


def _advice(label: str) -> str:
    if _plain(label) == Kind.UNABLE:
        return f"write it beside `findings`, in the same column, if it says where to go; else {CHOOSE}"
    return CHOOSE


CHOOSE = "choose another word"
BEGINNINGS = tuple(
    f"{kind} "
    for kind in (
        Kind.FINDING, Kind.READING, Kind.UNABLE, Kind.CANNOT, Kind.CLOSED, Kind.INSPECTED, Kind.NOTE, Kind.ALSO_FOUND,
        Kind.BACK, Kind.HAND_OVER, Kind.TAKE_OVER, GIVE_UP,
    )
)  # fmt: skip
"""The words that people type more behind."""


@lru_cache(maxsize=4096)
def _plain(label: str) -> str:
    """The label without capital letters and needless blanks; the same labels come again and again."""
    return " ".join(label.casefold().split())


def _reason(label: str, seen: dict[str, str]) -> str:
    plain = _plain(label)
    if plain in seen:
        return f'is like "{seen[plain]}"'
    if plain in WORDS:
        return "is a word of the walk"
    if plain.startswith(BEGINNINGS):
        return "begins with a word of the walk that is followed by more"
    return "has digits only, like the number of a finding" if plain.isdigit() else ""
