"""The JSON Schemas that ship with the program: one for each kind of file of a library.

They are the one description of shape: the checker, editors and the page of the format use them. This module hands
them out as text and knows which file is of which kind; it validates nothing.
"""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from pathlib import PurePath

KINDS = ("library", "tree", "notices", "limits", "parts", "tools", "operational-checks", "inspection")
"""The kinds of file, in the order in which the page of the format explains them."""

TREE = "tree"

MODELINE = r"# yaml-language-server: \$schema=(\S+)"
"""How the first line of a file names its schema to an editor, by its place or address."""


def kind_of(file: str) -> str:
    """The kind of a file by its name: shared entries stand in files of fixed names, every other file is a tree."""
    stem = PurePath(file).stem
    return stem if stem in KINDS else TREE


def schema_named(text: str) -> str:
    """What the first line of a file names as its schema; empty where it names none."""
    match = re.match(MODELINE, text)
    return match[1] if match else ""


@cache
def schema_text(kind: str) -> str:
    """The schema of a kind of file, as JSON text (draft-07). ``kind`` is one of ``KINDS``."""
    if kind not in KINDS:
        raise KeyError(kind)
    return (files("faulttree.load") / "schemas" / f"{kind}.schema.json").read_text(encoding="utf-8")
