"""Pages: their size and what can be read on them; how a figure is split; what a comparison marks; ISO 5807 signs."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from drawn import DOT, LIBRARIES, by_hand

from faulttree.cli.drawing import Layout
from faulttree.draw.against import against
from faulttree.draw.dot import part_text
from faulttree.draw.labels import percent, ranges
from faulttree.draw.limits import changed_limits
from faulttree.draw.make import Wish, figure_of
from faulttree.draw.paper import MARGIN, PAPERS, SMALLEST, TYPE, place, room_on
from faulttree.draw.plan import planned
from faulttree.draw.words import border_of
from faulttree.model import Check, Fix
from faulttree.value import replace

LIBRARY, TREES = LIBRARIES[0]
WITH_DOT = pytest.mark.skipif(not DOT, reason="the program dot is not installed")


def test_pages_are_those_of_iso_216() -> None:
    """A4 is 210 by 297 mm, A3 297 by 420 mm (ISO 216, from memory)."""
    assert {(paper.wide, paper.high) for paper in PAPERS} == {(210, 297), (297, 210), (297, 420), (420, 297)}
    assert PAPERS[0].points == pytest.approx((595.28, 841.89), abs=0.01)


def test_the_smallest_lettering_is_that_of_iso_3098() -> None:
    """1.8 mm for capitals (ISO 3098); Helvetica's capitals are 718 of 1000 (Adobe font metrics); both from memory."""
    assert pytest.approx(1.8) == SMALLEST * 0.718 * 25.4 / 72


def test_a_drawing_gets_the_first_page_on_which_it_can_be_read() -> None:
    assert place(400, 600).paper.name == "A4"
    assert place(700, 500).paper.name == "A4 across"
    assert place(700, 1000).paper.name == "A3"
    assert place(1200, 800).paper.name == "A3 across"
    assert place(400, 600).scale == 1
    assert not place(3000, 3000).legible
    assert place(1200, 800, "A4").paper.name == "A4 across"
    assert place(*room_on("A3")).scale * TYPE == pytest.approx(SMALLEST)


@WITH_DOT
@pytest.mark.parametrize("paper", ["A3", "A4"])
@pytest.mark.parametrize("tree", TREES, ids=lambda tree: tree.id)
def test_every_part_of_every_shipped_tree_can_be_read_on_its_page(tree, paper) -> None:
    for role in ("crew", "mechanic"):
        for variant in tree.distinct_variants():
            figure = figure_of(LIBRARY, tree, variant, Wish(role))
            for text in Layout(DOT, paper).pages(figure, "svg"):
                root = ElementTree.fromstring(text)
                wide, high = (float(root.attrib[name].removesuffix("mm")) for name in ("width", "height"))
                assert paper == "A3" or max(wide, high) == 297
                group = root.find("{http://www.w3.org/2000/svg}g")
                assert group is not None
                scale = float(re.search(r"scale\(([\d.]+)\)", group.attrib["transform"])[1])  # type: ignore[index]
                sizes = {float(each.attrib["font-size"]) for each in root.iter() if "font-size" in each.attrib}
                assert min(sizes) * scale >= SMALLEST * 0.999
                assert _inside(root, group, scale, wide, high)


def _inside(root, group, scale, wide, high) -> bool:
    """Whether all that is drawn lies on the page, within its margins."""
    left, top = map(float, re.search(r"translate\(([\d.]+) ([\d.]+)\)", group.attrib["transform"]).groups())
    background = next(each for each in root.iter() if each.tag.endswith("}polygon"))
    pairs = [tuple(map(float, pair.split(","))) for pair in background.attrib["points"].split()]
    across = max(x for x, _ in pairs) - min(x for x, _ in pairs)
    down = max(y for _, y in pairs) - min(y for _, y in pairs)
    right, bottom = left + across * scale, top + down * scale
    return (
        min(left, top) >= MARGIN - 1
        and right <= wide / 25.4 * 72 - MARGIN + 1
        and bottom <= high / 25.4 * 72 - MARGIN + 1
    )


@WITH_DOT
@pytest.mark.parametrize("tree", TREES, ids=lambda tree: tree.id)
def test_no_text_lies_over_another(tree) -> None:
    """Every line of text as a rectangle: width by a generous mean of half its type, height nine tenths."""
    for variant in tree.distinct_variants():
        for text in Layout(DOT, "A3").pages(figure_of(LIBRARY, tree, variant, Wish("mechanic")), "svg"):
            boxes = [_rectangle(each) for each in ElementTree.fromstring(text).iter() if each.tag.endswith("}text")]
            boxes.sort(key=lambda box: box[0])
            for at, (left, top, right, bottom, words) in enumerate(boxes):
                for other in boxes[at + 1 :]:
                    if other[0] >= right:
                        break
                    assert other[1] >= bottom or other[3] <= top, (words, other[4], left)


def _rectangle(element) -> tuple[float, float, float, float, str]:
    size, words = float(element.attrib["font-size"]), element.text or ""
    x, y, wide = float(element.attrib["x"]), float(element.attrib["y"]), 0.42 * size * len(words)
    left = x - wide / 2 if element.attrib["text-anchor"] == "middle" else x
    return left, y - 0.7 * size, left + wide, y + 0.15 * size, words


def test_signs_are_those_of_iso_5807() -> None:
    """Process: rectangle. Decision: diamond. Terminator: rounded. Connector: circle (ISO 5807, from memory)."""
    variant = TREES[0].distinct_variants()[0]
    plan = planned(figure_of(LIBRARY, TREES[0], variant, Wish("mechanic")), "A4")
    text = "".join(part_text(plan, part) for part in plan.parts)
    default = re.search(r"node \[.*shape=(\w+)", text)
    assert default
    assert default[1] == "box"
    for line in text.splitlines():
        kind = re.search(r'class="(?:step )?([\w ]+)"', line)
        if kind and "->" not in line:
            shape = re.search(r"shape=(\w+)", line.partition("label=")[0])
            rounded = "rounded" in line.partition("label=")[0]
            expected = {"decision": "diamond", "connector": "circle"}.get(kind[1])
            assert (shape[1] if shape else None) == expected
            assert rounded == (kind[1] in ("end", "hand over", "start"))


def test_no_colour_and_no_fill() -> None:
    for tree in TREES:
        plan = planned(figure_of(LIBRARY, tree, tree.distinct_variants()[0], Wish("mechanic")), "A3")
        for part in plan.parts:
            assert "color" not in re.sub(r"label=.*", "", part_text(plan, part).lower())
            assert "fill" not in re.sub(r"label=.*", "", part_text(plan, part).lower())


def test_borders() -> None:
    assert [border_of(LIBRARY, role) for role in ("crew", "mechanic", "engineering", "")] == [
        "single", "double", "dashed", "single",
    ]  # fmt: skip


def test_numbers_and_shares_in_words() -> None:
    assert ranges([4, 1, 2, 3, 7, 9, 10]) == "1 to 4, 7, 9, 10"
    assert [percent(share) for share in (0.0, 0.001, 0.26, 1.0)] == ["0 %", "under 1 %", "26 %", "100 %"]


# -- against an older tree


def changed(**changes):
    """The first shipped tree with some steps replaced (None takes a step's name out of the other routes)."""
    tree = TREES[0]
    variant = tree.distinct_variants()[0]
    return tree, variant, replace(variant, steps={**variant.steps, **changes})


def compared(old, new, role="mechanic"):
    tree = TREES[0]
    wish = Wish(role, facts=True)
    return against(figure_of(LIBRARY, tree, old, wish), figure_of(LIBRARY, tree, new, wish), "revision 1")


def test_a_tree_against_itself_has_no_marks() -> None:
    for tree in TREES:
        for variant in tree.variants.values():
            one = figure_of(LIBRARY, tree, variant, Wish("mechanic", facts=True))
            both = against(one, one, "itself")
            assert replace(both, against="") == one
            assert both.against == "Against itself: nothing that is drawn differs"


def test_a_rerouted_finding_is_drawn_twice() -> None:
    variant = changed()[1]
    first = variant.steps[variant.start]
    assert isinstance(first, Check)
    findings = (replace(first.findings[0], goto=first.findings[-1].goto), *first.findings[1:])
    _, old, new = changed(**{first.id: replace(first, findings=findings)})
    both = compared(old, new)
    marks = {(line.answer, line.target): line.mark for line in both.lines if line.source == first.id}
    label = first.findings[0].label
    assert marks[label, first.findings[0].goto] == "-"
    assert marks[label, first.findings[-1].goto] == "+"
    assert "".join(marks.values()).count("+") == 1
    dotted = [line for line in _text(both).splitlines() if f"- {label}" in line]
    assert dotted
    assert all("style=dotted" in line for line in dotted)


def _text(figure) -> str:
    plan = planned(figure, "A3")
    return "".join(part_text(plan, part) for part in plan.parts)


def test_a_dropped_warning_and_a_lowered_role_are_named() -> None:
    fix = next(
        step
        for step in TREES[0].distinct_variants()[0].steps.values()
        if isinstance(step, Fix) and step.who == "mechanic"
    )
    _, old, new = changed(**{fix.id: replace(fix, who="crew", notices=fix.notices[1:], text="Another wording")})
    box = compared(old, new).boxes[fix.id]
    assert box.mark == "~"
    assert "role (was mechanic)" in box.changed
    assert "wording" in box.changed
    gone = LIBRARY.notices[fix.notices[0]]
    assert any(f"- {gone.signal.upper()} {gone.id.replace('-', ' ')}" in word for word in box.changed)
    assert "~ CHANGED" in _text(compared(old, new))


def test_what_became_another_is_named_with_what_it_was_and_is() -> None:
    """No reviewer is told of "content" only: a hold point, a torque, a wait and an open item are named."""
    fixes = (step for step in TREES[0].distinct_variants()[0].steps.values() if isinstance(step, Fix))
    fix = next(each for each in fixes if each.torques and each.second_inspection and each.closes)
    torques = (replace(fix.torques[0], value=99.0), *fix.torques[1:])
    look = replace(fix.second_inspection, who="mechanic", look="Anything")
    other = {"second_inspection": look, "people": 9, "occupied": True, "wait": 7.0, "closes": (), "misses": ("x",)}
    _, old, new = changed(**{fix.id: replace(fix, torques=torques, **other)})
    words = compared(old, new).boxes[fix.id].changed
    where = fix.torques[0].where
    assert {
        f"- torque {where}: {fix.torques[0].value:g} N·m, + torque {where}: 99 N·m",
        f"people {fix.people}, now 9",
        ", ".join(f"- closes {name}" for name in fix.closes),
        "with an occupant not allowed, now allowed",
        f"wait {fix.wait:g} min, now 7 min",
        "+ misses x",
        f"SECOND INSPECTION: what is looked at; SECOND INSPECTION: {fix.inspector}, now mechanic",
    } <= set(words)
    _, old, new = changed(**{fix.id: replace(fix, second_inspection=None, operational_check="")})
    words = compared(old, new).boxes[fix.id].changed
    assert {"- OPERATIONAL CHECK", "- SECOND INSPECTION"} <= set(words)


def test_what_came_and_what_went_are_both_drawn() -> None:
    variant = changed()[1]
    fix = next(step for step in variant.steps.values() if isinstance(step, Fix))
    steps = {("renamed" if name == fix.id else name): step for name, step in variant.steps.items()}
    steps["renamed"] = replace(fix, id="renamed")
    for name, step in steps.items():
        if isinstance(step, Check):
            found = tuple(replace(each, goto="renamed") if each.goto == fix.id else each for each in step.findings)
            steps[name] = replace(step, findings=found)
    both = compared(variant, replace(variant, steps=steps))
    assert both.boxes["renamed"].mark == "+"
    assert both.boxes[fix.id].mark == "-"
    numbers = [box.number for box in both.boxes.values()]
    assert len(set(numbers)) == len(numbers)
    text = _text(both)
    assert "+ NEW" in text
    assert "- GONE" in text
    plan = planned(both, "A3")
    drawn = [
        node for part in plan.parts for node in by_hand(part_text(plan, part)).nodes if node.id.startswith("step-")
    ]
    assert {node.id.removeprefix("step-") for node in drawn} == set(both.boxes)


def test_a_limit_that_moved_is_named_with_what_it_was_and_is() -> None:
    """At the check that measures by it, and at fixes whose operational check is judged by it."""
    tree, variant = TREES[0], TREES[0].distinct_variants()[0]
    check = next(each for each in variant.steps.values() if isinstance(each, Check) and each.measure)
    limit = LIBRARY.limits[check.measure]
    scale = limit.scales[variant.model]
    band = next(each for each in scale.bands if each.limit is not None)
    bands = tuple(replace(each, limit=7654.0, inclusive=True) if each == band else each for each in scale.bands)
    moved = replace(limit, scales={**limit.scales, variant.model: replace(scale, bands=bands, high=8000.0)})
    moved = replace(moved, settings={variant.model: "5 to 6"})
    library = replace(LIBRARY, limits={**LIBRARY.limits, limit.id: moved})
    wish = Wish("mechanic", facts=True)
    old, new = (figure_of(each, tree, variant, wish) for each in (LIBRARY, library))
    (words,) = against(old, new, "revision 1").boxes[check.id].changed
    assert words.startswith(f"limit {limit.id}: {band.label} ")
    assert f"{band.limit:g} {limit.unit}, now up to 7654 {limit.unit}" in words
    assert f"range {scale.low:g} to {scale.high:g} {limit.unit}, now {scale.low:g} to 8000 {limit.unit}" in words
    assert f"set to {limit.settings.get(variant.model) or 'nothing'}, now 5 to 6" in words
    judged = [
        fix.id
        for fix in variant.steps.values()
        if isinstance(fix, Fix) and limit.id in (*fix.limits, *LIBRARY.operational_checks[fix.operational_check].limits)
    ]
    marked = {name for name, box in against(old, new, "revision 1").boxes.items() if box.mark == "~"}
    assert {check.id, *judged} <= marked


def test_a_limit_that_came_or_went_is_named() -> None:
    assert list(changed_limits({"gap": {"In": "up to 2 mm"}}, {"play": {"In": "up to 2 mm"}})) == [
        "- limit gap",
        "+ limit play",
    ]
    assert list(
        changed_limits({"gap": {"In": "up to 2 mm"}}, {"gap": {"Small": "below 1 mm", "In": "up to 2 mm"}})
    ) == ["limit gap: Small nothing, now below 1 mm"]
