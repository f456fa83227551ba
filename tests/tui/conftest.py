"""What tests of the ramp screen share: a folder for walks, and keys that may come as fast as the test sends them."""

from __future__ import annotations

from pathlib import Path

import pytest

from faulttree.tui.guard import Guard


@pytest.fixture(autouse=True)
def plain_surroundings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No library and no folder of the user by environment."""
    for name in ("FAULTTREE_LIBRARY", "FAULTTREE_PLAIN", "NO_COLOR", "TEXTUAL_ANIMATIONS"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("HOME", str(tmp_path))


@pytest.fixture
def walks(tmp_path: Path) -> Path:
    """The folder of the walks."""
    return tmp_path / "walks"


@pytest.fixture
def quick_keys(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same key counts again at once: nobody holds a key down here. What was typed too early still does not."""
    monkeypatch.setattr(Guard.__init__, "__defaults__", (-1.0,))
