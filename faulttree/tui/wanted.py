"""What the person asked for when the program on the whole terminal was started."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from faulttree.sessions import Ready


class Wanted(NamedTuple):
    """A library and where walks are kept; and, where it was said already, what is walked, as whom and on what."""

    library: Path
    walks: Path
    tree: str = ""
    role: str = ""
    model: str = ""
    practice: bool = False
    aircraft: str = ""
    item: str = ""
    base: str = ""
    resume: str = ""
    code: str = ""
    """A read-back code as it was said."""
    cwd: Path | None = None
    what: Ready | None = None
    """The tree that is walked first, where it was looked through already."""
