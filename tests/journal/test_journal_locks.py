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
        with pytest.raises(JournalError, match="another process has this walk open"):
            open_journal(small[0])
        assert read_journal(small[0]).entries == journal.recorded.entries
    open_journal(small[0]).close()


@POSIX
def test_another_process_keeps_the_journal_until_it_dies(small: tuple[Path, Walk]) -> None:
    holder = child("hold", small[0])
    assert holder.stdout
    try:
        assert holder.stdout.readline() == f"{small[0].stem}\n"
        with pytest.raises(JournalError, match="another process has this walk open"):
            open_journal(small[0])
    finally:
        holder.kill()
        holder.communicate()
    open_journal(small[0]).close()


@POSIX
def test_every_acknowledged_move_survives_a_kill_at_100_random_moments(tmp_path: Path, loaded: Loaded) -> None:
    chance = random.Random(20261125)
    server = child("kill", tmp_path)
    assert server.stdin
    assert server.stdout
    assert server.stdout.readline() == "ready\n"
    printed = unacknowledged = 0
    try:
        for seed in range(1, 101):
            server.stdin.write(f"{seed}\n")
            server.stdin.flush()
            acknowledged = killed(server, chance.uniform(0, 0.06))
            kept = survived(tmp_path / str(seed), loaded)
            assert {name: min(kept[name], number) for name, number in acknowledged.items()} == acknowledged
            more = sum(kept.values()) - sum(acknowledged.values())
            assert more in (0, 1), (kept, acknowledged)
            printed += sum(acknowledged.values())
            unacknowledged += more
    finally:
        server.stdin.close()
        server.kill()
        server.wait()
        server.stdout.close()
    assert printed > 500
    assert unacknowledged < 100


def killed(server: subprocess.Popen[str], seconds: float) -> dict[str, int]:
    """Kill the walking process after that time: the last move of each journal that it had printed by then."""
    assert server.stdout
    printed: list[list[str]] = []
    lines = iter(server.stdout.readline, "")
    for line in lines:
        if line.startswith("pid "):
            time.sleep(seconds)
            os.kill(int(line.split()[1]), signal.SIGKILL)
        elif line.startswith("gone "):
            assert line == f"gone {-signal.SIGKILL}\n"
            break
        else:
            printed.append(line.split())
    return {name: int(number) for name, number in printed}


def survived(folder: Path, loaded: Loaded) -> dict[str, int]:
    """Open and replay every journal: the number of moves in each."""
    found = {}
    for each in summaries(folder, include_ended=True):
        assert not each.problem, each
        with open_journal(each.path) as journal:
            walk = replay(journal.recorded, lambda folder, name: loaded)
            found[each.path.name] = len(walk.log)
    return found
