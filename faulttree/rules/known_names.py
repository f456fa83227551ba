"""Which names there are in a library, and what is said of one that there is not: shared by what looks for names."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping

from faulttree.model import Library
from faulttree.rules.advice import instead
from faulttree.rules.context import Hit, Path

Known = Mapping[str, Collection[str]]

HOMES: Mapping[str, tuple[str, Callable[[Library], Collection[str]]]] = {
    "role": ("library.yaml", lambda library: library.roles),
    "urgency": ("library.yaml", lambda library: library.urgencies),
    "access": ("library.yaml", lambda library: library.accesses),
    "open item": ("library.yaml", lambda library: library.open_items),
    "document": ("library.yaml", lambda library: library.documents),
    "notice": ("notices.yaml", lambda library: library.notices),
    "limit": ("limits.yaml", lambda library: library.limits),
    "part": ("parts.yaml", lambda library: library.parts),
    "consumable": ("parts.yaml", lambda library: library.consumables),
    "tool": ("tools.yaml", lambda library: library.tools),
    "operational check": ("operational-checks.yaml", lambda library: library.operational_checks),
    "inspection item": ("inspection.yaml", lambda library: library.inspection),
}
"""Kind of name to the file that has its entries, and to the entries."""

PART_ADVICE = "correct the number from the parts list, or add it to parts.yaml"
"""No guess: a number that is like another is another part."""


def known_in(library: Library) -> Known:
    """The names of the shared entries by kind."""
    return {kind: entries(library) for kind, (_, entries) in HOMES.items()}


def unknown(kind: str, names: Iterable[str], known: Known, path: Path, in_list: bool = True) -> Iterator[Hit]:
    """The names that ``known`` does not have. In a list or mapping each stands at itself, else at ``path``."""
    have = known[kind]
    for name in names:
        if name and name not in have:
            advice = (
                PART_ADVICE if kind == "part" else instead(name, have, f"correct the name, or add it to {_home(kind)}")
            )
            yield Hit((*path, name, "~") if in_list else path, f'there is no {kind} "{name}"', advice)


def _home(kind: str) -> str:
    return HOMES[kind][0] if kind in HOMES else "the tree"


def tree_unknown(name: str, trees: Collection[str] | None, path: Path) -> Iterator[Hit]:
    """A hit where a tree of that name is not there; where the trees are not known, none."""
    if name and trees is not None and name not in trees:
        advice = instead(name, trees, "write the name of a tree of this library")
        yield Hit(path, f'there is no tree "{name}"', advice)
