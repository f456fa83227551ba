"""The drawings that docs/for-authors.md shows say what the shipped tree says now."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from drawings import FOLDER, MODEL, ROLES, TREE, shipped_library

from faulttree.cli.main import main as faulttree


def letters(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("role", ROLES)
def test_a_drawing_of_the_docs_has_every_line_of_the_list_of_now(role: str, capsys: pytest.CaptureFixture[str]) -> None:
    named = ["--model", MODEL, "--as", role, "--library", str(shipped_library())]
    assert faulttree(["draw", TREE, *named, "--format", "list", "-o", "-"]) == 0
    _, _, listed = capsys.readouterr().out.partition("\n\n")
    wanted = letters("".join(re.sub("^  - ", "", line) for line in listed.splitlines()))
    files = sorted(FOLDER.glob(f"{TREE}-{MODEL}-{role}*.svg"))
    shown = letters("".join("".join(ElementTree.parse(path).getroot().itertext()) for path in files))
    assert len(wanted) > 2000
    assert wanted in shown


def test_every_drawing_is_shown_or_linked() -> None:
    page = (FOLDER.parent / "for-authors.md").read_text(encoding="utf-8")
    assert {path.name for path in FOLDER.iterdir()} == set(re.findall(r"drawings/([\w.-]+\.svg)", page))
