"""Names of walks, and where they are kept by default.

A walk's id is short enough to be said: the tree's three letters, month and day where the clock stands, and two
characters by chance from letters and figures that do not look alike, as in ``REL-1125-K7``. Practice walks have
``PRACTICE-`` before it. An id is unique in its folder; over all folders and years the UUID tells walks apart.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Callable, Iterator
from pathlib import Path

import platformdirs

Random = Callable[[int], bytes]
"""Gives that many bytes by chance, as os.urandom does."""

ALPHABET = "ACDEFGHJKLMNPQRTWXY34679"
"""Without B 8, I 1, O 0, S 5, U V and Z 2: on a screen, on paper and by hand they are taken for one another."""

TRIES = 16
"""Ids tried at one length before the next is a character longer."""

EPOCH = datetime.datetime(1970, 1, 1, tzinfo=datetime.UTC)


def default_folder(practice: bool = False) -> Path:
    """The folder of walks in the user's data folder; that of practice walks stands beside it."""
    data = platformdirs.user_data_path("faulttree", appauthor=False)
    return data / ("practice" if practice else "walks")


def walk_ids(short: str, now: datetime.datetime, practice: bool, random: Random) -> Iterator[str]:
    """Ids to try in turn until one is free."""
    begin = f"{'PRACTICE-' if practice else ''}{short}-{now:%m%d}-"
    for attempt in range(4 * TRIES):
        chance = random(2 + attempt // TRIES)
        yield begin + "".join(ALPHABET[byte % len(ALPHABET)] for byte in chance)


def uuid7(now: datetime.datetime, random: Random) -> uuid.UUID:
    """A UUID of version 7 (RFC 9562, section 5.7): 48 bits of Unix milliseconds, then 74 bits by chance."""
    milliseconds = (now - EPOCH) // datetime.timedelta(milliseconds=1)
    chance = int.from_bytes(random(10), "big")
    first, rest = (chance >> 64) & 0xFFF, chance & ((1 << 62) - 1)
    return uuid.UUID(int=(milliseconds << 80) | (0x7 << 76) | (first << 64) | (0b10 << 62) | rest)
