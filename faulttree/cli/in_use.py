"""The library in use, by option, environment and current folder."""

from __future__ import annotations

import os
from argparse import Namespace
from pathlib import Path

from faulttree.library import find_library


def here() -> Path:
    """The current folder; where it was deleted, its name is all that is left."""
    try:
        return Path.cwd()
    except OSError:
        return Path(os.environ.get("PWD") or ".")


def library_in_use(args: Namespace) -> Path:
    """The folder of the library in use; raises `UnreadableError` where what was named is none."""
    return find_library(args.library, os.environ, here())
