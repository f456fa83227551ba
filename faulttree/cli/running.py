"""A program that is begun before its input is there: while it starts, the input is made."""

from __future__ import annotations

import subprocess
from collections.abc import Sequence

from faulttree.problems import UnreadableError

SECONDS = 60
INSTALL = (
    "install graphviz (apt-get install graphviz; brew install graphviz; winget install graphviz), "
    "or for svg and png: pip install 'faulttree[draw]'; --format dot and --format list need neither"
)


class Running:
    """A program that waits for its input. It is given it by `finish`, or ended by `end`; either, once."""

    def __init__(self, command: Sequence[str]) -> None:
        """Begin it; raises `UnreadableError` where it cannot be."""
        self.name = command[0]
        pipe = subprocess.PIPE
        try:
            self._process = subprocess.Popen(list(command), stdin=pipe, stdout=pipe, stderr=pipe)
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            raise UnreadableError(f'"{self.name}" cannot be run: {reason}', INSTALL) from None

    def finish(self, data: bytes) -> bytes:
        """What it makes of ``data``; raises `UnreadableError` where it fails, or takes too long."""
        try:
            made, said = self._process.communicate(data, timeout=SECONDS)
        except subprocess.TimeoutExpired:
            raise UnreadableError(
                f"the drawing took longer than {SECONDS} seconds",
                "draw it for one model and as one role, or as --format dot",
            ) from None
        finally:
            self.end()
        if self._process.returncode or not made:
            lines = said.decode(errors="replace").strip().splitlines()
            raise UnreadableError(
                f'"{self.name}" could not draw it: {lines[0] if lines else "it said nothing"}', INSTALL
            )
        return made

    def end(self) -> None:
        """End it where it has not ended by itself."""
        if self._process.poll() is None:
            self._process.kill()
            self._process.communicate()
