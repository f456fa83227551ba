"""`faulttree compare` in text, Markdown and JSON: nothing from a file breaks out of its form."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_runs import LAMP, SAMPLE, MakeLibrary, Run
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from faulttree.cli.markdown import code

WARNING = ("notices: [hot-lens, wrong-cell]", "notices: [wrong-cell]")


def hostile(library: MakeLibrary) -> Path:
    """Texts that would act in Markdown or HTML, as far as a file may hold them."""
    return library(
        "why: no spare cell", r'why: "` </details><script>x</script> [a](http://b.invalid) @everyone #1 ``` | **b**"'
    )


def test_markdown_is_what_it_seems(run: Run, library: MakeLibrary) -> None:
    """Read by a parser of CommonMark: headings, lists and code; no link, image or HTML but the fold of our own."""
    ran = run("compare", str(SAMPLE), str(hostile(library)), "--format", "markdown")
    tokens = MarkdownIt("commonmark").parse(ran.out)
    kinds = {token.type for token in tokens} | {each.type for token in tokens for each in token.children or ()}
    assert "link_open" not in kinds
    assert "image" not in kinds
    assert "html_inline" not in kinds
    html = [token.content.strip() for token in tokens if token.type == "html_block"]
    assert html == ["<details>\n<summary>Other changes: 1</summary>", "</details>"]
    spans = [each.content for token in tokens for each in token.children or () if each.type == "code_inline"]
    assert any("@everyone" in span and "</script>" in span for span in spans)


@given(st.text())
def test_a_code_span_holds_any_text(text: str) -> None:
    tokens = MarkdownIt("commonmark").parse(f"- before: {code(text)} after")
    inline = next(token for token in tokens if token.type == "inline")
    assert inline.children
    assert [each.type for each in inline.children] == ["text", "code_inline", "text"]
    assert inline.children[2].content == " after"


def test_json(run: Run, library: MakeLibrary) -> None:
    ran = run("compare", str(SAMPLE), str(library(*WARNING)), "--format", "json")
    assert ran.code == 1
    said = json.loads(ran.out)
    assert said["version"] == 1
    assert (said["weaker"], said["to_be_judged"], said["other"]) == (1, 0, 0)
    assert said["changes"] == [
        {
            "weight": "weaker",
            "kind": "warning-removed",
            "tree": LAMP,
            "sort": "step",
            "subjects": ["spare-cell"],
            "models": [],
            "message": 'warning "hot-lens" no longer stands before it',
            "names": ["hot-lens"],
            "before": None,
            "after": None,
        }
    ]
    assert [each["model"] for each in said["longest_minutes"]] == ["Finch", "Wren"]
    assert ran.err == ""


def test_text_in_a_narrow_window_and_without_colour(
    run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    ran = run("compare", str(SAMPLE), str(library(*WARNING)))
    assert all(len(line) <= 40 for line in ran.out.splitlines())
    assert "\x1b" not in ran.out
