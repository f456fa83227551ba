"""Words for what is wrong with a list or mapping as a whole: its length, repeated entries, a sentence cut in two."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from faulttree.load.explain_source import Source, Wrong, path_of, place
from faulttree.load.explain_view import Listed, Text
from faulttree.load.nodes import split_by_comma, where
from faulttree.load.text import short
from faulttree.problems import Problem


def repeated(source: Source, error: Wrong) -> Problem:
    """A list that names the same thing twice; shown at the second."""
    items: list[Any] = error.instance
    second = next(index for index, item in enumerate(items) if item in items[:index])
    message = f'"{short(str(items[second]))}" stands twice in {place(path_of(error))}'
    return source.problem(
        "list-repeats", message, "take one of them out", where(source.root, (*path_of(error), second))
    )


def wrong_length(source: Source, error: Wrong) -> Problem:
    """A list or mapping with too few or too many entries."""
    kind = "list" if isinstance(error.instance, list) else "mapping"
    here, count, span = place(path_of(error)), len(error.instance), source.value_span(error)
    if not count:
        return source.problem(f"{kind}-empty", f"{here} is an empty {kind}", "write at least one entry", span)
    bound = error.validator_value
    relation = "fewer" if str(error.validator).startswith("min") else "more"
    message = f"{here} has {relation} than {bound} entries: {count}"
    example = source.example(error)
    if relation == "more" and (number := _split_number(error.instance)):
        advice = f'write "{number}", with a point, if that is one number'
        return source.problem(f"{kind}-length", message, advice, span)
    exact = "minItems" in error.schema and error.schema["minItems"] == error.schema.get("maxItems")
    advice = f"write {'exactly' if exact else 'at most'} {bound}" + (
        f', such as "{example}"' if exact and example else ""
    )
    return source.problem(f"{kind}-length", message, advice, span)


def split_sentence(source: Source, error: Wrong) -> Problem:
    """A list of sentences in brackets, one of which a comma has split; shown at its rest."""
    items: Listed = error.instance
    at = split_by_comma(items.items)
    message = f'"{short(items[at])}" is an entry of its own: a comma in brackets has split the sentence'
    advice = 'write each sentence on a line of its own after "- ", or put the whole sentence in quotes'
    return source.problem("prose-comma", message, advice, where(source.root, (*path_of(error), at)))


def _split_number(value: Any) -> str:
    """The number with a point that a comma has split in a list, where no blank follows the comma; else empty."""
    texts = value if isinstance(value, Listed) else []
    for before, after in pairwise(texts):
        if isinstance(before, Text) and isinstance(after, Text) and before.isdecimal() and after.isdecimal():
            first, second = before.scalar.span, after.scalar.span
            if (first.end_line, first.end_column + 1) == (second.line, second.column):
                return short(f"{before}.{after}")
    return ""
