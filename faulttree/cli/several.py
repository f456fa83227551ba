"""A large library looked at by several processes; what is found is the same as by one, in the same order.

Each process reads the shared files and its part of the trees, and tells which names it met. Once all are known,
each runs the rules on its own trees; the few others that its trees lead to it reads by itself. Where anything is not
as usual (no such processes on this system, shared files with errors, an id that two trees have, a process that
ends early) nothing is told, and the caller looks at the library in one process.
"""

from __future__ import annotations

import os
import pickle
import signal
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from faulttree.checking import Names, examine
from faulttree.cli.checked import Found, joined, made, unjudged_in
from faulttree.cli.targets import named_trees
from faulttree.library import LoadedLibrary, load_files
from faulttree.library_files import shown, tree_paths
from faulttree.model import Tree
from faulttree.problems import Problem
from faulttree.value import Value, replace

FEWEST_TREES = 24
"""From so many trees on a second process takes less time than it costs to begin."""

FEWEST_EACH = 12
_LENGTH_BYTES = 8


def look_in_parts(folder: Path, processes: int) -> Found | None:
    """What is found in a whole library, or None where one process should look. ``processes`` 0: as many as pay."""
    if not hasattr(os, "fork"):
        return None
    paths, problems = tree_paths(folder)
    count = min(processes or _processors(), max(1, len(paths) // FEWEST_EACH))
    if len(paths) < FEWEST_TREES or count < 2:
        return None
    parts = [paths[at::count] for at in range(count)]
    names = frozenset(path.stem for path in paths)
    workers = [Worker(folder, part, names) for part in parts[1:]]
    try:
        return _together(Part(folder, parts[0], names), workers, paths, problems)
    except (EOFError, OSError, pickle.PickleError):
        return None
    finally:
        for worker in workers:
            worker.end()


def _processors() -> int:
    """The processors that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else (os.cpu_count() or 1)


def _together(own: Part, workers: Sequence[Worker], paths: Sequence[Path], problems: list[Problem]) -> Found | None:
    """Do one part here while the others are done elsewhere, in two steps."""
    met = [own.read(), *(worker.receive() for worker in workers)]
    known = _joined_names(met, own.names)
    for worker in workers:
        worker.send(known)
    if known is None:
        return None
    found = joined([own.judge(known), *(worker.receive() for worker in workers)])
    order = {shown(path): at for at, path in enumerate(paths)}
    trees = sorted(found.trees, key=lambda name: order.get(name, len(order)))
    every = made((*found.problems, *problems), found.let_stand, trees, found.shared, found.texts)
    unjudged = tuple(name for name in trees if name in found.unjudged)
    unproved = {name: found.unproved[name] for name in trees if name in found.unproved}
    return replace(every, unjudged=unjudged, unproved=unproved)


class Met(Value):
    """The trees of a part: id to short name and file; None where its shared files have errors."""

    trees: Mapping[str, tuple[str, Path]] | None
    read: int
    """How many trees were read, those with an id of another among them."""


class Known(Value):
    """The trees of all parts: what rules ask for by name, and the file of each id."""

    names: Names
    files: Mapping[str, Path]


def _joined_names(parts: Sequence[Met], names: frozenset[str]) -> Known | None:
    """The names of all parts; None where something is not as usual."""
    trees: dict[str, tuple[str, Path]] = {}
    for part in parts:
        if part.trees is None or part.read != len(part.trees) or not trees.keys().isdisjoint(part.trees):
            return None
        trees |= part.trees
    by_short: dict[str, list[str]] = {}
    # In the order of the files, as one process meets them.
    for id, (short, _) in sorted(trees.items(), key=lambda each: each[1][1]):
        by_short.setdefault(short, []).append(id)
    return Known(Names(names | trees.keys(), by_short), {id: path for id, (_, path) in trees.items()})


class Part:
    """A part of a library's trees, read and then judged."""

    def __init__(self, folder: Path, paths: Sequence[Path], names: frozenset[str]) -> None:
        self.folder = folder
        self.paths = paths
        self.names = names
        self.loaded: LoadedLibrary | None = None

    def read(self) -> Met:
        """Read the trees; which names were met."""
        loaded = self.loaded = load_files(self.folder, self.paths, self.names)
        if loaded.library is None:
            return Met(None, 0)
        trees = {id: (tree.short, loaded.files[loaded.tree_files[id]].path) for id, tree in loaded.trees.items()}
        taken = sum(problem.rule == "id-taken" for problem in loaded.problems)
        return Met(trees, len(trees) + taken)

    def judge(self, known: Known) -> Found:
        """Run the rules on the trees of this part."""
        loaded = self.loaded
        assert loaded is not None
        own = list(loaded.trees)
        together = replace(loaded, trees={**loaded.trees, **self._led_to(loaded, known.files)})
        settled = examine(together, only=own, names=known.names)
        paths = set(self.paths)
        trees = [name for name, file in loaded.files.items() if file.path in paths]
        shared = [name for name in loaded.files if name not in trees]
        texts = {name: file.text for name, file in loaded.files.items()}
        found = made(settled.problems, settled.let_stand, trees, shared, texts)
        return replace(found, unjudged=unjudged_in(loaded, trees), unproved=settled.unproved)

    def _led_to(self, loaded: LoadedLibrary, files: Mapping[str, Path]) -> dict[str, Tree]:
        """The trees of other parts that the trees of this part lead to, and those that these lead to, and so on."""
        found: dict[str, Tree] = {}
        waiting = list(loaded.trees.values())
        while waiting:
            for id in named_trees(waiting.pop()):
                if id in files and id not in found and id not in loaded.trees:
                    others = load_files(self.folder, [files[id]], self.names).trees
                    found |= others
                    waiting += others.values()
        return found


class Worker:
    """Another process that does a part; made by copying this one, so that nothing is loaded again."""

    def __init__(self, folder: Path, paths: Sequence[Path], names: frozenset[str]) -> None:
        there, self.write = os.pipe()
        self.reading, back = os.pipe()
        self.pid = os.fork()
        if self.pid == 0:
            os.close(self.write)
            os.close(self.reading)
            _work(Part(folder, paths, names), there, back)
        os.close(there)
        os.close(back)

    def receive(self) -> Any:
        """The next thing that it tells; raises EOFError where it has ended."""
        return _receive(self.reading)

    def send(self, what: object) -> None:
        """Tell it something."""
        _send(self.write, what)

    def end(self) -> None:
        """Let it end, at once where it has not."""
        os.close(self.write)
        os.close(self.reading)
        with suppress(ProcessLookupError):
            os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)


def _work(part: Part, there: int, back: int) -> None:
    """What the other process does; it never returns and writes nothing to the streams."""
    try:
        _send(back, part.read())
        known = _receive(there)
        if known is not None:
            _send(back, part.judge(known))
    finally:
        # Whatever went wrong: the process that asked meets the end of the pipe, looks by itself, and tells of it.
        os._exit(0)


def _send(pipe: int, what: object) -> None:
    data = pickle.dumps(what, pickle.HIGHEST_PROTOCOL)
    data = len(data).to_bytes(_LENGTH_BYTES) + data
    while data:
        data = data[os.write(pipe, data) :]


def _receive(pipe: int) -> Any:
    return pickle.loads(_read(pipe, int.from_bytes(_read(pipe, _LENGTH_BYTES))))


def _read(pipe: int, length: int) -> bytes:
    parts = []
    while length:
        part = os.read(pipe, length)
        if not part:
            raise EOFError
        parts.append(part)
        length -= len(part)
    return b"".join(parts)
