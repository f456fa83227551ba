"""Shared entries that nothing uses, and schemas that are not there, for ``faulttree check -v``.

An unused entry is a misspelt name, or what a removed step has left. They are looked for in a whole library only, and
only where all its trees could be read: else nobody knows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from faulttree.cli.checked import Result, unjudged_in
from faulttree.digest import KINDS, used_names
from faulttree.library_files import is_file
from faulttree.load.schema import schema_named
from faulttree.model import Library
from faulttree.value import stated


def unused_entries(result: Result) -> dict[str, list[str]]:
    """By field, the names that no tree and no recurring item uses, in the order of the files."""
    loaded, library = result.loaded, result.loaded.library
    if library is None or result.target.parts or unjudged_in(loaded, result.tree_files):
        return {}
    used: dict[str, set[str]] = {field: set() for field in KINDS}
    for tree in loaded.trees.values():
        for field, entries in used_names(tree, library).items():
            if field in used:
                used[field] |= entries
        used["documents"] |= tree.written_against.keys()
    used["limits"] |= {name for item in library.inspection.values() for name in item.limits}
    for item in library.inspection.values():
        used["documents"] |= {name for named in item.data.values() for name in named}
    return {field: names for field in KINDS if (names := _left(library, field, used[field]))}


def _left(library: Library, field: str, used: set[str]) -> list[str]:
    entries = stated(library).get(field, {})
    return [name for name in entries if name not in used]


def in_words(found: dict[str, list[str]]) -> Sequence[str]:
    """A line a kind."""
    return [f"{KINDS[field]}: {', '.join(names)}" for field, names in found.items()]


# -- what editors look for


def lost_schemas(result: Result) -> Iterator[tuple[str, str]]:
    """The files whose first line names a schema that is not there, with what it names; addresses are not looked up."""
    for name in (*result.tree_files, *result.shared_files):
        file = result.loaded.files[name]
        schema = schema_named(file.text)
        if schema and "://" not in schema and not is_file(file.path.parent / schema):
            yield name, schema
