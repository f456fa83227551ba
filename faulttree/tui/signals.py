"""Signals that end the program on the whole terminal."""

from __future__ import annotations

import signal
from collections.abc import Callable


def on_signals(leave: Callable[[], None]) -> None:
    """A closed line or a request to end saves and leaves, so that no terminal is left behind in disorder.

    ``leave`` is called by the loop that runs now; where there are no such signals, nothing is.
    """
    import asyncio

    loop = asyncio.get_running_loop()
    for name in ("SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)
        if number is not None:
            try:
                loop.add_signal_handler(number, leave)
            except (NotImplementedError, RuntimeError, ValueError):
                return
