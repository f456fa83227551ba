"""How long the ramp screen takes: to its first page, against a minimal program of the same library, and from a key to
the updated page. Both run in a pseudo-terminal of 80 by 24, taking turns."""

from __future__ import annotations

import argparse
import os
import select
import signal
import statistics
import sys
import tempfile
import time
from collections.abc import Sequence

MARKER = b"What is wrong?"
MINIMAL = f"""
from textual.app import App
from textual.widgets import Static
class Minimal(App):
    def compose(self):
        yield Static("{MARKER.decode()}")
Minimal().run()
"""
KEYS = ("1", "3", "\r", "a", "a", "3", "\r", "a", "2", "e", "\r", "l", "b", "w", "\r", "o", "1", "b", "k", "\r")
"""Through the first two checks of the first shipped tree, with pages beside the walk."""

BETWEEN = 0.8
"""Seconds between keys: the same key counts again only after 0.7."""

QUIET = 0.15
"""Seconds without output after which a page counts as drawn."""


def main(words: Sequence[str]) -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench screen", allow_abbrev=False)
    parser.add_argument("--runs", type=int, default=15, help="starts of each program; default: 15")
    runs = parser.parse_args(words).runs
    with tempfile.TemporaryDirectory() as folder:
        environ = {"TERM": "xterm-256color", "XDG_DATA_HOME": folder, "PYTHONPYCACHEPREFIX": f"{folder}/compiled"}
        times: dict[str, list[float]] = {"minimal": [], "faulttree": []}
        commands = {"minimal": ["-c", MINIMAL], "faulttree": ["-m", "faulttree"]}
        for at in range(runs + 2):
            for name, command in commands.items():
                taken = first_page([sys.executable, *command], environ)
                times[name] += [taken] if at > 1 else []
        minimal, ours = (statistics.median(times[name]) for name in ("minimal", "faulttree"))
        print(f"first page of a minimal program    {minimal * 1000:>7.0f} ms (median of {runs})")
        print(f"first page of faulttree            {ours * 1000:>7.0f} ms   {ours / minimal:.2f} x")
        keys = key_to_page([sys.executable, "-m", "faulttree"], environ)
    print(f"key to page, {len(keys)} keys               {statistics.median(keys) * 1000:>7.1f} ms median")
    print(f"                                   {max(keys) * 1000:>7.1f} ms longest")


class Terminal:
    """A program in a pseudo-terminal."""

    def __init__(self, command: Sequence[str], environ: dict[str, str]) -> None:
        import fcntl
        import pty
        import struct
        import termios

        self.pid, self.file = pty.fork()
        if self.pid == 0:
            os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
            os.environ.update(environ)
            os.execv(command[0], list(command))
        fcntl.ioctl(self.file, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))

    def until(self, marker: bytes, most: float = 20.0) -> float:
        """Read until ``marker`` came; the seconds that it took."""
        begin, seen = time.perf_counter(), b""
        while marker not in seen:
            if not select.select([self.file], [], [], most)[0]:
                raise SystemExit(f"{marker!r} did not come")
            seen += os.read(self.file, 1 << 16)
        return time.perf_counter() - begin

    def until_quiet(self) -> float:
        """Read until nothing comes any more; the seconds to the last byte."""
        begin = last = time.perf_counter()
        while select.select([self.file], [], [], QUIET)[0]:
            os.read(self.file, 1 << 16)
            last = time.perf_counter()
        return last - begin

    def end(self) -> None:
        """Kill it."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.file)


def first_page(command: Sequence[str], environ: dict[str, str]) -> float:
    """Seconds from the start to the first page."""
    terminal = Terminal(command, environ)
    taken = terminal.until(MARKER)
    terminal.end()
    return taken


def key_to_page(command: Sequence[str], environ: dict[str, str]) -> list[float]:
    """Seconds from each key to the last byte of the page that it leads to."""
    terminal = Terminal(command, environ)
    terminal.until(MARKER)
    terminal.until_quiet()
    time.sleep(1)
    taken = []
    for key in KEYS:
        os.write(terminal.file, key.encode())
        taken.append(terminal.until_quiet())
        time.sleep(BETWEEN - QUIET)
    terminal.end()
    return taken
