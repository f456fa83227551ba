"""Whatever has the right shape becomes a tree or problems, never an exception, and what is built hangs together."""

from __future__ import annotations

import random
from functools import cache

import pytest
from building import MAIN, SAMPLE, library_of, root_of
from full_files import FULL
from hypothesis import given, settings
from hypothesis import strategies as st
from mutations import mutate
from test_build_sample import sample_library
from test_parity import accepts, read_file

from faulttree.load.build import build_library, build_tree
from faulttree.load.nodes import Node
from faulttree.model import Check, End, Fix, Library, Route, Tree, Variant
from faulttree.problems import Problem


@cache
def library_for_full() -> Library:
    return library_of(MAIN, limits=FULL["limits"].partition("faulttree: 1")[2])


def sources() -> list[tuple[Node, Library]]:
    lamp = read_file(SAMPLE / "lamp-does-not-light.yaml")
    return [(root_of(FULL["tree"]), library_for_full()), (lamp, sample_library())]


def ways(variant: Variant) -> list[str]:
    found = [variant.start]
    for step in variant.steps.values():
        routes: list[Route | None] = []
        if isinstance(step, Check):
            found += [finding.goto for finding in step.findings]
            routes = [step.unable]
        elif isinstance(step, Fix):
            routes = [step.failed, step.cannot]
        elif isinstance(step, End):
            routes = [step.cannot]
        found += [route.to for route in routes if route]
    return found


def hang_together(tree: Tree, library: Library) -> None:
    """What walk, proof and rules rely on."""
    assert list(tree.variants) == [variant.model for variant in tree.variants.values()]
    for variant in tree.variants.values():
        assert variant.model in library.models
        assert not set(ways(variant)) & variant.passed_over.keys()
        assert not variant.steps.keys() & variant.passed_over.keys()
        assert all(step.id == id for id, step in variant.steps.items())
        for step in variant.steps.values():
            if isinstance(step, Check):
                numbers = [finding.number for finding in step.findings]
                assert numbers == sorted(set(numbers))
                assert len(numbers) >= 1
                assert max(numbers) <= 9


def well_said(problem: Problem) -> None:
    """In lower case, no full stop, a help that starts with a verb, a place in the file."""
    assert problem.message[0] in '"' or problem.message[0].islower()
    assert not problem.message.endswith(".")
    assert problem.help[0].islower()
    assert problem.span.line >= 1


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 2**32), st.sampled_from((0, 1)), st.integers(1, 4))
def test_mutated_trees_are_built_or_reported(seed: int, which: int, count: int) -> None:
    root, library = sources()[which]
    chance = random.Random(seed)
    for _ in range(count):
        _, undo = mutate(root, chance)
        if not accepts(root, "tree"):
            undo()
    tree, problems = build_tree(root, library, "tree.yaml")
    assert (tree is None) == bool(problems)
    for problem in problems:
        well_said(problem)
    if tree:
        hang_together(tree, library)
    assert build_tree(root, library, "tree.yaml") == (tree, problems)


@settings(max_examples=100, deadline=None)
@given(st.integers(0, 2**32), st.sampled_from([kind for kind in FULL if kind != "tree"]), st.integers(1, 4))
def test_mutated_shared_files_are_built_or_reported(seed: int, kind: str, count: int) -> None:
    roots = {each: root_of(text) for each, text in FULL.items() if each != "tree"}
    chance = random.Random(seed)
    for _ in range(count):
        _, undo = mutate(roots[kind], chance)
        if not accepts(roots[kind], kind):
            undo()
    library, problems = build_library(roots, {each: f"{each}.yaml" for each in roots})
    assert (library is None) == bool(problems)
    for problem in problems:
        well_said(problem)
    if library:
        assert all(id in role.covers for id, role in library.roles.items())
        assert library.may(library.first_role, library.first_role)
        tree, _ = build_tree(root_of(FULL["tree"]), library, "tree.yaml")
        if tree:
            hang_together(tree, library)


@pytest.mark.parametrize("kind", ["library", "tree"])
@pytest.mark.parametrize("text", ["a text", "[1, 2]", "{}", "{faulttree: 2}"])
def test_files_of_another_shape_altogether_are_reported(kind: str, text: str) -> None:
    root = root_of(text)
    if kind == "tree":
        assert build_tree(root, library_of(), "tree.yaml")[1]
    else:
        assert build_library({kind: root}, {kind: "library.yaml"})[1]


def test_every_problem_of_a_tree_comes_in_one_run_in_order() -> None:
    text = FULL["tree"].replace("{again: first,", "{again: frist,").replace("models: [Finch, Wren]}", "models: [Wern]}")
    text = text.replace("unable: {Finch: out, Wren: {to: out, why: no key}}", "unable: {Finch: out}")
    _, problems = build_tree(root_of(text), library_for_full(), "tree.yaml")
    assert {problem.rule for problem in problems} >= {"again-unknown", "model-unknown", "model-left-out"}
    assert problems == sorted(problems, key=Problem.order)
