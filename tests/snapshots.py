"""Pages of the ramp screen as text at three sizes: ``python -m tests.snapshots`` writes them all anew.

They are the pages of the pictures, and are compared letter by letter, so that no change of a page goes unseen.
"""

from __future__ import annotations

import asyncio
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parent.parent
sys.path += [str(ROOT / "tests"), str(ROOT / "tests" / "tui")]

from pictures import PICTURES, Picture, no_silence  # noqa: E402
from tui_runs import PHONE, REL, USUAL, WIDE, running  # noqa: E402

FOLDER = ROOT / "tests" / "tui" / "snapshots"
SIZES = (PHONE, USUAL, WIDE)
NAMES = tuple(name for name in PICTURES if name not in ("phone", "check-by-day"))
"""The pages, each once: these two are others in another size and look."""


def file_of(name: str, size: tuple[int, int]) -> Path:
    """Where the snapshot of a page in a size is kept."""
    return FOLDER / f"{name}-{size[0]}x{size[1]}.txt"


def shown(name: str, size: tuple[int, int]) -> str:
    """The page of that name on a terminal of that size, as text."""
    with tempfile.TemporaryDirectory() as folder, no_silence():
        return asyncio.run(_shown(PICTURES[name], size, Path(folder)))


async def _shown(picture: Picture, size: tuple[int, int], walks: Path) -> str:
    tree = REL if picture.role else ""
    async with running(walks, tree, picture.role, size=size, practice=not picture.role) as ramp:
        await picture.played(ramp)
        return f"{ramp.text}\n"


def main() -> None:
    """Write all snapshots anew; those that are no more are removed."""
    FOLDER.mkdir(exist_ok=True)
    wanted = {file_of(name, size): (name, size) for name in NAMES for size in SIZES}
    for path in set(FOLDER.glob("*.txt")) - set(wanted):
        path.unlink()
    for path, page in wanted.items():
        path.write_text(shown(*page), encoding="utf-8")


if __name__ == "__main__":
    main()
