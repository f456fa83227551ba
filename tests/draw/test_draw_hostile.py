"""No text can break a drawing or inject into it: texts come through as they are, and graphviz does not complain."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from drawn import DOT, LIBRARIES, by_dot, by_hand, expected
from hostile import texts as others
from hypothesis import given, settings
from hypothesis import strategies as st

from faulttree.cells import broken, cell_width, cells, is_narrow
from faulttree.cli.drawing import PURE, Layout
from faulttree.draw.dot import part_text
from faulttree.draw.index import Drawn, index_page
from faulttree.draw.make import Wish, figure_of
from faulttree.draw.outline import in_html, in_lines, outline_of
from faulttree.draw.plan import planned
from faulttree.draw.text import plain, quoted, wrapped, xml
from faulttree.model import Check, Fix
from faulttree.value import replace
from faulttree.visible import BIDI_CONTROLS

LIBRARY, (TREE,) = LIBRARIES[1]
ELEMENTS = {"svg", "g", "title", "desc", "rect", "text", "polygon", "path", "polyline", "ellipse", "ul", "li"}
PURE_PROGRAM = Path(sys.executable).parent / PURE
PROGRAMS = [
    pytest.param(DOT, marks=pytest.mark.skipif(not DOT, reason="the program dot is not installed")),
    pytest.param(
        str(PURE_PROGRAM),
        marks=pytest.mark.skipif(not PURE_PROGRAM.is_file(), reason="the extra draw is not installed"),
    ),
]
TEXTS = {
    **{name: text for name, text in others.items() if text.strip()},
    "html label": "<b>bold</b>",
    "picture": '<<img src="/etc/passwd"/>>',
    "end of label": '</TD></TR></TABLE>> , URL="javascript:alert(1)"];} digraph x {',
    "codes of graphviz": r"\N \G \E \T \H \L \n \l \r \\ \" end\\",
    "backslash at the end": "ends with \\",
    "quotes": '" \' "" `',
    "entities": "&lt; &amp; &#0; &#x1b; &nbsp; &unknown; &",
    "end of comment": "--> <!-- ]]> <![CDATA[ ?> */ // #",
    "port": "c:p:n",
    "record": "{a|<b>c|{d}}",
    "lines": "one\ntwo\r\nthree\tfour\vfive",
    "no character": "a\ufffe\uffffb\ufdd0",
    "beyond the plane": "\U0001f6d1\U0010ffff",
    "very long word": "Verriegelungsmechanismus" * 30,
    "very long words": "wide \u97f3\u97f3 " * 40,
    "handler": '" onload="alert(1)" x="',
}


def filled(text: str):
    """The sample's tree, and its library, with ``text`` wherever a text stands."""
    library = replace(
        LIBRARY,
        operator=text,
        limits={name: replace(each, text=text, unit=text) for name, each in LIBRARY.limits.items()},
        notices={
            name: replace(each, hazard=text, result=text, avoid=(text,)) for name, each in LIBRARY.notices.items()
        },
        operational_checks={name: replace(each, text=text) for name, each in LIBRARY.operational_checks.items()},
    )
    steps = {}
    variant = next(iter(TREE.variants.values()))
    for name, step in variant.steps.items():
        if isinstance(step, Check):
            found = tuple(replace(each, says=text) for each in step.findings)
            found = (replace(found[0], label=text), *found[1:])
            unable = step.unable and replace(step.unable, why=text)
            steps[name] = replace(step, text=text, findings=found, do=(text,), unable=unable)
        elif isinstance(step, Fix):
            steps[name] = replace(step, text=text, do=(text,), parts={text: text})
        else:
            steps[name] = replace(step, do=(text,), until=text, under={text: text})
    variant = replace(variant, steps=steps)
    before = tuple(replace(each, do=text) for each in TREE.first_actions)
    return library, replace(TREE, symptom=text, before=(text,), first_actions=before), variant


def figure(text: str):
    library, tree, variant = filled(text)
    return library, variant, figure_of(library, tree, variant, Wish("repairer"))


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


@pytest.mark.skipif(not DOT, reason="the program dot is not installed")
@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_dot_understands_it_and_finds_the_same_graph(text):
    made = figure(text)[2]
    plan = planned(made, "A3")
    for part in plan.parts:
        said, ours = by_dot(part_text(plan, part)), by_hand(part_text(plan, part))
        assert [(each.name, each.id, each.kind) for each in said.nodes] == [
            (each.name, each.id, each.kind) for each in sorted(ours.nodes, key=lambda each: _at(said, each.name))
        ]
        assert sorted((each.tail, each.head, each.kind) for each in said.edges) == sorted(
            (each.tail, each.head, each.kind) for each in ours.edges
        )


def _at(graph, name):
    return next(at for at, each in enumerate(graph.nodes) if each.name == name)


@pytest.mark.parametrize("program", PROGRAMS)
@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_the_svg_is_well_formed_and_has_the_text_and_nothing_that_acts(text, program):
    library, variant, made = figure(text)
    pages = Layout(program, "A3").pages(made, "svg")
    shown = ""
    met = set()
    for page in pages:
        root = ElementTree.fromstring(page)
        for element in root.iter():
            name = element.tag.rpartition("}")[2]
            assert name in {
                "svg",
                "g",
                "title",
                "desc",
                "rect",
                "text",
                "polygon",
                "path",
                "polyline",
                "ellipse",
                "ul",
                "li",
            }
            assert not [
                key for key in element.attrib if key.lower().startswith("on") or key.endswith(("href", "style"))
            ]
            if element.attrib.get("id", "").startswith("step-"):
                met.add(element.attrib["id"].removeprefix("step-"))
                written = "".join(each.text or "" for each in element.iter() if each.tag.endswith("}text"))
                step = variant.steps[element.attrib["id"].removeprefix("step-")]
                if isinstance(step, Check | Fix):
                    assert squeezed(plain(text)) in squeezed(written)
        titles = [each.text for each in root.iter() if each.tag.endswith("}title")]
        assert squeezed(titles[0]).startswith(squeezed(plain(text)))
        shown += "".join(root.itertext())
    assert met == expected(library, variant, "repairer")[0]
    assert not BIDI_CONTROLS & set(shown)


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_list_and_index_page_hold_it_as_text(text):
    _, _, made = figure(text)
    root = ElementTree.fromstring(in_html(outline_of(made)))
    assert {each.tag for each in root.iter()} == {"ul", "li"}
    assert squeezed(plain(text)) in squeezed("".join(root.itertext()))
    page = index_page(text, text, [Drawn(made, ("a b<.svg",))])
    body = ElementTree.fromstring(page.partition("<body>")[2].partition("</body>")[0])
    assert {each.tag for each in body.iter()} <= {"main", "h1", "h2", "h3", "p", "a", "details", "summary", "ul", "li"}
    assert [each.attrib["href"] for each in body.iter("a")] == ["a%20b%3C.svg"]
    assert "<script" not in page
    assert squeezed(plain(text)) in squeezed("".join(in_lines(made, 80)).replace("  - ", ""))


@given(st.text(max_size=60))
@settings(max_examples=200, deadline=None)
def test_any_text_is_a_string_of_xml_and_of_dot(text):
    assert ElementTree.fromstring(f"<a b='{xml(text)}'>{xml(text)}</a>").text in (plain(text), None)
    assert re.fullmatch(r'"(?:[^"\\]|\\.)*"', quoted(text))
    for line in wrapped(text, 12):
        assert len(line) <= 48
    assert squeezed("".join(wrapped(text, 12))) == squeezed(plain(text))


@pytest.mark.skipif(not DOT, reason="the program dot is not installed")
@given(st.lists(st.text(st.characters(codec="utf-8"), min_size=1, max_size=30), min_size=4, max_size=12))
@settings(max_examples=25, deadline=None)
def test_any_text_comes_through_dot(texts):
    """As quoted strings and as HTML-like labels."""
    from faulttree.draw.text import markup

    lines = [f"n{at} [label=<x{markup(text)}x>, tooltip={quoted(text)}];" for at, text in enumerate(texts)]
    done = subprocess.run(
        [DOT, "-Tsvg"], input=f"digraph g {{{''.join(lines)}}}".encode(), capture_output=True, check=True
    )
    assert done.stderr == b""
    root = ElementTree.fromstring(done.stdout)
    found = ["".join(each.itertext()) for each in root.iter() if each.tag.endswith("}text")]
    assert [squeezed(each) for each in found] == [squeezed(f"x{plain(text)}x") for text in texts]


def test_routes_survive_every_text():
    for text in ("a", "cannot be: go to 3", "unable"):
        _, variant, made = figure(text)
        assert {(each.source, each.answer, each.target) for each in made.lines} == set(
            expected(LIBRARY, variant, "repairer")[1]
        )


@given(st.text(st.sampled_from("ab .-·é\u0301日\xad"), max_size=80), st.integers(4, 20))
def test_lines_are_those_of_the_one_way_to_break_them(text: str, width: int) -> None:
    """The quick way for characters of one cell gives what `broken` gives; words that are too long are cut before."""
    words = plain(text).split()
    if max(map(cells, words), default=0) <= width // 2:
        assert list(wrapped(text, width)) == broken(" ".join(words), width)


def test_every_character_before_the_combining_marks_takes_one_cell() -> None:
    characters = [chr(code) for code in range(0x300)]
    assert all(cell_width(each) == 1 for each in characters)
    assert all(is_narrow(each) for each in characters)
    assert not is_narrow("e\u0301")
    assert is_narrow("")
