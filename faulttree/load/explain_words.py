"""Words for what is wrong with the shape of a file: one function for each keyword of the schemas.

Each says what is wrong, where, and what to write instead, in words of the format and never in those of the schema
library. ``WORDS`` finds the function by the keyword. Those for lists and mappings stand in `explain_lists`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from difflib import get_close_matches

from faulttree.load.explain_lists import repeated, split_sentence, wrong_length
from faulttree.load.explain_source import Source, Wrong, all_of, in_one_line, key_of, one_of, path_of, place, what
from faulttree.load.explain_view import Mapping, Text, matches, number_of
from faulttree.load.scalars import bool_problem, number_problem
from faulttree.load.text import short
from faulttree.problems import Problem

_RULES = {
    "a text": "value-not-text",
    "a number": "value-not-number",
    "a whole number": "value-not-number",
    "true or false": "value-not-true-false",
    "a list": "value-not-list",
    "a mapping": "value-not-mapping",
}
_SCALARS = ("a text", "a number", "a whole number", "true or false")
_TAKE_OUT = 'take it out, or begin its name with "x-" if it is a key of your own'
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._ -]*")


def close(word: str, words: list[str]) -> str:
    """The word that was probably meant; empty where none is near."""
    return next(iter(get_close_matches(word, words, n=1, cutoff=0.6)), "")


# Keys


def unknown_key(source: Source, error: Wrong) -> Problem:
    """A key that its mapping does not have. A key of another kind of step or notice has its own words."""
    key, span = error.message, source.key_span(error, error.message)
    owners = _owners(source, error, key)
    if _is_step(source, error, key):
        advice = "put it further left, in the column of the other steps, if it is a step"
        return source.problem("key-unknown", f'unknown key "{short(key)}" in {place(path_of(error))}', advice, span)
    if owners:
        message = f'"{short(key)}" has no place in this {source.resolved(error.schema)["title"]}'
        return source.problem("key-not-here", message, f"take it out; it belongs to: {', '.join(owners)}", span)
    inside = f" in {place(path_of(error))}" if error.absolute_path else ""
    meant = close(key, list(error.schema["properties"]))
    advice = f'write "{meant}"' if meant else _missing_one(error) or _TAKE_OUT
    return source.problem("key-unknown", f'unknown key "{short(key)}"{inside}', advice, span)


def _missing_one(error: Wrong) -> str:
    """The one key that is missing beside the one that is unknown: things are called by another key elsewhere."""
    missing = [key for key in error.schema.get("required", ()) if key not in error.instance]
    unknown = [key for key in error.instance if key not in error.schema["properties"]]
    if len(missing) != 1 or len(unknown) != 1:
        return ""
    return f'write "{missing[0]}", which is missing, if that is meant; else take it out'


def _is_step(source: Source, error: Wrong, key: str) -> bool:
    """Whether what stands at an unknown key of a step is a step itself, indented too far."""
    value = error.instance[key]
    return path_of(error)[:1] == ("steps",) and isinstance(value, Mapping) and not _STEP_KINDS.isdisjoint(value)


_STEP_KINDS = frozenset(("check", "fix", "end", "again"))


def _owners(source: Source, error: Wrong, key: str) -> list[str]:
    """The titles of the other kinds of the same thing that have this key."""
    definitions = source.schema["definitions"]
    kinds = next((kinds for kinds in _KINDS if error.schema in [definitions.get(kind) for kind in kinds]), ())
    return [definitions[kind]["title"] for kind in kinds if key in definitions[kind]["properties"]]


_KINDS = (
    ("checkStep", "fixStep", "plainEnd", "deferredEnd", "handOverEnd", "documentEnd", "otherTreeEnd", "againStep"),
    ("note", "hazardNotice"),
)


def missing_key(source: Source, error: Wrong) -> Problem:
    """A key that must be there."""
    key = error.message
    inside = f" in {place(path_of(error))}" if error.absolute_path else ""
    examples = source.examples(error.schema["properties"][key])
    example = in_one_line(examples[0]) if examples else ""
    advice = f'add "{key}", such as "{key}: {example}"' if example else f'add the key "{key}"'
    return source.problem("key-missing", f'"{key}" is missing{inside}', advice, source.value_span(error))


def key_form(source: Source, error: Wrong) -> Problem:
    """A key that is no name of the wanted form."""
    span = source.key_span(error, error.instance)
    message = f'"{short(error.instance)}" cannot be a key in {place(path_of(error))}'
    return source.problem("key-pattern", message, _form(error), span)


def not_here(source: Source, error: Wrong) -> Problem:
    """A key that a neighbour excludes; the schema's comment says which."""
    message = f'"{error.message}" has no place {error.schema["$comment"]}'
    return source.problem("key-not-here", message, "take one of the two out", source.key_span(error, error.message))


# Values


def wrong_type(source: Source, error: Wrong) -> Problem:
    """A value of another type than any that is wanted."""
    value, span = error.instance, source.value_span(error)
    wanted = source.expected({"type": error.validator_value} if error.validator == "type" else error.schema)
    if isinstance(value, Text) and wanted == ["true or false"]:
        return bool_problem(value.scalar, source.file)._replace(rule="value-not-true-false", span=span)
    if isinstance(value, Text) and "number" in wanted[0]:
        return _not_number(source, error, value, wanted)
    message = f"{place(path_of(error))} is {what(value)}, not {one_of(wanted)}"
    return source.problem(_RULES[wanted[0]], message, _instead(source, error, wanted), span)


def _not_number(source: Source, error: Wrong, value: Text, wanted: list[str]) -> Problem:
    span = source.value_span(error)
    meant = close(value, [word.strip('"') for word in wanted[1:]])
    if len(wanted) == 1 and number_of(value) is None:
        return number_problem(value.scalar, source.file)._replace(rule="value-not-number", span=span)
    rule = "value-not-number" if number_of(value) is None else "value-not-whole"
    advice = f'write "{meant}"' if meant else f"write {one_of(wanted)}"
    return source.problem(rule, f'"{short(value)}" is not {one_of(wanted)}', advice, span)


def _instead(source: Source, error: Wrong, wanted: list[str]) -> str:
    """What to write in place of a value of the wrong type."""
    slip = _slip(error, wanted)
    if slip:
        return slip
    example = source.example(error)
    if example:
        return f'write {wanted[0]}, such as "{example}"'
    if wanted == ["a mapping"]:
        keys = error.schema.get("required")
        return f"write a mapping with the keys {all_of(keys)}" if keys else "write keys with values below it"
    return f"write {one_of(wanted)}"


def _slip(error: Wrong, wanted: list[str]) -> str:
    """How to mend a common slip, with the author's own words where these fit; empty where it is none."""
    value, path = error.instance, path_of(error)
    if "a list" in wanted and isinstance(value, Text):
        return f'write "[{value}]"' if _NAME.fullmatch(value) else 'begin each entry on its own line with "- "'
    if wanted[0] in _SCALARS and isinstance(value, list) and len(value) == 1 and isinstance(value[0], Text):
        return "take the brackets or the dash away"
    if wanted[0] == "a text" and isinstance(value, Mapping) and len(value) == 1 and isinstance(path[-1], int):
        return "take the dashes away" if path[-2] == "findings" else "put the text in quotes, because it holds a colon"
    return ""


def not_one_of(source: Source, error: Wrong) -> Problem:
    """A value that is none of the fixed words."""
    consts = [branch["const"] for branch in error.schema.get("oneOf", [error.schema])]
    words = [f'"{const}"' if isinstance(const, str) else str(const) for const in consts]
    meant = words[0] if len(words) == 1 else close(f'"{error.instance}"', words)
    message = f'"{short(str(error.instance))}" is not {one_of(words)}'
    sure = len(words) == 1 and not isinstance(consts[0], str)
    advice = f"write {meant}" + ("" if sure else " if that is what you mean") if meant else "write one of these words"
    return source.problem("value-not-one-of", message, advice, source.value_span(error))


def out_of_range(source: Source, error: Wrong) -> Problem:
    """A number that is too small or too large."""
    relation, wanted = _BOUNDS[str(error.validator)]
    bound = error.validator_value
    message = f'"{short(error.instance)}" is {relation} {bound}'
    span = source.value_span(error)
    return source.problem("value-out-of-range", message, f"write a number {wanted} {bound}", span)


_BOUNDS = {
    "minimum": ("below", "of at least"),
    "maximum": ("above", "of at most"),
    "exclusiveMinimum": ("not above", "above"),
    "exclusiveMaximum": ("not below", "below"),
}


def wrong_form(source: Source, error: Wrong) -> Problem:
    """A text that does not have the form that is wanted here."""
    if not error.instance.strip():
        message = f"{place(path_of(error))} holds blanks only"
        return source.problem("value-empty", message, "write a text", source.value_span(error))
    message = f'"{short(error.instance)}" does not have the form that {key_of(path_of(error))} wants'
    return source.problem("value-pattern", message, _form(error), source.value_span(error))


def _form(error: Wrong) -> str:
    """The form in words, with the author's text put into it where that is easy."""
    form, pattern = error.schema["patternErrorMessage"], error.schema["pattern"]
    text = " ".join(re.sub(r"[^A-Za-z0-9 ._-]+", "", error.instance).split())
    hyphens = re.sub(r"[ ._-]+", "-", text)
    tries = (text, hyphens, hyphens.lower(), hyphens[:1].upper() + hyphens[1:])
    name = next((each for each in tries if each and matches(pattern, each)), "")
    return f'write "{name}": {form}' if name else f"use {form}"


def no_day(source: Source, error: Wrong) -> Problem:
    """A date that the calendar does not have."""
    message = f'"{short(error.instance)}" is no day of the calendar'
    return source.problem("value-not-date", message, "write a day that exists", source.value_span(error))


WORDS: dict[str, Callable[[Source, Wrong], Problem]] = {
    "$comment": split_sentence,
    "properties": not_here,
    "additionalProperties": unknown_key,
    "required": missing_key,
    "propertyNames": key_form,
    "type": wrong_type,
    "anyOf": wrong_type,
    "const": not_one_of,
    "enum": not_one_of,
    "oneOf": not_one_of,
    "pattern": wrong_form,
    "format": no_day,
    "uniqueItems": repeated,
    **dict.fromkeys(("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"), out_of_range),
    **dict.fromkeys(("minItems", "maxItems", "minProperties", "maxProperties"), wrong_length),
}
