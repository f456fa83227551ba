"""What tests of the command line share: folders, and what a command did."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "tests" / "sample"
LAMP = "lamp-does-not-light"


class Ran(NamedTuple):
    """What a command did: its exit code and what it wrote."""

    code: int
    out: str
    err: str


Run = Callable[..., Ran]
MakeLibrary = Callable[..., Path]
