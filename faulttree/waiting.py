"""What waits: walks to be gone on with, and walks that are over and have left something open.

Both first pages show it, so that nobody has to remember. What can hurt somebody, and what can be gone on with, is told
walk by walk; where only duties and disturbances of walks that are over remain, a line may count them. Where there is
room for few, it is for those that press most: see `waiting`.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from faulttree.closing import GIVEN_UP
from faulttree.journal import Summary, summaries
from faulttree.journal.copies import FOLDER
from faulttree.journal.lines import copy_digest
from faulttree.library_files import LIBRARY_FILE
from faulttree.value import EMPTY, Value
from faulttree.walk import GOING, HANDED_OVER


class Waiting(Value):
    """The walks that wait, each kind with those first that press most.

    ``pressing`` can be gone on with, or are over and have left a hazard open; ``over`` have left other things open.
    """

    pressing: tuple[Summary, ...] = ()
    over: tuple[Summary, ...] = ()

    @property
    def every(self) -> tuple[Summary, ...]:
        """All of them, those that press first."""
        return (*self.pressing, *self.over)


HAZARD, UNKNOWN, FOR_YOU, OTHERS = range(4)
"""What presses, the most first: a hazard is open; nobody can tell what is; it was handed over to you; all else."""


def waiting(folder: Path, role: str = "", ranks: Mapping[str, int] = EMPTY) -> Waiting:
    """What waits in a folder of walks. Raises JournalError where the folder cannot be read.

    First those with an open hazard, then those that cannot be read, then those that were handed over to ``role`` (to
    anybody, where it is empty), then all others; among these those of the more urgent trees, by ``ranks`` of the trees'
    urgencies; of equals the newest, as whoever was just called away comes back for it.
    """
    pressing: list[tuple[int, Summary]] = []
    others: list[Summary] = []
    kinds: dict[str, Mapping[str, str]] = {}
    for each in summaries(folder, include_ended=True):
        hazard = bool(left_open(each)) and _has_hazard(each, kinds)
        if hazard or not each.over:
            pressing.append((_presses(each, hazard, role), each))
        elif left_open(each):
            others.append(each)

    def rank(each: Summary) -> int:
        return ranks.get(each.header.tree, len(ranks)) if each.header else 0

    pressing.sort(key=lambda pair: (pair[0], rank(pair[1])))
    return Waiting(tuple(each for _, each in pressing), tuple(sorted(others, key=rank)))


def _presses(summary: Summary, hazard: bool, role: str) -> int:
    if summary.last is None:
        return UNKNOWN
    if hazard:
        return HAZARD
    is_for_you = summary.last.state == HANDED_OVER and (not role or summary.handed_to in ("", role))
    return FOR_YOU if is_for_you else OTHERS


def left_open(summary: Summary) -> tuple[str, ...]:
    """The items that are open."""
    return summary.last.open_items if summary.last else ()


def _has_hazard(summary: Summary, kinds: dict[str, Mapping[str, str]]) -> bool:
    """Whether a hazard is open. What cannot be told counts as one, so that it is not passed over."""
    digest = summary.files.get(LIBRARY_FILE, "")
    if digest not in kinds:
        # The library is the same for most walks, and is read once for all of them.
        place = summary.path.parent / FOLDER / copy_digest(summary.files) / LIBRARY_FILE
        kinds[digest] = _kinds_of_items(place, digest)
    return any(kinds[digest].get(name, "hazard") == "hazard" for name in left_open(summary))


def _kinds_of_items(file: Path, digest: str) -> dict[str, str]:
    """The kind of each open item of a library as it was kept; empty where the file is not what was kept."""
    from hashlib import sha256

    from faulttree.load.nodes import Scalar, Table
    from faulttree.load.parse import load

    try:
        data = file.read_bytes()
    except OSError:
        return {}
    root = load(data, LIBRARY_FILE).root if sha256(data).hexdigest() == digest else None
    items = root.entries.get("open_items") if isinstance(root, Table) else None
    if items is None or not isinstance(items.value, Table):
        return {}
    found = {}
    for name, item in items.value.entries.items():
        kind = item.value.entries.get("kind") if isinstance(item.value, Table) else None
        if kind is not None and isinstance(kind.value, Scalar):
            found[name] = kind.value.value
    return found


def waiting_words(summary: Summary) -> str:
    """A walk that waits in one line: id, symptom, state, time, what it is about, what is open."""
    if summary.header is None or summary.last is None:
        return f"{summary.id}: cannot be used: {summary.problem}"
    header, last = summary.header, summary.last
    left = f" OPEN: {', '.join(name.replace('-', ' ') for name in left_open(summary))}." if last.open_items else ""
    about = " ".join(text for text in (header.facts.aircraft, header.facts.item) if text)
    at = last.at[:16].replace("T", " ")
    return f"{header.walk}: {header.symptom}, {state_words(summary)}, {at} UTC.{f' {about}.' if about else ''}{left}"


def state_of(summary: Summary) -> str:
    """How a walk stands, in the one word that lists for programs have; empty where it cannot be told."""
    if summary.ended:
        return "ended"
    if summary.given_up:
        return GIVEN_UP
    return summary.last.state if summary.last else ""


def state_words(summary: Summary) -> str:
    """How a walk stands, in a few words; handed over to whom, where that was said."""
    state = state_of(summary)
    if state == HANDED_OVER and summary.handed_to:
        return f"{HANDED_OVER} to: {summary.handed_to}"
    return "unfinished" if state in (GOING, "") else state


def over_words(count: int) -> str:
    """So many walks that are over and have left something open."""
    return f"{count} ended walk{'' if count == 1 else 's'} with something open"
