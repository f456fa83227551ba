"""The shipped library and the sample, loaded once for the tests that walk them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from faulttree.library import LoadedLibrary, load_library, shipped_library

SAMPLE = Path(__file__).parent / "sample"


@cache
def shipped() -> LoadedLibrary:
    return load_library(shipped_library())


@cache
def sample() -> LoadedLibrary:
    return load_library(SAMPLE)


def variants():
    """Every tree and model of the shipped library and the sample, with a name for the test's output."""
    for loaded in (shipped(), sample()):
        for tree in loaded.trees.values():
            for variant in tree.variants.values():
                yield f"{tree.id}-{variant.model}", loaded.library, tree, variant
