"""The schemas are sound, explain every key, and accept the sample library."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft7Validator

from faulttree.load.explain import explain_shape
from faulttree.load.format_page import format_page
from faulttree.load.parse import load
from faulttree.load.schema import KINDS, kind_of, schema_named, schema_text

ROOT = Path(__file__).parent.parent.parent
SAMPLE = sorted((ROOT / "tests" / "sample").glob("*.yaml"))
SCHEMAS: dict[str, dict[str, Any]] = {kind: json.loads(schema_text(kind)) for kind in KINDS}

ARTICLE = re.compile(r"(the|an?) ", re.IGNORECASE)


def parts(schema: Any) -> Iterator[dict[str, Any]]:
    """Every mapping in a schema, itself included; examples and snippets are left out."""
    if isinstance(schema, dict):
        yield schema
        for key, value in schema.items():
            if key not in ("examples", "defaultSnippets"):
                yield from parts(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from parts(value)


def chain(kind: str, schema: Any) -> Iterator[dict[str, Any]]:
    """A schema and what it refers to."""
    while isinstance(schema, dict):
        yield schema
        schema = SCHEMAS[kind]["definitions"][schema["$ref"].rpartition("/")[2]] if "$ref" in schema else None


def keys(kind: str) -> list[tuple[str, Any]]:
    """Every key of a kind of file; the conditions of ``if`` and ``then`` name keys that stand elsewhere too."""
    found = []
    for part in parts(SCHEMAS[kind]):
        if "additionalProperties" in part:
            found += list(part.get("properties", {}).items())
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_schema_is_a_schema_of_draft_07(kind: str) -> None:
    """Judged by the meta-schema http://json-schema.org/draft-07/schema as the jsonschema package carries it."""
    assert SCHEMAS[kind]["$schema"] == Draft7Validator.META_SCHEMA["$id"] == "http://json-schema.org/draft-07/schema#"
    Draft7Validator.check_schema(SCHEMAS[kind])


@pytest.mark.parametrize("kind", KINDS)
def test_schema_stands_alone(kind: str) -> None:
    """Every reference leads into the same file, and every definition is referred to."""
    refs = {part["$ref"] for part in parts(SCHEMAS[kind]) if "$ref" in part}
    assert refs == {f"#/definitions/{name}" for name in SCHEMAS[kind]["definitions"]}


def test_definitions_of_one_name_are_alike() -> None:
    """What two files share is written in both; it must not drift apart."""
    first: dict[str, Any] = {}
    for kind in KINDS:
        for name, definition in SCHEMAS[kind]["definitions"].items():
            assert first.setdefault(name, definition) == definition, (kind, name)


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_is_explained(kind: str) -> None:
    """Each has a title (a lower-case noun), a description (sentences) and examples."""
    assert keys(kind)
    for key, schema in keys(kind):
        said = {word: each[word] for each in reversed(list(chain(kind, schema))) for word in each}
        title, description = said["title"], said["description"]
        assert title == title[0].lower() + title[1:], key
        assert not title.endswith("."), key
        assert not ARTICLE.match(title), key
        assert description.endswith("."), key
        assert description[0] == description[0].upper(), key
        assert said["examples"], key


@pytest.mark.parametrize("kind", KINDS)
def test_examples_and_defaults_are_valid(kind: str) -> None:
    for key, schema in keys(kind):
        said = {word: each[word] for each in reversed(list(chain(kind, schema))) for word in each}
        validator = Draft7Validator({**schema, "definitions": SCHEMAS[kind]["definitions"]})
        for value in [*said["examples"], *([said["default"]] if "default" in said else [])]:
            assert not list(validator.iter_errors(value)), (key, value)


@pytest.mark.parametrize("kind", KINDS)
def test_mappings_are_closed_but_for_the_authors_own_keys(kind: str) -> None:
    closed = [part for part in parts(SCHEMAS[kind]) if "properties" in part and "additionalProperties" in part]
    assert closed
    for part in closed:
        assert part["additionalProperties"] is False
        assert part["patternProperties"] == {"^x-": {}}


@pytest.mark.parametrize("kind", KINDS)
def test_patterns_are_anchored_and_in_words(kind: str) -> None:
    """But for the pattern of texts, which asks only for something that is not blank."""
    for part in parts(SCHEMAS[kind]):
        if isinstance(part.get("pattern"), str) and part["pattern"] != r"\S":
            assert re.fullmatch(r"\^.*\$", part["pattern"])
        if isinstance(part.get("pattern"), str):
            assert part["patternErrorMessage"]


def test_fixed_words_are_explained_one_by_one() -> None:
    count = 0
    for kind in KINDS:
        for part in parts(SCHEMAS[kind]):
            for choice in part.get("oneOf", ()):
                count += 1
                assert set(choice) == {"const", "title", "description"}
    assert count > 20


def test_snippets_are_offered_where_a_step_begins() -> None:
    steps = SCHEMAS["tree"]["properties"]["steps"]
    labels = [snippet["label"] for snippet in steps["defaultSnippets"]]
    assert labels == ["check step", "fix step", "end step", "again step"]
    definitions = SCHEMAS["tree"]["definitions"]
    for name in ("checkStep", "fixStep", "endStep", "againStep", "finding"):
        assert all(snippet["body"] for snippet in definitions[name]["defaultSnippets"])
    choices = definitions["findings"]["anyOf"]
    assert [snippet["label"] for snippet in choices[0]["defaultSnippets"]] == [
        "finding with its next step",
        "finding at length",
    ]


def test_sample_has_every_kind() -> None:
    assert {kind_of(path.name) for path in SAMPLE} == set(KINDS)


@pytest.mark.parametrize("path", SAMPLE, ids=lambda path: path.stem)
def test_sample_is_valid(path: Path) -> None:
    loaded = load(path.read_bytes(), path.name)
    assert loaded.root is not None
    assert not loaded.problems
    assert explain_shape(loaded.root, kind_of(path.name), path.name) == []


def test_kind_is_told_by_the_name() -> None:
    assert kind_of("operational-checks.yaml") == "operational-checks"
    assert kind_of("shared/limits.yaml") == "limits"
    assert kind_of("lamp-does-not-light.yaml") == "tree"


def test_unknown_kind_has_no_schema() -> None:
    with pytest.raises(KeyError):
        schema_text("../schema")


def test_page_of_the_format_is_up_to_date() -> None:
    assert (ROOT / "docs" / "format.md").read_text(encoding="utf-8") == format_page()


def test_page_of_the_format_has_every_key() -> None:
    page = format_page()
    sections = re.split(r"^## .*: ", page, flags=re.MULTILINE)[1:]
    assert len(sections) == len(KINDS)
    for kind, section in zip(KINDS, sections, strict=True):
        rows = [line for line in section.splitlines() if line.startswith("| `")]
        tables = [part for part in parts(SCHEMAS[kind]) if "properties" in part and "additionalProperties" in part]
        assert len(rows) == sum(len(table["properties"]) for table in tables)


def test_links_of_the_page_lead_somewhere() -> None:
    page = format_page()
    anchors = re.findall(r'<a id="(.*?)">', page)
    assert len(anchors) == len(set(anchors))
    assert set(re.findall(r"\]\(#(.*?)\)", page)) <= set(anchors)


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("# yaml-language-server: $schema=schemas/tree.schema.json\nfaulttree: 1\n", "schemas/tree.schema.json"),
        ("# yaml-language-server: $schema=https://example.org/tree.json later\n", "https://example.org/tree.json"),
        ("# yaml-language-server: $schema=\nfaulttree: 1\n", ""),
        ("faulttree: 1\n# yaml-language-server: $schema=a.json\n", ""),
        ("", ""),
    ],
)
def test_the_first_line_names_the_schema_up_to_a_blank(text: str, named: str) -> None:
    assert schema_named(text) == named
