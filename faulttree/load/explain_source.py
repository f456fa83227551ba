"""What the words about a shape problem are taken from: the nodes of the file, and titles and examples of its schema."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, NamedTuple

from faulttree.load.explain_view import Schema, Text
from faulttree.load.nodes import THE_KEY, Node, Path, where
from faulttree.problems import ERROR, Problem, Span

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

Wrong = Any
"""A validation error. Its fields are typed as perhaps unset; in errors that come from a validator they are set."""

EACH_MODEL = "one for each model"
"""The title of the mappings from model to value."""

LONGEST_EXAMPLE = 60

_WORDS = {
    "string": "a text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
    "array": "a list",
    "object": "a mapping",
}
_INTO_VALUES = ("properties", "patternProperties", "additionalProperties", "items", "propertyNames")
_UNQUOTED = re.compile(r"[A-Za-z0-9_]([^,:#\[\]{}\"']*[^,:#\[\]{}\"'\s])?")


def path_of(error: ValidationError) -> Path:
    """The keys and indexes from the root of the file to the value."""
    return tuple(error.absolute_path)


class Source(NamedTuple):
    """One file: its nodes, its schema, its name."""

    root: Node
    schema: Schema
    file: str

    def problem(self, rule: str, message: str, advice: str, span: Span) -> Problem:
        """A problem of shape."""
        return Problem(rule, ERROR, message, advice, self.file, span)

    def value_span(self, error: ValidationError) -> Span:
        """Where the value stands; a collection is shown by its key."""
        return where(self.root, path_of(error))

    def key_span(self, error: ValidationError, key: str) -> Span:
        """Where a key of the mapping stands."""
        return where(self.root, (*path_of(error), key, THE_KEY))

    def resolved(self, schema: Any) -> Any:
        """The schema that a reference leads to."""
        while isinstance(schema, dict) and "$ref" in schema:
            schema = self._referred(schema)
        return schema

    def _referred(self, schema: Any) -> Any:
        return self.schema["definitions"][schema["$ref"].rpartition("/")[2]]

    def examples(self, schema: Any) -> list[Any]:
        """The examples of a schema: its own, or those of what it refers to."""
        while isinstance(schema, dict):
            if isinstance(schema.get("examples"), list):
                return list(schema["examples"])
            if "$ref" not in schema:
                break
            schema = self._referred(schema)
        return []

    def example(self, error: ValidationError) -> str:
        """An example of the value that is wrong, as it would stand on one line; empty where there is none."""
        found: list[Any] = []
        schema: Any = self.schema
        for part in error.absolute_schema_path:
            schema = self.resolved(schema)[part]
            found = [] if part in _INTO_VALUES else self.examples(schema) or found
        return in_one_line(found[0]) if found else ""

    def expected(self, schema: Any) -> list[str]:
        """What a schema wants, in words, the usual first; that it may be one for each model goes without saying."""
        schema = self.resolved(schema)
        branches = schema.get("anyOf", schema.get("oneOf"))
        if branches:
            usual = [branch for branch in branches if self.resolved(branch).get("title") != EACH_MODEL]
            return list(dict.fromkeys(word for branch in usual for word in self.expected(branch)))
        if "const" in schema:
            return [f'"{schema["const"]}"']
        kind = schema["type"]
        return [_WORDS["string" if isinstance(kind, list) else kind]]


def in_one_line(value: Any) -> str:
    """A value of a schema as YAML on one line; empty where that is long or would need quotes inside quotes.

    Sentences in brackets or braces are no example to follow: a comma in them would split them.
    """
    line = _flow(value)
    fits = len(line) <= LONGEST_EXAMPLE and '"' not in line and not re.search(r"\.[,\]}]", line)
    return line if fits else ""


def _flow(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_flow(key)}: {_flow(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_flow, value)) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    return (
        value
        if isinstance(value, str) and _UNQUOTED.fullmatch(value)
        else f'"{value}"'
        if isinstance(value, str)
        else str(value)
    )


def place(path: Path) -> str:
    """A value's place in words: the file, a key, or an entry of a list."""
    if not path:
        return "the file"
    *above, last = path
    if isinstance(last, str):
        return f'"{last}"'
    return f"entry {last + 1} of {place(tuple(above))}"


def key_of(path: Path) -> str:
    """The innermost key on the way to a value, quoted."""
    return next((f'"{part}"' for part in reversed(path) if isinstance(part, str)), "the file")


def what(value: Any) -> str:
    """What a value of the view is, in words."""
    return "a text" if isinstance(value, Text) else "a list" if isinstance(value, list) else "a mapping"


def all_of(keys: list[str]) -> str:
    """Keys in quotes, joined by commas and "and"."""
    return one_of([f'"{key}"' for key in keys]).replace(" or ", " and ")


def one_of(words: list[str]) -> str:
    """Words joined by commas and "or"."""
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " or " + words[-1]
