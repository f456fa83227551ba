"""`faulttree compare`: files and folders, exit codes, and sides that are none."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from cli_runs import LAMP, SAMPLE, MakeLibrary, Run

WARNING = ("notices: [hot-lens, wrong-cell]", "notices: [wrong-cell]")
REASON = ("why: no spare cell", "why: none there")


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


def test_a_file_outside_of_a_library_is_no_side(run: Run, library: MakeLibrary, tmp_path: Path) -> None:
    """Whatever library is named: only the one around a file says what its names mean."""
    folder, outside = library(), tmp_path / "outside" / f"{LAMP}.yaml"
    outside.parent.mkdir()
    shutil.copy(folder / f"{LAMP}.yaml", outside)
    for named in ([], ["--library", str(folder)]):
        ran = run("compare", str(folder / f"{LAMP}.yaml"), str(outside), *named)
        assert ran.code == 2
        assert "there is no library.yaml at or above" in " ".join(ran.err.split())


def test_of_a_side_with_errors_it_is_said_that_what_is_told_may_mislead(run: Run, library: MakeLibrary) -> None:
    folder = library()
    path = folder / "operational-checks.yaml"
    text = path.read_text(encoding="utf-8")
    name = text.split("operational_checks:\n  ")[1].split(":")[0]
    path.write_text(text.replace(f"  {name}:", f"  {name}-new:"), encoding="utf-8")
    ran = run("compare", str(SAMPLE), str(folder))
    assert "errors: mend them first, what is told here may mislead" in " ".join(ran.err.split())
    assert str(SAMPLE) not in ran.err
