"""A tree was written against another revision of a document than the one in force.

Meaning:
    `written_against` of the tree names a revision of a document, and library.yaml has another in force. Or a step of
    the tree refers to a document by `data` or `under`, and `written_against` does not say in which revision it was
    read; of a released tree written-against-missing says so.

Why:
    The manual has changed since the tree was written. Which of its steps and limits are wrong now nobody knows before
    somebody has read them again; the help lists those that refer to it.

Wrong:
    # library.yaml
    documents: {LAMP-01: {title: Hand lamp instructions, revision: C}}
    # lamp-does-not-light.yaml
    written_against: {LAMP-01: B}

Right:
    # library.yaml
    documents: {LAMP-01: {title: Hand lamp instructions, revision: C}}
    # lamp-does-not-light.yaml, read again with revision C beside it
    written_against: {LAMP-01: C}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Check, End, Fix, Library, Step
from faulttree.rules.advice import listed
from faulttree.rules.context import Context, Hit, Path


def check(context: Context) -> Iterator[Hit]:
    """One hit for each document."""
    documents = context.library.documents
    for name, revision in context.tree.written_against.items():
        document = documents.get(name)
        if document and document.revision != revision:
            message = f'written against revision {revision} of "{name}", and {document.revision} is in force'
            yield Hit(("written_against", name), message, _review(context, name, document.revision))
    if context.tree.status != "released":
        yield from unstated(context)


def unstated(context: Context) -> Iterator[Hit]:
    """One hit for all documents that the tree refers to without saying in which revision."""
    tree, documents = context.tree, context.library.documents
    missing = [
        name for name in dict.fromkeys(_own_data(context)) if name in documents and name not in tree.written_against
    ]
    if missing:
        message = f'"{tree.id}" does not say against which revision of {listed(missing)} it was written'
        said = ", ".join(f"{name}: {documents[name].revision}" for name in missing)
        if tree.written_against:
            path: Path = ("written_against", "~")
            advice = f"add the one that you had beside you, such as {said}"
        else:
            path = ("status",)
            advice = f"write the one that you had beside you, such as written_against: {{{said}}}"
        yield Hit(path, message, advice)


def _own_data(context: Context) -> Iterator[str]:
    for step in context.variant.steps.values():
        yield from step.data
        if isinstance(step, End):
            yield from step.under


def _review(context: Context, document: str, revision: str) -> str:
    """Which steps, limits and operational checks refer to the document, on any model; where it is older, that it is."""
    written = context.tree.written_against[document]
    if _comes_before(revision, written):
        return (
            f"bring library.yaml up to {written} if that is in force, for its {revision} is older; else correct it here"
        )
    found: dict[str, dict[str, None]] = {"steps": {}, "limits": {}, "operational checks": {}}
    for variant in context.tree.variants.values():
        for step in variant.steps.values():
            for what, name in _referring(context.library, variant.model, step, document):
                found[what][name] = None
    parts = [f"{what} {listed(names)}" for what, names in found.items() if names]
    review = f"review {'; '.join(parts)} against it" if parts else "review the tree against it"
    return f"{review}, then write {document}: {revision}"


def _referring(library: Library, model: str, step: Step, document: str) -> Iterator[tuple[str, str]]:
    """The step, its limits and its operational check, where they refer to the document."""
    if isinstance(step, End):
        if document in step.data or document in step.under:
            yield "steps", step.id
        return
    if step.base == step.id and document in step.data:
        yield "steps", step.id
    named = step.limits if isinstance(step, Fix) else (step.measure,) if isinstance(step, Check) else ()
    for name in named:
        if name in library.limits and document in library.limits[name].data.get(model, {}):
            yield "limits", name
    proof = library.operational_checks.get(step.operational_check) if isinstance(step, Fix) else None
    if proof and document in proof.data.get(model, {}):
        yield "operational checks", proof.id


def _comes_before(revision: str, other: str) -> bool:
    """Whether a revision is older than another, where that can be told: both numbers, or both single letters."""
    if revision.isdecimal() and other.isdecimal():
        return int(revision) < int(other)
    letters = len(revision) == len(other) == 1 and revision.isupper() and other.isupper()
    return letters and revision < other
