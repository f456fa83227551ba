"""`faulttree compare`: files, folders, revisions; exit codes; text, markdown and JSON that nothing breaks out of."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest
from cli_runs import LAMP, SAMPLE, MakeLibrary, Run
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from faulttree.cli.markdown import code
from faulttree.problems import FaulttreeError
from faulttree.revisions import fetch

NEEDS_GIT = pytest.mark.skipif(not shutil.which("git"), reason="git is not installed")
WARNING = ("notices: [hot-lens, wrong-cell]", "notices: [wrong-cell]")
REASON = ("why: no spare cell", "why: none there")


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository with the sample in a folder of it, committed; the working folder is its top."""
    top = tmp_path / "repository"
    shutil.copytree(SAMPLE, top / "desk" / "lamps")
    for name in ("GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE"):
        monkeypatch.delenv(name, raising=False)
    git(top, "init", "-q", "-b", "main")
    git(top, "add", ".")
    git(top, "-c", "user.name=A", "-c", "user.email=a@b.invalid", "commit", "-q", "-m", "lamps")
    monkeypatch.chdir(top)
    return top


def git(folder: Path, *words: str) -> None:
    subprocess.run(["git", "-C", str(folder), *words], check=True, capture_output=True)


# -- files and folders


def test_nothing_changed(run: Run, library: MakeLibrary) -> None:
    ran = run("compare", str(SAMPLE), str(library()))
    assert (ran.code, ran.out, ran.err) == (0, "No change in meaning.\n", "")


def test_weaker_exits_1_and_stands_first(run: Run, library: MakeLibrary) -> None:
    folder = library(*WARNING)
    text = (folder / f"{LAMP}.yaml").read_text(encoding="utf-8").replace(*REASON)
    (folder / f"{LAMP}.yaml").write_text(text, encoding="utf-8")
    ran = run("compare", str(SAMPLE), str(folder))
    assert ran.code == 1
    assert ran.out.splitlines()[:3] == [
        "What protects became WEAKER: 1",
        f"  {LAMP}",
        '  ! step spare-cell: warning "hot-lens" no longer stands before it',
    ]
    assert "Changes in meaning: 1 weaker, 0 to be judged, 1 other." in ran.out
    assert all(len(line) <= 80 for line in ran.out.splitlines())


def test_what_is_only_other_exits_0(run: Run, library: MakeLibrary) -> None:
    assert run("compare", str(SAMPLE), str(library(*REASON))).code == 0


def test_a_file_is_its_tree_with_what_it_uses(run: Run, library: MakeLibrary) -> None:
    """A shared entry that the tree uses counts, one that it does not use does not."""
    folder = library("below: {Finch: 1.1, Wren: 2.2}", "below: {Finch: 1.0, Wren: 2.2}", "limits.yaml")
    ran = run("compare", str(SAMPLE / f"{LAMP}.yaml"), str(folder / f"{LAMP}.yaml"))
    assert ran.code == 1
    assert "limit cell-volts" in ran.out
    parts = (folder / "limits.yaml").read_text(encoding="utf-8").replace("limits:\n", UNUSED, 1)
    (folder / "limits.yaml").write_text(parts.replace("Finch: 1.0,", "Finch: 1.1,"), encoding="utf-8")
    assert run("compare", str(SAMPLE / f"{LAMP}.yaml"), str(folder / f"{LAMP}.yaml")).out.startswith("No change")
    assert "limit other: is new" in run("compare", str(SAMPLE), str(folder)).out


UNUSED = """limits:
  other: {is: Another, unit: V, range: [0, 2], bands: {Low: {below: 1}, High: {}}, resolution: 0.1}
"""


def test_a_shared_file_is_its_entries(run: Run, library: MakeLibrary) -> None:
    folder = library(*WARNING)
    path = folder / "limits.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("Finch: 1.1", "Finch: 1.0"), encoding="utf-8")
    ran = run("compare", str(SAMPLE / "limits.yaml"), str(path))
    assert ran.code == 1
    assert "cell-volts" in ran.out
    ran = run("compare", str(SAMPLE / "notices.yaml"), str(folder / "notices.yaml"))
    assert ran.code == 0, "the warning dropped at a step is none of the shared entries"
    assert run("compare", str(SAMPLE / "limits.yaml"), str(folder / "notices.yaml")).code == 2
    assert run("compare", str(SAMPLE / "limits.yaml"), str(folder)).code == 2


@pytest.mark.parametrize("name", ["nothing-here", "nothing.yaml", "", "no\x1b[31m:such"])
def test_what_is_not_there(name: str, run: Run, library: MakeLibrary) -> None:
    folder = str(library())
    ran = run("compare", folder, f"{folder}/../{name}" if name.isalpha() else name or "/nothing")
    assert ran.code == 2
    assert ran.err.startswith("error: ")
    assert "\x1b" not in ran.err
    assert ran.out == ""


def test_a_side_with_errors_is_no_side(run: Run, library: MakeLibrary) -> None:
    folder = library("who: user", "whom: user")
    ran = run("compare", str(SAMPLE), str(folder))
    assert ran.code == 2
    assert "cannot be compared, because it has errors" in ran.err
    assert f"{LAMP}.yaml:" in ran.err


def test_a_tree_whose_names_lead_nowhere_is_compared(run: Run, library: MakeLibrary) -> None:
    """Such errors are for check to tell; the comparison goes on without what they name."""
    ran = run("compare", str(SAMPLE), str(library("    access: [lamp-open]\n", "    access: [nowhere]\n")))
    assert ran.code in (0, 1)
    assert "nowhere" in ran.out


# -- revisions


@NEEDS_GIT
def test_a_revision_is_read_whole(run: Run, repository: Path) -> None:
    """Tree and shared entries come from the same revision, whatever stands in the folder."""
    assert run("compare", "HEAD:desk/lamps", "desk/lamps").out == "No change in meaning.\n"
    path = repository / "desk" / "lamps" / f"{LAMP}.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace(*WARNING), encoding="utf-8")
    (repository / "desk" / "lamps" / "notices.yaml").write_text("broken: [", encoding="utf-8")
    assert run("compare", "HEAD:desk/lamps", f"main:desk/lamps/{LAMP}.yaml").code == 0
    git(repository, "checkout", "-q", "desk/lamps/notices.yaml")
    for old in ("HEAD:desk/lamps", "HEAD:./desk/lamps", f"main:desk/lamps/{LAMP}.yaml", "HEAD^{commit}:desk/lamps/"):
        ran = run("compare", old, f"desk/lamps/{LAMP}.yaml")
        assert (ran.code, "hot-lens" in ran.out) == (1, True), old


@NEEDS_GIT
def test_a_path_with_a_dot_counts_from_the_current_folder(
    run: Run, repository: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(repository / "desk")
    assert run("compare", "HEAD:./lamps", "lamps").code == 0
    assert run("compare", "HEAD:desk/lamps", "lamps").code == 0
    ran = run("compare", "HEAD:lamps", "lamps")
    assert ran.code == 2
    assert "with ./ in front" in " ".join(ran.err.split())


@NEEDS_GIT
@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("nosuch:desk/lamps", 'there is no revision "nosuch"'),
        ("HEAD:desk/elsewhere", 'there is no "desk/elsewhere" in revision "HEAD"'),
        ("HEAD:desk", "there is no library.yaml at or above"),
        ("HEAD:", "there is no library.yaml at or above the top"),
        ("HEAD:../outside", "leads out of the repository"),
        ("HEAD:/etc", "leads out of the repository"),
        ("--output=x:desk", "the following arguments are required"),
        ("HEAD --all:desk/lamps", "there is no revision"),
        ("HEAD;touch gone:desk/lamps", "there is no revision"),
        ("$(touch gone):desk/lamps", "there is no revision"),
        ("HEAD:desk/la*", 'there is no "desk/la*"'),
        ("HEAD:*", 'there is no "*"'),
        ("HEAD\n:desk/lamps", "is no revision and path"),
    ],
)
def test_what_git_has_not(word: str, said: str, run: Run, repository: Path) -> None:
    ran = run("compare", word, "desk/lamps")
    assert ran.code == 2
    assert said in " ".join(ran.err.split())
    assert not (repository / "gone").exists()


@NEEDS_GIT
def test_outside_a_repository(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    ran = run("compare", "HEAD:trees", str(SAMPLE))
    assert ran.code == 2
    assert "this folder is in no git repository" in ran.err


def test_without_git(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "/nothing-here")
    ran = run("compare", "HEAD:trees", str(SAMPLE))
    assert ran.code == 2
    assert "git is not installed" in ran.err


@NEEDS_GIT
def test_links_and_hidden_files_of_a_revision_are_not_put_down(repository: Path, tmp_path: Path) -> None:
    lamps = repository / "desk" / "lamps"
    (lamps / "link.yaml").symlink_to("/etc/passwd")
    (lamps / ".hidden.yaml").write_text("x", encoding="utf-8")
    (lamps / "notes.txt").write_text("x", encoding="utf-8")
    (lamps / "more").mkdir()
    (lamps / "more" / "ü b.yaml").write_text("x", encoding="utf-8")
    git(repository, "add", "-A")
    git(repository, "-c", "user.name=A", "-c", "user.email=a@b.invalid", "commit", "-q", "-m", "more")
    into = tmp_path / "into"
    into.mkdir()
    fetched = fetch("HEAD:desk/lamps", repository, into, os.environ)
    assert fetched.part == ""
    found = sorted(path.relative_to(into).as_posix() for path in into.rglob("*") if path.is_file())
    assert found == sorted([*(path.name for path in SAMPLE.iterdir()), "more/ü b.yaml"])
    assert all(not path.is_symlink() for path in into.rglob("*"))
    assert (into / "library.yaml").read_bytes() == (SAMPLE / "library.yaml").read_bytes()


@NEEDS_GIT
@given(st.text(max_size=12), st.text(max_size=12))
def test_no_word_makes_git_do_more_than_read(revision: str, path: str) -> None:
    """Whatever is named, the answer is a sentence; nothing of it is taken for an option."""
    told = ""
    try:
        fetch(f"{revision}:{path}", SAMPLE, Path("/nonexistent"), os.environ)
    except FaulttreeError as error:
        told = error.what
    assert told


# -- formats


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


# -- drawings take revisions too


@NEEDS_GIT
def test_a_drawing_against_a_revision(run: Run, repository: Path) -> None:
    file = repository / "desk" / "lamps" / f"{LAMP}.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("Lights: volts", "Lights: switch"), encoding="utf-8")
    for named in ("HEAD:desk/lamps", f"HEAD:desk/lamps/{LAMP}.yaml"):
        ran = run("draw", str(file), "--model", "Finch", "--against", named, "--format", "list", "-o", "-")
        assert ran.code == 0, ran.err
        assert f"Against revision 2 ({named})" in " ".join(ran.out.split())
        assert "+ Lights" in ran.out
    ran = run("draw", str(file), "--against", "nosuch:desk/lamps", "--format", "list", "-o", "-")
    assert (ran.code, "Traceback" in ran.err) == (2, False)
    assert 'there is no revision "nosuch"' in ran.err
