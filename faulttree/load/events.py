"""PyYAML's reader in Python, up to its events, with the one correction that the careful reading needs.

The reader takes every question mark inside brackets for the mark of a key; YAML 1.2 and libyaml take one inside a
text for text. Such marks are hidden from it behind a code that no readable text can hold, and shown again.
"""

from __future__ import annotations

import re
from typing import Any

from yaml.events import ScalarEvent
from yaml.parser import Parser
from yaml.reader import Reader
from yaml.scanner import Scanner

ESCAPES = Scanner.ESCAPE_REPLACEMENTS
"""The characters that the escapes of one letter stand for in double quotes."""

_HIDDEN = "\ufdd0"
_QUESTION = re.compile(r"(?<!\?)\?++(?=\S)|[^\s\[{,:?-] *+\?++")


class Events(Reader, Scanner, Parser):
    """The events of a text, one at a time."""

    def __init__(self, text: str) -> None:
        Reader.__init__(self, _QUESTION.sub(lambda match: match[0].replace("?", _HIDDEN), text))
        Scanner.__init__(self)
        Parser.__init__(self)

    def next(self) -> Any:
        """The next event."""
        return self.get_event()  # type: ignore[no-untyped-call]


def value_of(event: Any) -> str:
    """The value of a scalar."""
    return str(event.value.replace(_HIDDEN, "?"))


def start_of(event: Any) -> int:
    """The index of the first character of what the event tells of."""
    return int(event.start_mark.index)


def end_of(event: Any) -> int:
    """The index after the last character."""
    return int(event.end_mark.index)


def is_empty(event: Any) -> bool:
    """Whether the event is a scalar without any character."""
    return isinstance(event, ScalarEvent) and not event.value


def is_bare(event: Any) -> bool:
    """Whether nothing at all is written where the value should stand."""
    return start_of(event) == end_of(event)
