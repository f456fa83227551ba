"""The builder reads exactly what the schemas describe: key by key, and for thousands of files with one thing wrong."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from building import SAMPLE, root_of
from full_files import FULL
from mutations import mutate

from faulttree.load import keys, keys_tree
from faulttree.load.build import KEYS
from faulttree.load.explain import explain_shape
from faulttree.load.fields import Keys, ShapeError, read_record
from faulttree.load.nodes import Items, Node, Table
from faulttree.load.parse import load
from faulttree.load.schema import KINDS, kind_of, schema_text

TREES = Path(__file__).parent.parent.parent / "trees"
MUTATIONS = 100
"""So many of each file."""

# -- key by key

PAIRS: dict[str, tuple[str, Keys]] = {
    "role": ("library", keys.ROLE_KEYS),
    "occupant": ("library", keys.OCCUPANT_KEYS),
    "access": ("library", keys.ACCESS_KEYS),
    "openItem": ("library", keys.OPEN_ITEM_KEYS),
    "document": ("library", keys.DOCUMENT_KEYS),
    "note": ("notices", keys.NOTE_KEYS),
    "hazardNotice": ("notices", keys.HAZARD_KEYS),
    "band": ("limits", keys.BAND_KEYS),
    "limit": ("limits", keys.LIMIT_KEYS),
    "part": ("parts", keys.PART_KEYS),
    "consumable": ("parts", keys.CONSUMABLE_KEYS),
    "tool": ("tools", keys.TOOL_KEYS),
    "operationalCheck": ("operational-checks", keys.OPERATIONAL_CHECK_KEYS),
    "inspectionItem": ("inspection", keys.INSPECTION_KEYS),
    "firstAction": ("tree", keys_tree.FIRST_ACTION_KEYS),
    "action": ("tree", keys_tree.ACTION_KEYS),
    "recheck": ("tree", keys_tree.RECHECK_KEYS),
    "lift": ("tree", keys_tree.LIFT_KEYS),
    "route/anyOf/1": ("tree", keys_tree.ROUTE_KEYS),
    "torques/items": ("tree", keys_tree.TORQUE_KEYS),
    "cause": ("tree", keys_tree.CAUSE_KEYS),
    "finding": ("tree", keys_tree.FINDING_KEYS),
    "againFinding": ("tree", keys_tree.AGAIN_FINDING_KEYS),
    "checkStep": ("tree", keys_tree.CHECK_KEYS),
    "fixStep": ("tree", keys_tree.FIX_KEYS),
    "secondInspection": ("tree", keys_tree.SECOND_INSPECTION_KEYS),
    "treeAfterwards": ("tree", keys_tree.THEN_KEYS),
    "plainEnd": ("tree", keys_tree.PLAIN_END_KEYS),
    "deferredEnd": ("tree", keys_tree.DEFERRED_KEYS),
    "handOverEnd": ("tree", keys_tree.HAND_OVER_KEYS),
    "documentEnd": ("tree", keys_tree.SEE_DOCUMENT_KEYS),
    "otherTreeEnd": ("tree", keys_tree.SEE_TREE_KEYS),
    "againStep": ("tree", keys_tree.AGAIN_KEYS),
    "case": ("tree", keys_tree.CASE_KEYS),
    "release": ("tree", keys_tree.RELEASED_KEYS),
    "otherwise": ("tree", keys_tree.OTHERWISE_KEYS),
}
"""Place below the definitions of a schema to its kind of file and the builder's table."""


def schema_at(kind: str, place: str) -> dict[str, Any]:
    found: Any = json.loads(schema_text(kind))
    for part in ("definitions", *place.split("/")):
        found = found[int(part)] if isinstance(found, list) else found[part]
    return dict(found)


@pytest.mark.parametrize("place", PAIRS)
def test_schema_and_builder_have_the_same_keys(place: str) -> None:
    kind, table = PAIRS[place]
    schema = schema_at(kind, place)
    assert sorted(schema["properties"]) == sorted(table.readers)
    assert sorted(schema["required"]) == sorted(table.required)


@pytest.mark.parametrize("kind", KINDS)
def test_schema_and_builder_have_the_same_keys_of_files(kind: str) -> None:
    schema = json.loads(schema_text(kind))
    assert sorted(schema["properties"]) == sorted(KEYS[kind].readers)
    assert sorted(schema["required"]) == sorted(KEYS[kind].required)


def closed(schema: Any, place: str) -> Iterator[str]:
    """The places of a schema where a record is described: an object that has no other keys than its own."""
    if isinstance(schema, dict):
        if schema.get("additionalProperties") is False:
            yield place
        for key, value in schema.items():
            yield from closed(value, f"{place}/{key}")
    elif isinstance(schema, list):
        for index, value in enumerate(schema):
            yield from closed(value, f"{place}/{index}")


def test_no_record_of_a_schema_is_left_out_of_the_comparison() -> None:
    compared = {(kind, f"/definitions/{place}") for place, (kind, _) in PAIRS.items()}
    found = {(kind, place) for kind in KINDS for place in closed(json.loads(schema_text(kind)), "")}
    assert found - {(kind, "") for kind in KINDS} == compared


def test_no_table_of_the_builder_is_left_out_of_the_comparison() -> None:
    parts = {keys_tree.HEADER_KEYS, keys_tree.BODY_KEYS}
    tables = {value for module in (keys, keys_tree) for value in vars(module).values() if isinstance(value, Keys)}
    assert tables - parts == {table for _, table in PAIRS.values()} | {keys_tree.TREE_KEYS}


# -- file by file


def accepts(root: Node, kind: str) -> bool:
    try:
        read_record(root, KEYS[kind])
    except ShapeError:
        return False
    return True


def read_file(path: Path) -> Node:
    root = load(path.read_bytes(), path.name).root
    assert root is not None
    return root


SOURCES: dict[str, Callable[[], Node]] = {f"full {kind}": partial(root_of, text) for kind, text in FULL.items()}
SOURCES |= {f"sample {path.stem}": partial(read_file, path) for path in sorted(SAMPLE.glob("*.yaml"))}


def kind_of_source(name: str) -> str:
    origin, stem = name.split(" ")
    return stem if origin == "full" else kind_of(stem + ".yaml")


def test_the_full_files_use_every_key_of_the_builder() -> None:
    used = {key for text in FULL.values() for key in keys_in(root_of(text))}
    tables = [table for _, table in PAIRS.values()] + list(KEYS.values())
    assert {key for table in tables for key in table.readers} <= used


def keys_in(node: Node) -> Iterator[str]:
    if isinstance(node, Table):
        for key, entry in node.entries.items():
            yield key
            yield from keys_in(entry.value)
    elif isinstance(node, Items):
        for item in node.items:
            yield from keys_in(item)


@pytest.mark.parametrize("name", SOURCES)
def test_sound_files_are_accepted_by_both(name: str) -> None:
    root, kind = SOURCES[name](), kind_of_source(name)
    assert explain_shape(root, kind, "file") == []
    assert accepts(root, kind)


@pytest.mark.parametrize("path", sorted(TREES.rglob("*.yaml")), ids=lambda path: path.stem)
def test_the_shipped_library_is_judged_alike(path: Path) -> None:
    root, kind = read_file(path), kind_of(path.name)
    assert accepts(root, kind) == (explain_shape(root, kind, "file") == [])


@pytest.mark.parametrize("name", SOURCES)
def test_files_with_one_thing_wrong_are_judged_alike(name: str) -> None:
    compare_mutations(name, MUTATIONS, seed=name)


@pytest.mark.long
@pytest.mark.parametrize("name", SOURCES)
def test_many_more_files_with_one_thing_wrong_are_judged_alike(name: str) -> None:
    compare_mutations(name, 4 * MUTATIONS, seed=f"more of {name}")


def compare_mutations(name: str, count: int, seed: str) -> None:
    """Judges mutations of a file both ways; that some are accepted and some are not shows that the test can fail."""
    root, kind = SOURCES[name](), kind_of_source(name)
    chance = random.Random(seed)
    verdicts = set()
    for _ in range(count):
        what, undo = mutate(root, chance)
        verdict = accepts(root, kind)
        problems = explain_shape(root, kind, "file")
        assert verdict == (problems == []), (what, [problem.message for problem in problems])
        verdicts.add(verdict)
        undo()
    assert verdicts == {True, False}
    assert accepts(root, kind)
