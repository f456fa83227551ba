"""`faulttree compare` in text, Markdown and JSON: nothing from a file breaks out of its form."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from cli_runs import LAMP, ROOT, SAMPLE, MakeLibrary, Run
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from faulttree.cli.markdown import code
from faulttree.compare.telling import users

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
            "used_by": None,
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


def test_the_longest_way_is_told_only_where_it_changed(run: Run, library: MakeLibrary) -> None:
    """JSON has it in any case, for programs."""
    same = run("compare", str(SAMPLE), str(library(*WARNING)))
    assert "Longest way" not in same.out
    assert "Longest way" not in run("compare", str(SAMPLE), str(library(*WARNING)), "--format", "markdown").out
    longer = str(library("minutes: 2\n", "minutes: 22\n"))
    assert "Longest way, in minutes\n  lamp-does-not-light on Finch: " in run("compare", str(SAMPLE), longer).out
    assert "### Longest way, in minutes" in run("compare", str(SAMPLE), longer, "--format", "markdown").out


def test_a_changed_shared_entry_says_which_trees_use_it(run: Run, tmp_path: Path) -> None:
    """The trees that name it, by a search of their texts; and the recurring items that do."""
    new = tmp_path / "new"
    shutil.copytree(ROOT / "trees", new)
    limits = (new / "limits.yaml").read_text(encoding="utf-8")
    changed = limits.replace("In limits: {up_to: 45}", "In limits: {up_to: 47}")
    changed = changed.replace("is: Free play of the release cable", "is: Play of the release cable")
    (new / "limits.yaml").write_text(changed, encoding="utf-8")
    said = json.loads(run("compare", str(ROOT / "trees"), str(new), "--format", "json").out)
    used = {(each["sort"], *each["subjects"]): each["used_by"] for each in said["changes"]}
    trees = {path.stem: path.read_text("utf-8") for path in (ROOT / "trees").glob("*-*.yaml")}
    del trees["operational-checks"]
    assert set(used["limit", "cable-free-play"]) == {*users_of(trees, "cable-free-play"), "inspection item FH-01"}
    # This one comes into a tree by the recurring item that watches its causes.
    assert set(used["limit", "grip-travel"]) == {*users_of(trees, "FH-01"), "inspection item FH-01"}
    text = run("compare", str(ROOT / "trees"), str(new)).out
    assert "      used by cot-will-not-lock, cot-will-not-release, inspection item FH-01\n" in text
    marked = run("compare", str(ROOT / "trees"), str(new), "--format", "markdown").out
    assert "  - used by `cot-will-not-lock`, `cot-will-not-release`, `inspection item FH-01`\n" in marked
    one = run("compare", str(ROOT / "trees/cot-will-not-lock.yaml"), str(new / "cot-will-not-lock.yaml")).out
    assert "used by cot-will-not-lock, cot-will-not-release" in one


def users_of(trees: dict[str, str], name: str) -> set[str]:
    return {id for id, text in trees.items() if name in text}


def test_of_many_trees_the_first_are_named() -> None:
    assert users([]) == "used by no tree"
    assert users([f"t{at}" for at in range(8)]).endswith("t6, t7")
    assert users([f"t{at}" for at in range(9)]).endswith("t5, t6 and 2 more")
