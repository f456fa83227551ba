"""`faulttree compare` and `faulttree draw --against` with revisions of git: read whole, and read only."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest
from cli_runs import LAMP, SAMPLE, Run
from hypothesis import given
from hypothesis import strategies as st

from faulttree.problems import FaulttreeError
from faulttree.revisions import fetch

NEEDS_GIT = pytest.mark.skipif(not shutil.which("git"), reason="git is not installed")
WARNING = ("notices: [hot-lens, wrong-cell]", "notices: [wrong-cell]")


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
def test_before_the_first_commit_it_is_said_that_there_is_none(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(SAMPLE, tmp_path / "lamps")
    git(tmp_path, "init", "-q")
    monkeypatch.chdir(tmp_path)
    ran = run("compare", "HEAD:lamps", "lamps")
    assert (ran.code, "nothing was committed in this repository yet" in ran.err) == (2, True)
    assert "git commit" in ran.err


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
