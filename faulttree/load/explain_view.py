"""A view of positioned nodes that JSON Schema can judge, typed by schema and not by look.

A scalar becomes a text that remembers where it stood. It is a "string" wherever a schema wants one, whatever it
looks like, and a "number" or "boolean" only where it is plain and has a form of the YAML 1.2 core schema. Nothing
is ever null.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date
from typing import TYPE_CHECKING, Any

from faulttree.load.nodes import Items, Node, Scalar, split_by_comma
from faulttree.load.scalars import read_bool, read_number

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

Schema = dict[str, Any]
Keyword = Callable[[Any, Any, Any, Schema], Iterator["ValidationError"]]


class Text(str):
    """A scalar as a text."""

    scalar: Scalar

    def __new__(cls, scalar: Scalar) -> Text:
        """The characters of ``scalar`` as written."""
        text = super().__new__(cls, scalar.value)
        text.scalar = scalar
        return text


class Mapping(dict[str, Any]):
    """A mapping. Its keys are `Text`, so that a problem of a key can be shown at the key."""


class Listed(list[Any]):
    """A sequence that remembers how it was written."""

    items: Items

    def __init__(self, items: Items) -> None:
        super().__init__(view(item) for item in items.items)
        self.items = items


SENTENCES = "sentences"
"""The comment of a schema at a list whose items are sentences: a comma in brackets may have split one."""


def view(node: Node) -> Any:
    """The node as `Text`, `Listed` or `Mapping`."""
    if isinstance(node, Scalar):
        return Text(node)
    if isinstance(node, Items):
        return Listed(node)
    return Mapping({Text(entry.key): view(entry.value) for entry in node.entries.values()})


def number_of(value: Any) -> int | float | None:
    """The number that a value of the view stands for, or None."""
    return read_number(value.scalar) if isinstance(value, Text) else None


def same(value: Any, wanted: Any) -> bool:
    """Whether a value of the view is the constant that a schema wants."""
    if isinstance(wanted, str) or not isinstance(value, Text):
        return bool(value == wanted)
    return read_bool(value.scalar) is wanted if isinstance(wanted, bool) else number_of(value) == wanted


def shape_errors(value: Any, schema: Schema) -> list[ValidationError]:
    """What a schema finds wrong with a value of the view.

    The import stands here because it takes longer than reading a sound library; only a faulty one needs it.
    """
    from jsonschema import Draft7Validator, TypeChecker, validators

    types: Any = {kind: _of_view(test) for kind, test in _TYPES.items()}
    extend: Any = validators.extend
    judge = extend(Draft7Validator, validators=_keywords(), type_checker=TypeChecker(types))
    return list(judge(schema).iter_errors(value))


def _is_whole(value: Any) -> bool:
    number = number_of(value)
    return number is not None and number == number // 1


_TYPES: dict[str, Callable[[Any], bool]] = {
    "string": lambda value: isinstance(value, Text),
    "number": lambda value: number_of(value) is not None,
    "integer": _is_whole,
    "boolean": lambda value: isinstance(value, Text) and read_bool(value.scalar) is not None,
    "object": lambda value: isinstance(value, dict),
    "array": lambda value: isinstance(value, list),
    "null": lambda value: False,
}


def _of_view(test: Callable[[Any], bool]) -> Callable[[Any, Any], bool]:
    return lambda checker, value: test(value)


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


_BOUNDS: dict[str, Callable[[float, float], bool]] = {
    "minimum": lambda number, bound: number >= bound,
    "maximum": lambda number, bound: number <= bound,
    "exclusiveMinimum": lambda number, bound: number > bound,
    "exclusiveMaximum": lambda number, bound: number < bound,
}


def _keywords() -> dict[str, Keyword]:
    """The keywords that look into scalars, and those that name one key an error."""
    from jsonschema.exceptions import ValidationError

    def judged_by(is_right: Callable[[Any, Any], bool]) -> Keyword:
        def keyword(validator: Any, wanted: Any, value: Any, schema: Schema) -> Iterator[ValidationError]:
            if not is_right(value, wanted):
                yield ValidationError("")

        return keyword

    def required(validator: Any, wanted: list[str], value: Any, schema: Schema) -> Iterator[ValidationError]:
        if isinstance(value, dict):
            yield from (ValidationError(key) for key in wanted if key not in value)

    def properties(validator: Any, wanted: Schema, value: Any, schema: Schema) -> Iterator[ValidationError]:
        for key in wanted if isinstance(value, dict) else ():
            if key in value and wanted[key] is False:
                yield ValidationError(key)
            elif key in value:
                yield from validator.descend(value[key], wanted[key], path=key, schema_path=key)

    def other_keys(validator: Any, wanted: Any, value: Any, schema: Schema) -> Iterator[ValidationError]:
        for key in value if isinstance(value, dict) else ():
            if key in schema.get("properties", ()) or any(matches(p, key) for p in schema.get("patternProperties", ())):
                continue
            if wanted is False:
                yield ValidationError(key)
            else:
                yield from validator.descend(value[key], wanted, path=key)

    def comment(validator: Any, said: str, value: Any, schema: Schema) -> Iterator[ValidationError]:
        if said == SENTENCES and isinstance(value, Listed) and split_by_comma(value.items):
            yield ValidationError("")

    return {
        "$comment": comment,
        **{name: judged_by(_bounded(fits)) for name, fits in _BOUNDS.items()},
        "const": judged_by(same),
        "enum": judged_by(lambda value, wanted: any(same(value, each) for each in wanted)),
        "pattern": judged_by(lambda value, wanted: not isinstance(value, Text) or matches(wanted, value)),
        "format": judged_by(lambda value, wanted: not (wanted == "date" and isinstance(value, Text)) or _is_day(value)),
        "required": required,
        "properties": properties,
        "additionalProperties": other_keys,
    }


def matches(pattern: str, text: str) -> bool:
    """Whether a schema's pattern is found in a text. As in JavaScript, ``$`` does not match before a last line end."""
    return re.search(re.sub(r"\$$", r"\\Z", pattern), text) is not None


def _bounded(fits: Callable[[float, float], bool]) -> Callable[[Any, Any], bool]:
    def is_right(value: Any, bound: float) -> bool:
        number = number_of(value)
        return number is None or fits(number, bound)

    return is_right
