"""Something is called like a model.

Meaning:
    A part, a document or a label of findings has the name of a model of the library.

Why:
    A mapping whose keys are all model names is one value for each model. `parts: {Finch: 1}` would be read as such,
    and not as one piece of the part "Finch".

Wrong:
    models: {Finch: one cell, Wren: two cells}
    documents:
      Finch: {title: Instructions of the Finch, revision: B}

Right:
    models: {Finch: one cell, Wren: two cells}
    documents:
      FINCH-01: {title: Instructions of the Finch, revision: B}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit, Path, Shared


def check(context: Context) -> Iterator[Hit]:
    """One hit for each label of a check."""
    models = context.library.models
    for step in context.checks:
        if step.base == step.id:
            for finding in step.findings:
                if finding.label in models:
                    yield _hit("label", finding.label, ("steps", step.id, "findings", finding.label, "~"))


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each part, document and band."""
    library = shared.library
    for what, key, names in (("part", "parts", library.parts), ("document", "documents", library.documents)):
        for name in names:
            if name in library.models:
                yield _hit(what, name, (key, name, "~"))
    for limit in library.limits.values():
        for label in dict.fromkeys(band.label for scale in limit.scales.values() for band in scale.bands):
            if label in library.models:
                yield _hit("band", label, ("limits", limit.id, "bands", label, "~"))


def _hit(what: str, name: str, path: Path) -> Hit:
    return Hit(path, f'the {what} "{name}" is called like a model', "give it another name")
