"""The digest of what a tree means: equal while nothing in meaning changes, another as soon as something does."""

from __future__ import annotations

import pytest
from shipped import sample, shipped

from faulttree.digest import OF_OLD, standing, tree_digest
from faulttree.model import Released
from faulttree.value import replace

LIBRARY = sample().library
TREE = sample().trees["lamp-does-not-light"]


def released(digest: str):
    return replace(TREE, status="released", released=Released("A. Releaser", "2026-11-25", digest))


def with_step(name, **changes):
    variants = {
        model: replace(variant, steps={**variant.steps, name: replace(variant.steps[name], **changes)})
        for model, variant in TREE.variants.items()
    }
    return replace(TREE, variants=variants)


def test_it_is_the_same_every_time() -> None:
    assert tree_digest(TREE, LIBRARY) == tree_digest(replace(TREE), replace(LIBRARY))
    assert len(tree_digest(TREE, LIBRARY)) == 64


@pytest.mark.parametrize(
    "other",
    [replace(TREE, revision=9), replace(TREE, date="2027-01-01"), replace(TREE, author="B"), released("x")],
    ids=["revision", "date", "author", "release"],
)
def test_what_is_no_meaning_does_not_count(other) -> None:
    assert tree_digest(other, LIBRARY) == tree_digest(TREE, LIBRARY)


@pytest.mark.parametrize(
    "other",
    [
        replace(TREE, symptom="Another"),
        replace(TREE, report="Another"),
        with_step("fit-switch", minutes=11.0),
        with_step("fit-switch", who="user"),
        with_step("spare-cell", notices=("wrong-cell",)),
        with_step("switch", sure=1.0),
        with_step("out-of-use", do=("Another.",)),
    ],
    ids=["symptom", "report", "minutes", "role", "warning", "sure", "end"],
)
def test_a_change_in_the_tree_counts(other) -> None:
    assert tree_digest(other, LIBRARY) != tree_digest(TREE, LIBRARY)


@pytest.mark.parametrize(
    "shared", ["notices", "limits", "operational_checks", "accesses", "tools", "parts", "inspection"]
)
def test_a_change_in_a_shared_entry_that_is_used_counts(shared) -> None:
    entries = dict(getattr(LIBRARY, shared))
    counted = 0
    for name, entry in entries.items():
        changed = replace(
            entry, **{"look" if shared == "inspection" else "result" if shared == "notices" else "text": "New"}
        )
        other = replace(LIBRARY, **{shared: {**entries, name: changed}})
        counted += tree_digest(TREE, other) != tree_digest(TREE, LIBRARY)
    assert counted >= len(entries) - 1, "all but what the tree does not use"


def test_an_entry_that_is_not_used_does_not_count() -> None:
    library = shipped().library
    tree = shipped().trees["wheel-thumps"]
    other = {name: notice for name, notice in library.notices.items() if name != "gas-strut"}
    assert len(other) < len(library.notices)
    assert tree_digest(tree, replace(library, notices=other)) == tree_digest(tree, library)


def test_a_release_stands_only_while_its_digest_fits() -> None:
    good = released(tree_digest(TREE, LIBRARY))
    assert standing(TREE, LIBRARY) == "DRAFT"
    assert standing(good, LIBRARY) == "RELEASED"
    assert standing(replace(good, symptom="Another"), LIBRARY) == "DRAFT, CHANGED SINCE ITS RELEASE"
    assert standing(replace(TREE, status="released"), LIBRARY) == "DRAFT, RELEASED BY NOBODY"
    assert standing(replace(TREE, status="withdrawn"), LIBRARY) == "WITHDRAWN"


def test_another_revision_of_a_document_asks_for_a_new_release() -> None:
    """Whoever releases answers for the tree having been read against it; its order in the file is no revision."""
    good = released(tree_digest(TREE, LIBRARY))
    newer = replace(good, written_against={"LAMP-01": "C"})
    assert standing(newer, LIBRARY) == "DRAFT, CHANGED SINCE ITS RELEASE"
    assert standing(replace(good, written_against={}), LIBRARY) == "DRAFT, CHANGED SINCE ITS RELEASE"
    two = {"LAMP-01": "B", "LAMP-02": "1"}
    turned = dict(reversed(two.items()))
    assert tree_digest(replace(TREE, written_against=two), LIBRARY) == tree_digest(
        replace(TREE, written_against=turned), LIBRARY
    )


def test_a_release_of_before_is_told_apart_from_a_changed_tree() -> None:
    """Its digest is that of the same tree without documents."""
    before = released(tree_digest(replace(TREE, written_against={}), LIBRARY))
    assert standing(before, LIBRARY) == OF_OLD == "DRAFT, TO BE RELEASED ANEW"
    assert standing(replace(before, symptom="Another"), LIBRARY) == "DRAFT, CHANGED SINCE ITS RELEASE"


def test_digests_of_trees_without_documents_are_what_they_were() -> None:
    """A release of such a tree that stands in a file goes on standing; the number is of the version before."""
    tree = replace(TREE, written_against={})
    assert tree_digest(tree, LIBRARY) == "0cbcfa285548e6a5d8767a6de50a7e17449ca849eb3f8a44c271430478edb8f4"
