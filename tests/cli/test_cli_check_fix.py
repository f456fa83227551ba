"""`faulttree check --fix` and `--diff`: what is written, what is shown, what is left alone."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest
from cli_runs import LAMP, MakeLibrary, Run

from faulttree.cli import mend

WRONG = ("    notices: [hot-lens, wrong-cell]", "    notices: [wrong-cell, hot-lens]")


def files_in(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_a_preview_writes_nothing(run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = library(*WRONG)
    monkeypatch.chdir(folder)
    before = files_in(folder)
    for words in (("--diff",), ("--fix", "--diff")):
        ran = run("check", *words)
        assert ran.code == 1
        assert f"-{WRONG[1]}\n+{WRONG[0]}\n" in ran.out
        assert f"--- {LAMP}.yaml" in ran.out
        assert files_in(folder) == before


def test_nothing_to_show(run: Run, library: MakeLibrary) -> None:
    assert run("check", "--diff", str(library())) == (0, "", "")


def test_it_is_written_and_then_checked(run: Run, library: MakeLibrary) -> None:
    """The text is the right one, permissions stay, no other file is there, and the second time nothing is done."""
    folder = library()
    right = files_in(folder)
    folder = library(*WRONG)
    path = folder / f"{LAMP}.yaml"
    path.chmod(0o640)
    ran = run("check", "--fix", str(folder))
    assert ran.code == 0
    assert "mended: order of notices." in " ".join(ran.err.split())
    assert "No problems" in ran.out
    assert files_in(folder) == right
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert run("check", "--fix", str(folder)).err == ""


def test_only_what_is_named_is_mended(run: Run, library: MakeLibrary) -> None:
    """A shared file stands for the whole library when it is checked, not when it is mended."""
    folder = library(*WRONG)
    with (folder / "tools.yaml").open("a", encoding="utf-8") as file:
        file.write("\n\n")
    ran = run("check", "--fix", str(folder / "tools.yaml"))
    assert "tools.yaml: mended" in " ".join(ran.err.split())
    assert LAMP not in ran.err
    assert WRONG[1] in (folder / f"{LAMP}.yaml").read_text(encoding="utf-8")


def test_marks_and_line_ends_stay(run: Run, library: MakeLibrary) -> None:
    folder = library(*WRONG)
    path = folder / f"{LAMP}.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert run("check", "--fix", str(path)).code == 0
    data = path.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf#")
    assert data.count(b"\r\n") == data.count(b"\n")
    assert WRONG[0].encode() in data


def test_a_file_with_errors_is_left_and_told_of(run: Run, library: MakeLibrary) -> None:
    folder = library("minutes: 1\n", "minutes: one  \n")
    before = files_in(folder)
    ran = run("check", "--fix", str(folder))
    assert ran.code == 1
    assert "left alone: it has errors." in " ".join(ran.err.split())
    assert files_in(folder) == before


def test_what_keeps_a_file_from_being_mended_is_named(run: Run, library: MakeLibrary) -> None:
    """A tree, and every other shared file, cannot be understood while one shared file has errors; that one is named."""
    folder = library(*WRONG)
    path = folder / "limits.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("unit: V", "unti: V", 1), encoding="utf-8")
    before = files_in(folder)
    ran = run("check", "--fix", str(folder))
    told = [line for line in ran.err.replace("\n  ", " ").splitlines() if "left alone" in line]
    names = {line.split(":")[0].split("/")[-1]: line for line in told}
    assert "left alone: it has errors" in names["limits.yaml"]
    assert "limits.yaml has errors" in names["library.yaml"]
    assert "limits.yaml has errors" in names[f"{LAMP}.yaml"]
    assert sum("it has errors" in line for line in told) == 1
    assert files_in(folder) == before


def test_what_somebody_else_wrote_meanwhile_is_kept(
    run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = library(*WRONG)
    path = folder / f"{LAMP}.yaml"
    whole = mend.mend

    def slowly(*args: object) -> object:
        done = whole(*args)  # type: ignore[arg-type]
        if done.is_changed:
            path.write_text("other", encoding="utf-8")
        return done

    monkeypatch.setattr(mend, "mend", slowly)
    ran = run("check", "--fix", str(folder))
    assert ran.code == 2
    assert "has changed meanwhile" in ran.err
    assert path.read_text(encoding="utf-8") == "other"


def test_a_disk_that_fails_leaves_the_old_file(run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch) -> None:
    """At each of the calls that can fail."""
    for name in ("fsync", "replace", "chmod"):
        folder = library(*WRONG)
        before = files_in(folder)

        def fails(*_: object) -> None:
            raise OSError(28, "No space left on device")

        with monkeypatch.context() as patch:
            patch.setattr(os, name, fails)
            ran = run("check", "--fix", str(folder))
        assert ran.code == 2
        assert "cannot be written: no space left on device" in " ".join(ran.err.split())
        assert files_in(folder) == before
