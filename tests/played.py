"""The walks that docs/for-crew.md and docs/for-mechanics.md tell of, played key by key, with all that was shown.

The terminal is high enough that nothing is left out of a page, so that whatever the documents quote must be found.
"""

from __future__ import annotations

import asyncio
import shlex
import tempfile
from pathlib import Path
from typing import Any, NamedTuple

from pictures import REL, USUAL, Ramp, no_silence, running
from tui_runs import WHEEL, letters

from faulttree.tui.screens.paged import label

HIGH = (80, 60)

CREW = "1 enter a 3 enter a"
NO_BITE = "2 enter a 3 enter a 1 enter 1 enter 4 enter 2 enter"
"""As a mechanic to the work on the cable, and past the last look."""
OVER = "1"
"""The wait is over by the person's word, not by the clock."""
PROVED = "i =AB enter a 1"
"""Inspected, the people are here, the warning is read, the operational check has passed."""

PLAYED: dict[str, list[tuple[dict[str, Any], str]]] = {
    "training": [
        (
            {"size": USUAL},
            "2 1 enter a a f escape 3 enter a n '=handle felt stiff' 1 enter u 3 w enter h k enter enter 0",
        )
    ],
    "the patient cannot wait": [({}, "2 1 enter a f escape f enter 1 1 h enter")],
    "taken over": [
        ({"tree": REL, "role": "crew"}, f"{CREW} 2 enter 1 enter 1 2 h k enter enter"),
        ({}, f"0 1 2 2 2 1 enter a m '=0.35 in' enter enter a {'enter ' * 8} {PROVED} e enter"),
    ],
    "interrupted": [
        ({"tree": REL, "role": "mechanic"}, f"{NO_BITE} enter a enter enter enter s"),
        ({}, f"0 1 2 2 1 1 1 enter a e enter {'enter ' * 10} {PROVED}"),
    ],
    "a wrong answer": [
        (
            {"tree": REL, "role": "mechanic"},
            "2 enter a 3 enter a 2 enter 1 enter 1 enter m '=4.5 mm' l 3 enter 2 enter enter a "
            f"{'enter ' * 12} enter {OVER} {PROVED}",
        )
    ],
    "no part": [({"tree": REL, "role": "mechanic"}, f"{NO_BITE} enter a c 1 enter enter")],
    "no part, said before the work": [({"tree": REL, "role": "mechanic"}, f"{NO_BITE} c 1 enter")],
    "deferred": [
        (
            {"tree": WHEEL, "role": "mechanic"},
            "6 enter a 2 enter a m '=0.75 mm' enter 1 enter 1 enter enter enter enter",
        )
    ],
}
"""Each walk as what the program was started with and the keys, ``=`` before a text that was typed; several where the
program was left in between."""


class Seen(NamedTuple):
    """All pages without blanks, and all keys that were offered."""

    pages: list[str]
    keys: set[str]


def played(name: str) -> Seen:
    """Play the walk of that name. Every key has to change what is shown."""
    seen = Seen([], set())
    with tempfile.TemporaryDirectory() as folder, no_silence():
        for wanted, keys in PLAYED[name]:
            asyncio.run(_played(Path(folder), wanted, shlex.split(keys), seen))
    return seen


async def _played(walks: Path, wanted: dict[str, Any], keys: list[str], seen: Seen) -> None:
    async with running(walks, **{"size": HIGH, **wanted}) as ramp:
        before = _look(ramp, seen)
        for key in keys:
            await (ramp.enter(key[1:]) if key.startswith("=") else ramp.press(key))
            if ramp.is_left:
                break
            after = _look(ramp, seen)
            assert after != before, f"{key} does nothing in {keys}"
            before = after
    seen.pages.append(letters("".join(ramp.app.last_words)))


def _look(ramp: Ramp, seen: Seen) -> str:
    seen.keys.update(label(each.key) for each in ramp.screen.keys())  # noqa: SIM118
    seen.pages.append(letters("".join(ramp.strips)))
    return seen.pages[-1]
