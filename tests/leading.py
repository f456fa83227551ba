"""The sample with a second tree that the first leads on to: after a new cell, and where a film is on the contacts."""

from __future__ import annotations

import shutil
from pathlib import Path

from shipped import SAMPLE

FIRST, OTHER = "lamp-does-not-light", "lamp-flickers"
OTHER_SYMPTOM = "The lamp flickers"

_END = f"""\
  see-flicker:
    end: see another tree
    tree: {OTHER}
    for: {{contacts-dirty: [contacts-dirty]}}

  out-of-use:
"""


def leading_library(folder: Path) -> Path:
    """Write it into ``folder``, which is not there yet."""
    shutil.copytree(SAMPLE, folder)
    written = (SAMPLE / f"{FIRST}.yaml").read_text(encoding="utf-8")
    other = written.replace(f"id: {FIRST} ", f"id: {OTHER} ").replace("short: LMP", "short: FLK")
    other = other.replace("symptom: The lamp does not light", f"symptom: {OTHER_SYMPTOM}")
    (folder / f"{OTHER}.yaml").write_text(other, encoding="utf-8")
    first = written.replace(
        "    did: New cell fitted.\n", f"    did: New cell fitted.\n    then: {{tree: {OTHER}}}\n", 1
    )
    first = first.replace("      Film: wipe-contacts\n", "      Film: see-flicker\n", 1).replace(
        "  out-of-use:\n", _END, 1
    )
    (folder / f"{FIRST}.yaml").write_text(first, encoding="utf-8")
    return folder
