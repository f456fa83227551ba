"""``python -m tests.mutation [DIR] [--all]``: break each tree of a library and print who noticed.

Exits 1 where a break was noticed by nobody, or not as weaker though it weakens, where too few breaks apply to a tree,
or one applies to no tree.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from faulttree.library import load_library, shipped_library

from .breaks import BREAKS
from .documents import Subject
from .running import Row, rows_of

FEWEST = 25
"""So many breaks at least must apply to each tree."""


def main() -> int:
    """Break, print, count."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", allow_abbrev=False)
    parser.add_argument("library", nargs="?", type=Path, help="a folder; default: the shipped library")
    parser.add_argument("--all", action="store_true", help="at every place, not only at two")
    args = parser.parse_args()
    loaded = load_library(args.library or shipped_library())
    wrong = 0
    applied: set[str] = set()
    for id in loaded.trees:
        rows = list(rows_of(Subject(loaded, id), None if args.all else 2))
        applied |= {row.broken.name for row in rows if row.outcomes}
        wrong += _printed(id, rows)
    nowhere = [each.name for each in BREAKS if each.name not in applied]
    print(f"\n{len(BREAKS)} breaks; {len(nowhere)} apply to no tree{': ' * bool(nowhere)}{', '.join(nowhere)}")
    return 1 if wrong or nowhere else 0


def _printed(id: str, rows: list[Row]) -> int:
    applied = [row for row in rows if row.outcomes]
    print(f"\n{id}: {len(applied)} of {len(rows)} breaks apply")
    print(f"  {'broken':<58} {'places':>6}  noticed by")
    missed = 0
    for row in rows:
        by = list(dict.fromkeys(name for each in row.outcomes for name in each.by))
        said = ", ".join(by) if row.outcomes else "not applicable"
        print(f"  {row.broken.name:<58} {len(row.outcomes):>6}  {said}")
        for each in row.outcomes:
            if not each.caught:
                missed += 1
                print(f"      NOTICED BY NOBODY: {each.place}")
            elif row.broken.weakens and each.weight not in ("weaker", None):
                missed += 1
                print(f"      NOT TOLD AS WEAKER, only {', '.join(each.by)}: {each.place}")
    if len(applied) < FEWEST:
        print(f"  TOO FEW: {len(applied)} apply, {FEWEST} are needed")
    return missed + (len(applied) < FEWEST)


if __name__ == "__main__":
    sys.exit(main())
