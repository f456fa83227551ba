"""The pictures and the quotes of the documents are what the program shows, and nothing in a picture points outside."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import pytest
from pictures import FOLDER, PICTURES, ROOT, taken
from played import PLAYED, Seen, played
from tui_runs import letters

DOCUMENTS = sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").rglob("*.md")])
QUOTING = ("for-crew.md", "for-mechanics.md")
NAMESPACE = "http://www.w3.org/2000/svg"
MOST_BYTES = 60_000


@pytest.fixture(autouse=True)
def plain_surroundings(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("FAULTTREE_LIBRARY", "FAULTTREE_PLAIN", "NO_COLOR"):
        monkeypatch.delenv(name, raising=False)


# -- pictures


def referenced() -> Iterator[Path]:
    """The pictures that documents show."""
    for document in DOCUMENTS:
        for found in re.findall(r"!\[[^\]]+\]\(([^)]+)\)", document.read_text(encoding="utf-8")):
            path = (document.parent / found).resolve()
            # Drawings stand in a folder of their own, and have a test of their own.
            if path.parent == FOLDER.resolve():
                yield path


def test_every_picture_is_shown_by_a_document_and_the_other_way_round() -> None:
    assert set(referenced()) == {path.resolve() for path in FOLDER.iterdir()}
    assert {path.name for path in FOLDER.iterdir()} == {f"{name}.svg" for name in PICTURES}


@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_is_small_and_points_nowhere(name: str) -> None:
    text = (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    assert len(text.encode()) < MOST_BYTES
    root = ElementTree.fromstring(text)
    assert {each.tag for each in root.iter()} == {
        f"{{{NAMESPACE}}}{tag}" for tag in ("svg", "title", "rect", "g", "text")
    }
    without = text.replace(f'xmlns="{NAMESPACE}"', "", 1).lower()
    for word in ("http", "script", "href", "url(", "@import", "font-face", "<!"):
        assert word not in without


@pytest.mark.long
@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_is_what_the_program_shows(name: str) -> None:
    """Where this fails, ``python -m tests.pictures`` takes the pictures anew."""
    assert taken(name) == (FOLDER / f"{name}.svg").read_text(encoding="utf-8")


# -- quotes


@pytest.fixture(scope="module")
def seen() -> Seen:
    """All that was shown, and all keys, in all the walks that the documents tell of."""
    walks = [played(name) for name in PLAYED]
    return Seen([page for walk in walks for page in walk.pages], {key for walk in walks for key in walk.keys})


def quotes(name: str) -> list[str]:
    """The blocks of text that a document quotes from the screen."""
    return re.findall(r"```text\n(.*?)```", (ROOT / "docs" / name).read_text(encoding="utf-8"), re.DOTALL)


def was_shown(quote: str, seen: Seen) -> bool:
    """Whether all lines of the quote stand one after another on one page."""
    wanted = "".join(letters(line) for line in quote.splitlines())
    return any(wanted in page for page in seen.pages)


@pytest.mark.long
@pytest.mark.parametrize("name", QUOTING)
def test_what_is_quoted_was_shown(name: str, seen: Seen) -> None:
    found = quotes(name)
    assert len(found) >= 4
    assert [quote for quote in found if not was_shown(quote, seen)] == []


@pytest.mark.long
def test_what_is_not_shown_is_not_found(seen: Seen) -> None:
    """Otherwise the comparison above would say nothing."""
    assert not was_shown("FAULT CORRECTED. APPROVED FOR RETURN TO SERVICE.", seen)
    assert not was_shown("OUT OF SERVICE.\nFAULT CORRECTED.", seen)


@pytest.mark.long
def test_the_keys_of_the_table_are_keys(seen: Seen) -> None:
    text = (ROOT / "docs" / "for-crew.md").read_text(encoding="utf-8")
    table = re.findall(r"^\| `(\w+|\?)`(?: to `\d`)? \| \w", text, re.MULTILINE)
    assert len(table) >= 15
    assert set(table) - {"v", "?"} <= seen.keys


def test_the_words_of_the_training_walk_are_shown() -> None:
    """Its last column quotes the screen where it begins like a page: in capitals or as a question."""
    shown = played("training").pages
    for words in ("Is a patient on the cot?", "This takes 2 people", "What (no patient data):", "Written down.",
                  "not enough people", "Nothing more is to be done here while somebody is on it", "NOT AVAILABLE.",
                  "HAND-OVER. NOT APPROVED FOR RETURN TO SERVICE."):  # fmt: skip
        assert words in (ROOT / "docs" / "for-crew.md").read_text(encoding="utf-8")
        assert any(letters(words) in page for page in shown), words
