"""A section is not one of its document.

Meaning:
    `data`, or `under` of a deferral, names a section of a document that lists its sections in library.yaml, and neither
    that section nor one that it is part of is in the list: 4.2 is part of 4, and 42 is not. Documents without a list
    are not looked at.

Why:
    Whoever stands at the equipment opens the document at that section. With a slip in the number they read of other
    work, or find nothing.

Wrong:
    # library.yaml: LM-1 has the sections {"1": Cells, "2": Switch}
    data: {LM-1: "12"}

Right:
    data: {LM-1: "1.2"}
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from faulttree.model import Library
from faulttree.rules.advice import listed
from faulttree.rules.context import Context, Hit, Path, Shared

Listed = Mapping[str, Mapping[str, str]]
"""The sections of the documents that list theirs."""

MOST_IN_HELP = 12
"""So many sections fit a help."""


def check(context: Context) -> Iterator[Hit]:
    """One hit for each section in the tree; what a repeating step has from its base is reported there."""
    lists = _lists(context.library)
    if not lists:
        return
    for step in context.own_work:
        if step.data:
            yield from _of_model(context, _unknown(step.data, lists, ("steps", step.id, "data")))
    for end in context.ends:
        yield from _of_model(context, _unknown(end.under, lists, ("steps", end.id, "under")))
        yield from _of_model(context, _unknown(end.data, lists, ("steps", end.id, "data")))


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each section in the shared entries; for each model where models have different data, else once."""
    library = shared.library
    lists = _lists(library)
    if not lists:
        return
    for key, entries in (
        ("limits", library.limits),
        ("operational_checks", library.operational_checks),
        ("inspection", library.inspection),
    ):
        for name, entry in entries.items():
            if entry.data:
                yield from _of_models(entry.data, lists, (key, name, "data"))


def _lists(library: Library) -> Listed:
    return {name: document.sections for name, document in library.documents.items() if document.sections}


def _unknown(data: Mapping[str, str], lists: Listed, path: Path) -> Iterator[Hit]:
    for name, section in data.items():
        have = lists.get(name)
        if have and section not in have and not _is_part(section, have):
            yield Hit((*path, name), f'"{name}" has no section "{section}"', _advice(name, have))


def _is_part(section: str, have: Mapping[str, str]) -> bool:
    """Whether a listed section is what stands before a point in ``section``."""
    return any(section.startswith(f"{each}.") for each in have)


def _advice(name: str, have: Mapping[str, str]) -> str:
    if len(have) > MOST_IN_HELP:
        return f'write one of the sections that "{name}" has in library.yaml, or add it there'
    return f"write one of {listed(have)}, or add it to the document in library.yaml"


def _of_model(context: Context, hits: Iterator[Hit]) -> Iterator[Hit]:
    """The hits, in the data of the model where the file has data for each."""
    for hit in hits:
        path = (*hit.path[:-1], context.variant.model, hit.path[-1])
        yield hit._replace(path=path) if context.written(path) else hit


def _of_models(data: Listed, lists: Listed, path: Path) -> Iterator[Hit]:
    """The hits in data by model. Where the file does not part the models, the model in the path is passed over."""
    every = list(data.values())
    models = list(data)[:1] if every[1:] == every[:-1] else list(data)
    for model in models:
        yield from _unknown(data[model], lists, (*path, model))
