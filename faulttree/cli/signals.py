"""Requests to end and cut lines, in line mode.

They end a walk as Ctrl-C does: between two moves and never within one.
"""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

ENDING = tuple(number for name in ("SIGTERM", "SIGHUP") if (number := getattr(signal, name, None)) is not None)
"""A request to end; a terminal that was closed, or a line that was cut. The second is not known on every system."""


class Signalled(KeyboardInterrupt):
    """The program was asked to end, or its terminal went away: whatever tidies up after Ctrl-C does so here."""


_state: dict[str, int] = {"holds": 0, "waits": 0}
"""How many blocks hold signals back now, and the signal that came meanwhile; 0 for none.

A mask of the system's would not do: it is one thread's, and any other thread takes the signal for all.
"""


@contextmanager
def heeded() -> Iterator[None]:
    """While this lasts each of ``ENDING`` raises `Signalled`, also where whoever started the program ignored it.

    An ignored signal would otherwise leave a walk that nobody can end but by force. Ctrl-C is what it was, but waits
    where signals are `held`; where it was ignored, it stays so.
    """
    before = {number: signal.getsignal(number) for number in (*ENDING, signal.SIGINT)}
    for number in ENDING:
        signal.signal(number, _raise)
    if before[signal.SIGINT] == signal.default_int_handler:
        signal.signal(signal.SIGINT, _raise)
    try:
        yield
    finally:
        for number, handler in before.items():
            # None is what was not set by this language, and cannot be by it.
            if handler is not None:
                signal.signal(number, handler)


def _raise(number: int, frame: FrameType | None = None) -> None:
    if _state["holds"]:
        _state["waits"] = number
        return
    if number == signal.SIGINT:
        raise KeyboardInterrupt
    # Both often come one right after the other: what is said last is not cut off by the other one. The second of a
    # kind is not waited for: it ends the program at once.
    for each in ENDING:
        signal.signal(each, signal.SIG_DFL if each == number else signal.SIG_IGN)
    raise Signalled


@contextmanager
def held() -> Iterator[None]:
    """While this lasts a signal waits: what is recorded is recorded whole, and counts."""
    _state["holds"] += 1
    try:
        yield
    finally:
        _state["holds"] -= 1
        waits, _state["waits"] = _state["waits"], 0
        if waits:
            _raise(waits)
