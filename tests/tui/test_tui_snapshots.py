"""Each page at three sizes is what it was; `python -m tests.snapshots` writes them anew after a wanted change."""

from __future__ import annotations

import pytest
from snapshots import FOLDER, NAMES, SIZES, file_of, shown


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("name", NAMES)
def test_the_page_is_as_it_was(name: str, size: tuple[int, int]) -> None:
    page = shown(name, size)
    assert page == file_of(name, size).read_text(encoding="utf-8")
    lines = page.splitlines()
    assert len(lines) <= size[1]
    assert max(map(len, lines)) <= size[0]


def test_no_snapshot_is_left_over() -> None:
    assert {path.name for path in FOLDER.glob("*.txt")} == {
        file_of(name, size).name for name in NAMES for size in SIZES
    }
