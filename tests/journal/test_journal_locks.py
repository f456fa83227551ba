"""One process at a time writes a journal, and what it acknowledged survives its end."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import time
from pathlib import Path

import pytest
from journal_walks import (
    POSIX,
    Loaded,
    child,
)

from faulttree.journal import (
    open_journal,
    read_journal,
    replay,
    summaries,
)
from faulttree.problems import JournalError
from faulttree.walk import Walk


def test_a_journal_is_open_once(small: tuple[Path, Walk]) -> None:
    with open_journal(small[0]) as journal:
        with pytest.raises(JournalError, match="this walk is open on another screen"):
            open_journal(small[0])
        assert read_journal(small[0]).entries == journal.recorded.entries
    open_journal(small[0]).close()


@POSIX
def test_another_process_keeps_the_journal_until_it_dies(small: tuple[Path, Walk]) -> None:
    holder = child("hold", small[0])
    assert holder.stdout
    try:
        assert holder.stdout.readline() == f"{small[0].stem}\n"
        with pytest.raises(JournalError, match="this walk is open on another screen"):
            open_journal(small[0])
    finally:
        holder.kill()
        holder.communicate()
    open_journal(small[0]).close()


@pytest.mark.long
@POSIX
def test_every_acknowledged_move_survives_a_kill_at_100_random_moments(tmp_path: Path, loaded: Loaded) -> None:
    chance = random.Random(20261125)
    server = child("kill", tmp_path)
    assert server.stdin
    assert server.stdout
    assert server.stdout.readline() == "ready\n"
    moves = 0
    try:
        for seed in range(100):
            folder = tmp_path / f"walks{seed // 10}"
            known = {path.name for path in folder.glob("*.jsonl")}
            server.stdin.write(f"{seed}\n")
            server.stdin.flush()
            # Now and then before the first move: while the copy is kept and the journal is begun.
            acknowledged = killed(server, chance.randrange(20), chance.uniform(0, 0.005))
            kept = survived(folder, known, loaded)
            assert {name: min(kept[name], number) for name, number in acknowledged.items()} == acknowledged
            assert sum(kept.values()) - sum(acknowledged.values()) in (0, 1), (kept, acknowledged)
            moves += sum(acknowledged.values())
    finally:
        server.stdin.close()
        server.kill()
        server.wait()
        server.stdout.close()
    assert moves > 800


def killed(server: subprocess.Popen[str], moves: int, seconds: float) -> dict[str, int]:
    """Kill the walking process that long after so many moves: the last move of each journal that it had printed."""
    assert server.stdout
    printed: list[tuple[str, int]] = []
    process = 0
    for line in iter(server.stdout.readline, ""):
        word, number = line.split()
        if word == "gone":
            assert int(number) == -signal.SIGKILL
            break
        if word == "pid":
            process = int(number)
        else:
            printed.append((word, int(number)))
        if process > 0 and len(printed) >= moves:
            time.sleep(seconds)
            os.kill(process, signal.SIGKILL)
            process = -1
    return dict(printed)


def survived(folder: Path, known: set[str], loaded: Loaded) -> dict[str, int]:
    """Open and replay every journal that is not ``known``: the number of moves in each."""
    found = {}
    for each in summaries(folder, include_ended=True):
        assert not each.problem, each
        if each.path.name not in known:
            with open_journal(each.path) as journal:
                walk = replay(journal.recorded, lambda folder, name: loaded)
                found[each.path.name] = len(walk.log)
    return found
