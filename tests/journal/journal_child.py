"""Walks in another process, for the tests of the journal.

``kill FOLDER`` forks a process for each line ``SEED`` of its input; that one walks by chance and prints each move once
the journal has acknowledged it. ``hold JOURNAL`` opens a journal and waits. ``full FOLDER BYTES`` lets no file grow
beyond that size. ``tmpfs FOLDER`` mounts a small disk there, fills it, and makes it read-only.
"""

from __future__ import annotations

import datetime
import os
import random
import subprocess
import sys
from pathlib import Path

from journal_walks import NOON, TREE, begun, load, random_move, written

from faulttree.journal import Journal, open_journal, read_journal, replay
from faulttree.keys import Kind, Move
from faulttree.model import Library, Tree
from faulttree.problems import JournalError
from faulttree.walk import Walk, apply


def _walk_and_print(folder: Path, tree: Tree, library: Library, seed: int) -> None:
    """Walk by chance until killed; every line that is printed stands for a move that was acknowledged before."""
    chance = random.Random(seed)
    while True:
        move = Move(Kind.BEGIN, model=chance.choice(["Finch", "Wren"]), role=chance.choice(["", "mechanic"]))
        journal, walk = begun(folder, tree, library, move, seed=chance.randrange(1 << 30))
        os.write(1, f"{journal.path.name} 1\n".encode())
        for _ in range(chance.randrange(1, 30)):
            after = apply(walk, random_move(walk, chance))
            journal.append(after, NOON + datetime.timedelta(seconds=len(after.log)))
            walk = after
            os.write(1, f"{journal.path.name} {len(walk.log)}\n".encode())
        journal.close()


def serve(folder: Path) -> None:
    """For each seed on the input: fork a process that walks, ten of them in one folder, and wait for its end."""
    tree, library = load(written(folder / "library"), TREE)
    os.write(1, b"ready\n")
    while line := os.read(0, 100):
        child = os.fork()
        if child == 0:
            _walk_and_print(folder / f"walks{int(line) // 10}", tree, library, int(line))
        os.write(1, f"pid {child}\n".encode())
        _, status = os.waitpid(child, 0)
        os.write(1, f"gone {os.waitstatus_to_exitcode(status)}\n".encode())


def hold(path: Path) -> None:
    """Keep a journal open."""
    with open_journal(path) as journal:
        print(journal.id, flush=True)
        sys.stdin.read()


def until_refused(journal: Journal, walk: Walk) -> tuple[Walk, Walk, JournalError]:
    """Append notes until one is not recorded: the walk that was, the one that was not, and why."""
    for number in range(10_000):
        after = apply(walk, Move(Kind.NOTE, text=f"{number} " + "long " * 40))
        try:
            journal.append(after, NOON)
        except JournalError as error:
            return walk, after, error
        walk = after
    raise AssertionError("nothing was refused")


def full(folder: Path, size: int) -> None:
    """Write until the system lets the file grow no further; print what was said, then save elsewhere and go on."""
    import resource
    import signal

    tree, library = load(written(folder / "library"), TREE)
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    journal, walk = begun(folder / "walks", tree, library)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))
    walk, after, error = until_refused(journal, walk)
    print(f"{error.what}; {error.advice}")
    assert replay(read_journal(journal.path), load) == walk
    resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    journal.append(after, NOON)
    assert replay(read_journal(journal.path), load) == after
    print("went on")


def tmpfs(folder: Path) -> None:
    """A disk of 64 kB: full, saved elsewhere, read-only; print what was said each time."""
    disk = folder / "disk"
    disk.mkdir()
    subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", disk], check=True)
    tree, library = load(written(folder / "library"), TREE)
    journal, walk = begun(disk / "walks", tree, library)
    walk, after, error = until_refused(journal, walk)
    print(f"{error.what}; {error.advice}")
    assert replay(read_journal(journal.path), load) == walk
    with open_journal(journal.save_copy(folder / "stick")) as saved:
        saved.append(after, NOON)
        assert replay(saved.recorded, load) == after
    journal.close()
    subprocess.run(["mount", "-o", "remount,ro", disk], check=True)
    for attempt in (lambda: begun(disk / "walks", tree, library, seed=2), lambda: open_journal(journal.path)):
        try:
            attempt()
        except JournalError as error:
            print(f"{error.what}; {error.advice}")


if __name__ == "__main__":
    command, place, *rest = sys.argv[1:]
    if command == "kill":
        serve(Path(place))
    elif command == "hold":
        hold(Path(place))
    elif command == "full":
        full(Path(place), int(rest[0]))
    elif command == "tmpfs":
        tmpfs(Path(place))
