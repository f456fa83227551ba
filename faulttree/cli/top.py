"""Files named from the top of the git repository, as services that show problems at a change look them up.

Where there is no repository, the current folder is the top. Nothing of git is run.
"""

from __future__ import annotations

import os
from functools import lru_cache
from pathlib import Path

from faulttree.cli.in_use import here


def from_top(file: str) -> str:
    """The name of a file from the top; one that is not below it is named as it was, from the current folder."""
    top = _top(here())
    # Links are not followed: they may lead round in a circle.
    path = Path(os.path.normpath(here() / file))
    return path.relative_to(top).as_posix() if top in path.parents else file


@lru_cache(maxsize=1)
def _top(folder: Path) -> Path:
    return next((each for each in (folder, *folder.parents) if os.path.lexists(each / ".git")), folder)
