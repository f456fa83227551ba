"""The kinds of changes are a promise to programs: the whole list, and nothing that is found beside it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from shipped import sample, shipped

from faulttree.compare import Side, compare, entries, heads, steps, work
from faulttree.compare.entries import ALONE, ENTRIES, OCCUPANT
from faulttree.compare.figures import SAYS
from faulttree.compare.heads import ACTION, TREE
from faulttree.compare.judges import Judge, kinds_of
from faulttree.compare.limits import scales, settings
from faulttree.compare.steps import CAUSE, CHECK, END, FIX
from faulttree.compare.work import RECHECK, SECOND_INSPECTION
from faulttree.model import Action, Cause, Check, End, Fix, Library, Occupant, Recheck, SecondInspection, Tree
from faulttree.value import field_names

PACKAGE = Path(compare.__code__.co_filename).parent
KINDS = set(Path(__file__).with_name("kinds.txt").read_text(encoding="utf-8").split())


def judges_in(value: Any) -> Iterator[Judge]:
    if isinstance(value, Judge):
        yield value
    elif isinstance(value, dict):
        for each in value.values():
            yield from judges_in(each)
    elif isinstance(value, tuple):
        for each in value:
            yield from judges_in(each)


def of_judges() -> set[str]:
    """What every judge that stands in a module or in a table says of itself."""
    every = [judges_in(value) for module in (entries, heads, steps, work) for value in vars(module).values()]
    found = [judge for each in every for judge in each]
    return set(kinds_of(*found, scales({}, ""), settings({}, "")))


def written() -> set[str]:
    """The kinds that stand as they are where a change is found."""
    found = set()
    for path in PACKAGE.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Found":
                found |= {node.args[1].value} if isinstance(node.args[1], ast.Constant) else set()
            elif isinstance(node, ast.keyword) and node.arg == "kind" and isinstance(node.value, ast.Constant):
                found.add(node.value.value)
    return found


def test_the_list_of_kinds_is_whole_and_true() -> None:
    """Whoever adds, renames or drops a kind changes the list, and with it what programs were promised."""
    assert of_judges() | written() | set(SAYS) | {"field-changed"} == KINDS


def test_kinds_are_words_with_hyphens() -> None:
    assert all(re.fullmatch(r"[a-z]+(-[a-z]+)*", kind) for kind in KINDS)


def test_no_kind_is_found_that_is_not_in_the_list() -> None:
    old, new = shipped(), sample()
    assert old.library
    assert new.library
    sides = Side(old.library, old.trees), Side(new.library, new.trees)
    there, back = compare(*sides), compare(*reversed(sides))
    assert {change.kind for change in (*there.changes, *back.changes)} <= KINDS
    assert {change.kind for change in there.changes} >= {"tree-dropped", "tree-new", "entry-dropped"}


BY_USE = {"limits": {"scales": scales({}, ""), "settings": settings({}, "")}}
"""Judges that need to know what checks call usual."""

TABLES = [
    *((type_of, judges) for type_of, judges in (
        (Check, CHECK), (Fix, FIX), (End, END), (Cause, CAUSE), (Tree, TREE), (Action, ACTION), (Occupant, OCCUPANT),
        (Recheck, RECHECK), (SecondInspection, SECOND_INSPECTION), (Library, {**ALONE, **ENTRIES, "occupant": ()}),
    )),
    *((type(next(iter(getattr(shipped().library, field).values()))), {**ENTRIES[field][2], **BY_USE.get(field, {})})
      for field in ENTRIES if ENTRIES[field][2]),
]  # fmt: skip


@pytest.mark.parametrize(("type_of", "judges"), TABLES, ids=lambda each: getattr(each, "__name__", ""))
def test_every_field_has_a_judge(type_of: type, judges: dict) -> None:
    """So that each has words and a kind of its own; without one it would be told all the same, as a field."""
    assert set(field_names(type_of)) - {"id", "base"} == set(judges)
