"""Why a file does not have the shape that its schema describes, as problems with exact positions.

The schemas are the one description of shape. This module runs them over the positioned nodes and keeps, of all that
the schema library finds, what helps an author: of several shapes that a value may have the one that was probably
meant, and of several problems with one cause the cause.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from faulttree.load.explain_source import Source, path_of
from faulttree.load.explain_view import Text, shape_errors, view
from faulttree.load.explain_words import WORDS, close
from faulttree.load.nodes import THE_KEY, Node, Path, Table, where
from faulttree.load.schema import TREE, schema_text
from faulttree.problems import Problem, in_order

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

SHAPE_RULES = (
    "key-missing",
    "key-not-here",
    "key-pattern",
    "key-unknown",
    "list-empty",
    "list-length",
    "list-repeats",
    "mapping-empty",
    "mapping-length",
    "prose-comma",
    "step-kind",
    "value-empty",
    "value-not-date",
    "value-not-list",
    "value-not-mapping",
    "value-not-number",
    "value-not-one-of",
    "value-not-text",
    "value-not-true-false",
    "value-not-whole",
    "value-out-of-range",
    "value-pattern",
)
"""The rules about shape."""

STEP_KINDS = ("check", "fix", "end", "again")

DECIDING_KEYS = ("signal", "end")
"""Keys whose value decides which other keys there are."""


def explain_shape(root: Node, kind: str, file: str) -> list[Problem]:
    """The problems of shape of a file of a kind, in order; empty where its shape is right.

    Empty values are passed over: the reader of the text has reported them.
    """
    source = Source(root, json.loads(schema_text(kind)), file)
    steps = _step_problems(source) if kind == TREE else {}
    errors = [leaf for error in shape_errors(view(root), source.schema) for leaf in _leaves(error)]
    errors = [error for error in errors if path_of(error)[:2] not in steps and not _is_empty(error)]
    told = [WORDS[_keyword(error)](source, error) for error in _causes(errors)]
    return in_order([*steps.values(), *told])


def _is_empty(error: ValidationError) -> bool:
    return isinstance(error.instance, Text) and not error.instance


def _keyword(error: ValidationError) -> str:
    """The keyword that was broken; a key's form has a name of its own."""
    in_name = "propertyNames" in list(error.absolute_schema_path)[-2:-1]
    return "propertyNames" if in_name else str(error.validator)


# Of several shapes the one that was meant


def _leaves(error: ValidationError) -> Iterator[ValidationError]:
    """The error itself, or the errors of the shape that was probably meant."""
    branch = _meant(error) if error.validator == "anyOf" else []
    if branch:
        for child in branch:
            yield from _leaves(child)
    else:
        yield error


def _meant(error: ValidationError) -> list[ValidationError]:
    """The errors of the shape that the value is nearest to; empty where it is like none of them."""
    branches: dict[str | int, list[ValidationError]] = defaultdict(list)
    for child in error.context or ():
        branches[child.relative_schema_path[0]].append(child)
    near = [children for children in branches.values() if not any(_is_other(child) for child in children)]
    near = [children for children in near if not _has_only_other_keys(children)]
    return min(near, key=lambda children: (len(children), -_depth(children)), default=[])


def _is_other(child: ValidationError) -> bool:
    """Whether an error says that the value is of another shape altogether."""
    if child.path:
        return False
    return child.validator in ("type", "const") or (child.validator == "anyOf" and not _meant(child))


def _has_only_other_keys(children: list[ValidationError]) -> bool:
    """Whether no key has the form that this shape wants."""
    wrong = [child for child in children if not child.path and _keyword(child) == "propertyNames"]
    parent: Any = children[0].parent
    return bool(wrong) and len(wrong) == len(parent.instance)


def _depth(children: list[ValidationError]) -> int:
    return max(len(child.path) for child in children)


# Of several problems the cause


def _causes(errors: list[ValidationError]) -> list[ValidationError]:
    """The errors without those that only follow from another."""
    types = {path_of(error): error for error in reversed(errors) if error.validator in ("type", "anyOf")}
    wrong_forms = {path_of(error) for error in errors if _keyword(error) == "pattern"}
    undecided = {path_of(error)[:-1] for error in errors if error.validator == "oneOf" and _decides(path_of(error))}
    misspelt = {(path_of(error), _meant_key(error)) for error in errors if error.validator == "additionalProperties"}

    def follows(error: ValidationError) -> bool:
        path = path_of(error)
        if error.validator in ("required", "additionalProperties"):
            return path in undecided or (path, error.message) in misspelt
        if error.validator == "format":
            return path in wrong_forms
        return types.get(path, error) is not error and _keyword(error) != "propertyNames"

    return [error for error in errors if not follows(error)]


def _decides(path: Path) -> bool:
    return bool(path) and path[-1] in DECIDING_KEYS


def _meant_key(error: ValidationError) -> str:
    schema: Any = error.schema
    return close(error.message, list(schema["properties"]))


# Steps


def _step_problems(source: Source) -> dict[Path, Problem]:
    """The steps that are of no kind or of two, by path: what else is wrong with them cannot be told."""
    root = source.root
    steps = root.entries["steps"].value if isinstance(root, Table) and "steps" in root.entries else None
    found: dict[Path, Problem] = {}
    for name, entry in steps.entries.items() if isinstance(steps, Table) else ():
        if isinstance(entry.value, Table):
            keys = list(entry.value.entries)
            kinds = [key for key in keys if key in STEP_KINDS]
            if len(kinds) != 1:
                found[("steps", name)] = _step_problem(source, name, keys, kinds)
    return found


def _step_problem(source: Source, name: str, keys: list[str], kinds: list[str]) -> Problem:
    if kinds:
        message = f'the step "{name}" is a "{kinds[0]}" and a "{kinds[1]}"'
        span = where(source.root, ("steps", name, kinds[1], THE_KEY))
        return source.problem("step-kind", message, "make a step of each", span)
    slip = next((key for key in keys if close(key, list(STEP_KINDS))), "")
    message = f'the step "{name}" is no check, fix, end or again'
    if slip:
        advice = f'write "{close(slip, list(STEP_KINDS))}" in place of "{slip}"'
        return source.problem("step-kind", message, advice, where(source.root, ("steps", name, slip, THE_KEY)))
    advice = 'add the key "check", "fix", "end" or "again"'
    return source.problem("step-kind", message, advice, where(source.root, ("steps", name, THE_KEY)))
