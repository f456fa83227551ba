"""`faulttree release`: who may, what stops it, and what stands in the file afterwards."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest
from cli_runs import LAMP, MakeLibrary, Run

from faulttree.digest import standing, tree_digest
from faulttree.library import load_library

STATUS = "status: draft                        # draft | released | withdrawn\n"
AUTHOR = f"author: A. Fell\n{STATUS}"


@pytest.fixture
def folder(library: MakeLibrary) -> Path:
    """The sample with an author."""
    return library(STATUS, AUTHOR)


def release(run: Run, folder: Path, *words: str, by: str = "B. Tarn", day: str = "2026-11-21"):
    return run("--library", str(folder), "release", LAMP, "--by", by, "--date", day, *words)


def text(folder: Path) -> str:
    return (folder / f"{LAMP}.yaml").read_text(encoding="utf-8")


def stands(folder: Path) -> str:
    loaded = load_library(folder)
    assert loaded.library
    return standing(loaded.trees[LAMP], loaded.library)


def test_it_writes_who_when_and_digest_and_nothing_else(run: Run, folder: Path) -> None:
    before = text(folder)
    loaded = load_library(folder)
    assert loaded.library
    digest = tree_digest(loaded.trees[LAMP], loaded.library)
    ran = release(run, folder)
    assert ran.code == 0, ran.err
    added = f"released:\n  by: B. Tarn\n  date: 2026-11-21\n  digest: {digest}\n"
    status = STATUS.replace("draft", "released", 1)
    assert text(folder) == before.replace(STATUS, status + added)
    assert stands(folder) == "RELEASED"
    assert run("check", str(folder)).code == 0
    assert digest in ran.out
    assert "commit that file" in " ".join(ran.err.split())


def test_a_file_that_was_tidy_is_tidy_after_it(run: Run, library: MakeLibrary) -> None:
    folder = library(STATUS, f"{STATUS}author: A. Fell\n")
    assert run("check", "--diff", str(folder)).out == ""
    assert release(run, folder).code == 0
    assert run("check", "--diff", str(folder)).out == ""


def test_a_dry_run_writes_nothing(run: Run, folder: Path) -> None:
    before = text(folder)
    ran = release(run, folder, "--dry-run")
    assert ran.code == 0
    assert ran.out.startswith(f"Would be released: {LAMP}, revision 2")
    assert text(folder) == before


def test_a_change_in_meaning_makes_it_a_draft_until_it_is_released_anew(run: Run, folder: Path) -> None:
    assert release(run, folder).code == 0
    path = folder / "notices.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("hazard: ", "hazard: Very ", 1), encoding="utf-8")
    assert stands(folder) == "DRAFT, CHANGED SINCE ITS RELEASE"
    assert "released-changed" in run("check", str(folder)).out
    ran = release(run, folder, by="C. Holm", day="2026-11-22")
    assert ran.code == 2
    assert "but is still revision 2 of 2026-11-20" in " ".join(ran.err.split())
    tree = folder / f"{LAMP}.yaml"
    newer = text(folder).replace("revision: 2\ndate: 2026-11-20", "revision: 3\ndate: 2026-11-22")
    tree.write_text(newer, encoding="utf-8")
    before = text(folder)
    ran = release(run, folder, by="C. Holm", day="2026-11-22")
    assert ran.code == 0, ran.err
    assert "replaces the release by B. Tarn of 2026-11-21" in ran.err
    assert stands(folder) == "RELEASED"
    changed = [new for old, new in zip(before.splitlines(), text(folder).splitlines(), strict=True) if old != new]
    assert [line.split(":")[0].strip() for line in changed] == ["by", "date", "digest"]


def test_what_is_released_already_is_left(run: Run, folder: Path) -> None:
    assert release(run, folder).code == 0
    before = text(folder)
    ran = release(run, folder, by="C. Holm")
    assert ran.code == 2
    assert "is released by B. Tarn on 2026-11-21" in " ".join(ran.err.split())
    assert text(folder) == before


@pytest.mark.parametrize(
    "by",
    ["A. Fell", "a fell", "A.FELL", "  A.  FELL", "Fell, A.", "Ａ. Fell", "", " ", "-", "none", "B\nTarn", "x" * 81],
)
def test_the_author_and_no_name_cannot_release(by: str, run: Run, folder: Path) -> None:
    before = text(folder)
    assert release(run, folder, by=by).code == 2
    assert text(folder) == before


@pytest.mark.parametrize(
    "author", ["A. Moss and B. Tarn", "B.Tarn & A. Moss", "A. Moss; B. TARN", "Tarn, B., Moss, A."]
)
def test_one_of_several_authors_cannot_release(author: str, run: Run, library: MakeLibrary) -> None:
    folder = library(STATUS, AUTHOR.replace("A. Fell", author))
    assert release(run, folder).code == 2
    assert release(run, folder, by="C. Holm and B. Tarn").code == 2
    assert release(run, folder, by="B. Tarnow").code == 0


@pytest.mark.parametrize(
    "author",
    ["C. D. and A. B.", "C. D. & A. B.", "C. D., A. B.", "B. Tarn / A. B.", "B. Tarn, A. B.", "A. B., Tarn, B."],
)
def test_an_author_by_initials_cannot_release(author: str, run: Run, library: MakeLibrary) -> None:
    folder = library(STATUS, AUTHOR.replace("A. Fell", author))
    assert release(run, folder, by="A. B.").code == 2
    assert release(run, folder, by="A. C.").code == 0


@pytest.mark.parametrize("author", ["none", '"-"', "N/A", "tbd."])
def test_an_author_who_is_nobody_is_refused_by_the_command_as_by_the_rule(
    author: str, run: Run, library: MakeLibrary
) -> None:
    folder = library(STATUS, AUTHOR.replace("A. Fell", author))
    before = text(folder)
    ran = release(run, folder)
    assert (ran.code, text(folder)) == (2, before)
    assert "names no author" in ran.err


@pytest.mark.parametrize("by", ["A. Fell", "none"])
def test_a_release_by_nobody_or_by_the_author_is_mended_by_releasing_anew(by: str, run: Run, folder: Path) -> None:
    """The help of release-unsigned says so; what it states otherwise may still stand."""
    assert release(run, folder).code == 0
    path = folder / f"{LAMP}.yaml"
    path.write_text(text(folder).replace("by: B. Tarn", f"by: {by}"), encoding="utf-8")
    assert "release-unsigned" in run("check", str(folder)).out
    assert release(run, folder, by="C. Holm").code == 0
    assert run("check", str(folder)).code == 0


def test_a_released_tree_must_keep_its_author(run: Run, folder: Path) -> None:
    """Without one nobody sees whether it was the author who released it."""
    assert release(run, folder).code == 0
    path = folder / f"{LAMP}.yaml"
    path.write_text(text(folder).replace("author: A. Fell\n", ""), encoding="utf-8")
    assert "names no author" in run("check", str(folder)).out
    assert release(run, folder, by="C. Holm").code == 2


@pytest.mark.parametrize("day", ["2026-11-19", "2999-01-01", "2026-02-30", "yesterday"])
def test_days_that_cannot_be(day: str, run: Run, folder: Path) -> None:
    assert release(run, folder, day=day).code == 2


def test_a_tree_without_author_is_refused(run: Run, library: MakeLibrary) -> None:
    ran = release(run, library())
    assert ran.code == 2
    assert "names no author" in ran.err


def test_a_withdrawn_tree_is_refused(run: Run, library: MakeLibrary) -> None:
    ran = release(run, library(STATUS, AUTHOR.replace("draft  ", "withdrawn  ")))
    assert ran.code == 2
    assert "is withdrawn" in ran.err


def test_a_tree_with_an_error_is_refused(run: Run, folder: Path) -> None:
    path = folder / f"{LAMP}.yaml"
    path.write_text(text(folder).replace("failed: wipe-contacts ", "failed: nowhere ", 1), encoding="utf-8")
    before = text(folder)
    ran = release(run, folder)
    assert ran.code == 1
    assert "target-missing" in ran.err
    assert text(folder) == before


def test_a_tree_with_a_warning_is_refused(run: Run, folder: Path) -> None:
    """A cause that needs two failed fixes before its own is a warning, and somebody has to stand by it."""
    path = folder / f"{LAMP}.yaml"
    path.write_text(
        text(folder).replace("findings: {Lights: fit-switch-last, Stays dark: fit-head}", TWO_FIXES), encoding="utf-8"
    )
    ran = release(run, folder)
    assert ran.code == 1
    assert "problems that stop its release" in ran.err


TWO_FIXES = "findings: {Lights: fit-switch-last, Stays dark: fit-switch-last}"


@pytest.mark.parametrize(
    "by", ["B: Tarn", "B # Tarn", "yes", "Tärn, Bo", '"Bo"', "- Bo", "12", "{Bo}", "Bo\\n", "O'Neil"]
)
def test_any_name_is_read_back_as_it_was_given(by: str, run: Run, folder: Path) -> None:
    assert release(run, folder, by=by).code == 0
    released = load_library(folder).trees[LAMP].released
    assert released is not None
    assert released.by == by


def test_line_ends_mark_and_permissions_stay(run: Run, folder: Path) -> None:
    path = folder / f"{LAMP}.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + text(folder).replace("\n", "\r\n").encode())
    path.chmod(0o640)
    assert release(run, folder).code == 0
    data = path.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf#")
    assert data.count(b"\n") == data.count(b"\r\n")
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert stands(folder) == "RELEASED"
    assert sorted(each.name for each in folder.iterdir() if each.name.startswith(".")) == []


def test_a_release_in_braces_stays_in_braces(run: Run, library: MakeLibrary) -> None:
    there = "released: {digest: '0', by: Nobody, date: 2026-11-20}   # by hand\n"
    folder = library(STATUS, AUTHOR.replace("draft  ", "released  ") + there)
    assert release(run, folder).code == 0
    line = next(line for line in text(folder).splitlines() if line.startswith("released:"))
    assert line.endswith("by: B. Tarn, date: 2026-11-21}   # by hand")
    assert stands(folder) == "RELEASED"


def test_a_status_in_quotes_is_told(run: Run, library: MakeLibrary) -> None:
    ran = release(run, library(STATUS, 'author: A. Fell\nstatus: "draft"\n'))
    assert ran.code == 2
    assert "leaves no place for the release" in " ".join(ran.err.split())


def test_no_such_tree_and_no_name(run: Run, folder: Path) -> None:
    assert run("--library", str(folder), "release", "nosuch", "--by", "B").code == 2
    assert run("--library", str(folder), "release", LAMP).code == 2
