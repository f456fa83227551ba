"""`faulttree draw`: files, formats, stdout, programs that are there or not; every refusal says what to do."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from cli_runs import LAMP, MakeLibrary, Run

DOT = shutil.which("dot")
PURE = Path(sys.executable).parent / "graphviz-pure"
WITH_DOT = pytest.mark.skipif(not DOT, reason="the program dot is not installed")
WITH_PURE = pytest.mark.skipif(not PURE.is_file(), reason="the extra draw is not installed")
PROGRAMS = [pytest.param(DOT, marks=WITH_DOT), pytest.param(str(PURE), marks=WITH_PURE)]


@pytest.fixture
def no_program(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("faulttree.cli.drawing.shutil.which", lambda *words, **more: None)


def draw(run: Run, folder: Path, *words: str):
    return run("--library", str(folder), "draw", *words)


@pytest.mark.parametrize("program", PROGRAMS)
def test_svg_and_png_of_either_program(run: Run, library: MakeLibrary, tmp_path: Path, program: str) -> None:
    ran = draw(run, library(), LAMP, "--model", "Finch", "--dot", program, "-o", str(tmp_path / "lamp.svg"))
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.splitlines() == [str(tmp_path / "lamp.svg")]
    root = ElementTree.parse(tmp_path / "lamp.svg").getroot()
    assert root.attrib["role"] == "img"
    assert root.attrib["aria-labelledby"] == "title description"
    assert root[0].text == "The lamp does not light"
    assert "It begins with" in str(root[1].text)
    ran = draw(run, library(), LAMP, "--as", "repairer", "--format", "png", "--dot", program, "-o", str(tmp_path / "d"))
    names = ran.out.split()
    assert all(Path(name).read_bytes().startswith(b"\x89PNG") for name in names if name.endswith(".png"))


@WITH_DOT
def test_pdf_has_a_page_of_a4_or_a3_for_each_part(run: Run, tmp_path: Path) -> None:
    ran = run("draw", "legs-do-not-drop", "--as", "mechanic", "--model", "Alder", "-o", str(tmp_path / "legs.pdf"))
    assert ran.code == 0
    data = (tmp_path / "legs.pdf").read_bytes()
    assert data.startswith(b"%PDF")
    pages = [tuple(map(int, each.split()[2:4])) for each in _boxes(data)]
    assert len(pages) > 1
    for wide, high in pages:
        size = sorted((wide, high))
        assert any(abs(size[0] - a) <= 2 and abs(size[1] - b) <= 2 for a, b in ((595, 842), (842, 1191)))


def _boxes(data: bytes) -> list[str]:
    import re

    return [each.decode() for each in re.findall(rb"/MediaBox \[ ([\d. ]+) \]", data)]


@WITH_PURE
def test_the_extra_makes_no_pdf(run: Run, library: MakeLibrary, tmp_path: Path) -> None:
    ran = draw(run, library(), LAMP, "--model", "Finch", "--dot", str(PURE), "-o", str(tmp_path / "x.pdf"))
    assert ran.code == 2
    assert "makes no pdf" in ran.err
    assert not (tmp_path / "x.pdf").exists()


@pytest.mark.usefixtures("no_program")
def test_without_any_program(run: Run, library: MakeLibrary, tmp_path: Path) -> None:
    """One line says what to install; dot text, list and their index still come."""
    folder = library()
    ran = draw(run, folder, LAMP, "-o", str(tmp_path / "d"))
    assert ran.code == 2
    assert "no program to lay out" in ran.err
    assert "pip install 'faulttree[draw]'" in " ".join(ran.err.split())
    assert not (tmp_path / "d").exists()
    assert draw(run, folder, LAMP, "--format", "dot", "-o", "-").out.startswith('digraph "lamp-does-not-light 1" {')
    ran = draw(run, folder, "--all", "--format", "list", "-o", str(tmp_path / "e"))
    assert ran.code == 0
    assert (tmp_path / "e" / "index.html").is_file()


def test_the_index_page_is_for_all_drawings_and_never_written_over_another_page(
    run: Run, library: MakeLibrary, tmp_path: Path
) -> None:
    folder, target = library(), tmp_path / "d"
    every = ("--all", "--format", "list", "-o", str(target))
    assert draw(run, folder, LAMP, "--format", "list", "-o", str(target)).code == 0
    assert not (target / "index.html").exists()
    assert [draw(run, folder, *every).code for _ in range(2)] == [0, 0]
    (target / "index.html").write_text("<title>Home</title>")
    before = sorted(target.iterdir())
    ran = draw(run, folder, *every)
    assert (ran.code, '"index.html" in that folder is another page' in ran.err) == (2, True)
    assert sorted(target.iterdir()) == before
    assert (target / "index.html").read_text() == "<title>Home</title>"


def test_parts_of_an_earlier_drawing_are_told_of(run: Run, library: MakeLibrary, tmp_path: Path) -> None:
    folder = library()
    for name in ("lamp-1.txt", "lamp-2.txt", "lamp-new.txt"):
        (tmp_path / name).write_text("old")
    ran = draw(run, folder, LAMP, "--model", "Finch", "-o", str(tmp_path / "lamp.txt"))
    assert ran.code == 0
    assert "lamp-1.txt, lamp-2.txt" in " ".join(ran.err.split())
    assert "lamp-new" not in ran.err


def test_a_tree_that_changed_since_its_release_is_drawn_as_a_draft(run: Run, library: MakeLibrary) -> None:
    folder = library()
    listed = (LAMP, "--model", "Finch", "--format", "list", "-o", "-")
    assert "· DRAFT ·" in draw(run, folder, *listed).out
    file = folder / f"{LAMP}.yaml"
    release = f"status: released\nreleased: {{by: B. Tarn, date: 2026-02-01, digest: {'0' * 64}}}"
    file.write_text(file.read_text(encoding="utf-8").replace("status: draft", release), encoding="utf-8")
    assert "· DRAFT, CHANGED SINCE ITS RELEASE ·" in " ".join(draw(run, folder, *listed).out.split())


def test_a_program_that_is_not_there_or_fails(run: Run, library: MakeLibrary, tmp_path: Path) -> None:
    folder = library()
    ran = draw(run, folder, LAMP, "--dot", "no-such-program", "-o", str(tmp_path / "d"))
    assert ran.code == 2
    assert 'there is no program "no-such-program"' in ran.err
    ran = draw(run, folder, LAMP, "--dot", "false", "-o", str(tmp_path / "d"))
    assert ran.code == 2
    assert "could not draw it" in ran.err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "name one tree, or --all"),
        ((LAMP, "--all"), "name one tree, or --all"),
        (("--all",), "--all draws many files"),
        (("--all", "-o", "x.svg"), "--all draws many files"),
        ((LAMP, "-o", "x.svg", "--format", "png"), '"x.svg" is no name for png'),
        ((LAMP, "--as", "usr"), '"usr" is no role'),
        ((LAMP, "--model", "Fnch"), '"Fnch" is no model'),
        ((LAMP, "--format", "png", "-o", "-"), "png is no text"),
        ((LAMP, "--format", "list", "-o", "x.txt"), "one for each model"),
        ((LAMP, "--against", "no-such-folder"), "no-such-folder"),
        ((LAMP, "--against", "x" * 300), "there is no file or folder"),
    ],
)
def test_refusals(run: Run, library: MakeLibrary, tmp_path: Path, monkeypatch, words, said) -> None:
    folder = library()
    monkeypatch.chdir(tmp_path)
    ran = draw(run, folder, *words)
    assert ran.code == 2
    assert said in " ".join(ran.err.split())
    assert ran.out == ""
    assert not [each for each in tmp_path.iterdir() if each.suffix]


def test_the_first_role_is_the_default_and_hands_over(run: Run, library: MakeLibrary) -> None:
    out = draw(run, library(), LAMP, "--model", "Finch", "--format", "list", "-o", "-").out
    assert "as user can reach it" in " ".join(out.split())
    assert "HAND OVER to repairer" in out
    out = draw(run, library(), LAMP, "--as", "repairer", "--format", "list", "-o", "-").out
    assert "as repairer can reach it" in " ".join(out.split())


def test_against_a_folder_and_a_file(run: Run, library: MakeLibrary, tmp_path: Path) -> None:
    old = tmp_path / "old"
    shutil.copytree(library(), old)
    folder = library("Lights: volts", "Lights: switch")
    assert draw(run, folder, LAMP, "--model", "Finch", "--format", "list", "-o", "-").code == 0
    for named in (str(old), str(old / f"{LAMP}.yaml")):
        ran = draw(run, folder, LAMP, "--model", "Finch", "--against", named, "--format", "list", "-o", "-")
        assert ran.code == 0, ran.err
        assert "Against revision 2" in ran.out
        assert "+ Lights" in ran.out
        assert "- Lights" in ran.out


def test_a_tree_with_errors_or_a_circle_is_not_drawn(run: Run, library: MakeLibrary, tmp_path: Path) -> None:
    ran = draw(run, library("Lights: volts", "Lights: spare-cell"), LAMP, "--format", "dot", "-o", "-")
    assert ran.code == 1
    assert "run in a circle" in ran.err
    ran = draw(run, library("revision: 2", "revision: x"), "--all", "--format", "dot", "-o", str(tmp_path / "d"))
    assert ran.code == 1
    assert "keep it from being drawn" in " ".join(ran.err.split())


@WITH_DOT
def test_all_with_an_index_page(run: Run, library: MakeLibrary, tmp_path: Path) -> None:
    ran = draw(run, library(), "--all", "-o", str(tmp_path / "d"))
    assert ran.code == 0
    page = (tmp_path / "d" / "index.html").read_text(encoding="utf-8")
    for name in ran.out.split()[:-1]:
        assert f'href="{Path(name).name}"' in page
        ElementTree.parse(name)
    for never in ("<script", "http:", "https:", " onclick", "src="):
        assert never not in page


def test_without_o_files_stand_in_the_current_folder(
    run: Run, library: MakeLibrary, tmp_path: Path, monkeypatch
) -> None:
    folder = library()
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    ran = draw(run, folder, LAMP, "--model", "Finch", "--format", "dot")
    assert ran.out.split() == [f"{LAMP}-Finch-user.dot"]
    assert (tmp_path / "here" / f"{LAMP}-Finch-user.dot").is_file()
    assert [each.name for each in (tmp_path / "here").iterdir()] == ran.out.split()
