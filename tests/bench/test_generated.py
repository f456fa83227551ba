"""The trees of the benchmark are what it says: sound, of forty steps, the same every time."""

from __future__ import annotations

from pathlib import Path

from faulttree.checking import check_library
from faulttree.library import load_library

from .generate import STEPS, generate

FILES = 12


def test_the_generated_trees_are_sound(tmp_path: Path) -> None:
    folder = generate(tmp_path / "library", FILES)
    loaded = load_library(folder)
    assert check_library(loaded) == []
    assert len(loaded.trees) == FILES
    for tree in loaded.trees.values():
        assert {len(variant.steps) for variant in tree.variants.values()} == {STEPS}


def test_they_have_the_size_that_is_told(tmp_path: Path) -> None:
    folder = generate(tmp_path / "library", FILES)
    sizes = [path.stat().st_size for path in folder.glob("tree-*.yaml")]
    assert 6_500 < sum(sizes) / FILES < 7_300


def test_one_seed_gives_one_text(tmp_path: Path) -> None:
    one, same, other = (generate(tmp_path / str(at), FILES, seed) for at, seed in enumerate((1, 1, 2)))
    for path in one.iterdir():
        assert path.read_bytes() == (same / path.name).read_bytes()
        if path.name.startswith("tree-"):
            assert path.read_bytes() != (other / path.name).read_bytes()
