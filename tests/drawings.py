"""The drawings of docs/drawings, made by the command itself: ``python -m tests.drawings`` makes them all anew.

They need the program dot of graphviz, and its versions place boxes a little differently; so tests compare what a
drawing says, and not where.
"""

from __future__ import annotations

from pathlib import Path
from shutil import which

from faulttree.cli.main import main as faulttree
from faulttree.library import shipped_library

ROOT = Path(__file__).parent.parent
FOLDER = ROOT / "docs" / "drawings"
TREE, MODEL, ROLES = "wheel-thumps", "Alder", ("crew", "mechanic")


def main() -> None:
    """Draw them all; those that are no more are removed."""
    if not which("dot"):
        raise SystemExit("the program dot is not here: install graphviz")
    FOLDER.mkdir(exist_ok=True)
    for path in FOLDER.glob("*"):
        path.unlink()
    for role in ROLES:
        words = ["draw", TREE, "--model", MODEL, "--as", role, "--format", "svg", "-o", str(FOLDER)]
        faulttree([*words, "--library", str(shipped_library())])


if __name__ == "__main__":
    main()
