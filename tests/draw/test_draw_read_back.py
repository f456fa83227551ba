"""Drawings have exactly the tree's steps and findings, for every tree, model and role: read back by dot and by hand."""

from __future__ import annotations

from collections import Counter

import pytest
from drawn import DOT, LIBRARIES, by_dot, by_hand, expected, routes, words

from faulttree.draw.dot import part_text
from faulttree.draw.make import Wish, figure_of
from faulttree.draw.outline import in_lines, outline_of
from faulttree.draw.plan import Plan, planned

EVERY = [
    (library, tree, variant, role)
    for library, trees in LIBRARIES
    for tree in trees
    for variant in tree.variants.values()
    for role in library.roles
]
READERS = [
    by_hand,
    pytest.param(by_dot, marks=pytest.mark.skipif(not DOT, reason="the program dot is not installed")),
]


def ids(case):
    _, tree, variant, role = case
    return f"{tree.id}-{variant.model}-{role}"


def plan(case, paper="A3", shrink=0.88, figures=True) -> Plan:
    library, tree, variant, role = case
    return planned(figure_of(library, tree, variant, Wish(role, figures)), paper, shrink)


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("case", EVERY, ids=ids)
def test_steps_and_findings_are_those_of_the_tree(case, read):
    made = plan(case)
    steps, found = routes([read(part_text(made, part)) for part in made.parts], case[2])
    met, every = expected(case[0], case[2], case[3])
    assert steps == Counter(met)
    assert found == every


@pytest.mark.parametrize("paper", ["A3", "A4"])
@pytest.mark.parametrize("shrink", [1.0, 0.52, 0.28, 0.01])
@pytest.mark.parametrize("case", [case for case in EVERY if len(case[0].roles[case[3]].covers) > 1], ids=ids)
def test_however_small_the_parts_nothing_is_lost(case, shrink, paper):
    made = plan(case, paper, shrink, figures=False)
    steps, found = routes([by_hand(part_text(made, part)) for part in made.parts], case[2])
    assert (set(steps), found) == expected(case[0], case[2], case[3])
    assert set(steps.values()) == {1}
    if shrink == 0.01:
        assert len(made.parts) == len(steps)


@pytest.mark.parametrize("case", EVERY, ids=ids)
def test_connectors_stand_on_both_sides(case):
    """A circle to another part has its counterpart there: a circle or the box with the same number."""
    made = plan(case, shrink=0.4)
    graphs = [by_hand(part_text(made, part)) for part in made.parts]
    for part, graph in zip(made.parts, graphs, strict=True):
        for node in graph.nodes:
            if node.name.startswith("c"):
                number = words(node.label)
                home = next(other for other in graphs if any(each.name == f"n{number}" for each in other.nodes))
                into = [edge.tail for edge in home.edges if edge.head == f"n{number}"]
                assert into, (part.number, number)


@pytest.mark.parametrize("case", EVERY, ids=ids)
def test_warnings_stand_before_the_step_and_minutes_and_roles_in_its_head(case):
    library, _, variant, _ = case
    made = plan(case)
    for part in made.parts:
        for node in by_hand(part_text(made, part)).nodes:
            if not node.id.startswith("step-") or "hand over" in node.kind:
                continue
            step = variant.steps[node.id.removeprefix("step-")]
            text = words(node.label)
            for name in getattr(step, "notices", ()):
                notice = library.notices[name]
                if notice.signal != "note":
                    before = text[: text.index(step.text.split()[0])] if notice.signal else ""
                    sign = {"warning": "▲ WARNING", "caution": "■ CAUTION"}[notice.signal]
                    assert sign in before
                    assert name.replace("-", " ") in before
            if getattr(step, "minutes", None) is not None:
                assert f"{step.who} · {step.minutes:g} min" in text
            assert step.who in text


@pytest.mark.parametrize("case", EVERY, ids=ids)
def test_the_list_has_every_step_and_route(case):
    library, tree, variant, role = case
    figure = figure_of(library, tree, variant, Wish(role))
    met, every = expected(library, variant, role)
    entries = {item.text.partition(".")[0]: item for item in outline_of(figure)}
    for name in met:
        box = figure.boxes[name]
        item = entries[str(box.number)]
        assert box.title in item.text or box.shape == "hand over"
        below = [each.text for each in item.below]
        for source, answer, to in every:
            if source == name:
                end = f"go to {figure.boxes[to].number}, {figure.boxes[to].title}"
                assert [text for text in below if text.startswith(answer) and text.endswith(end)]
    lines = list(in_lines(figure, 80))
    assert sum(line.startswith(f"{box.number}. ") for box in figure.boxes.values() for line in lines) >= len(met)


def test_without_figures_there_are_no_minutes_and_shares():
    """Minutes that are part of a sentence stay."""
    for case in EVERY:
        made = plan(case, figures=False)
        for part in made.parts:
            graph = by_hand(part_text(made, part))
            assert not [node for node in graph.nodes if " min" in node.label]
            assert not [edge for edge in graph.edges if "%" in edge.label]
