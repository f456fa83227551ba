"""The keys that are the same on every page, as the help tells them; those of one page are that page's own."""

from __future__ import annotations

HELP, F1 = "question_mark", "f1"
"""The keys of the help: the sign where letters are no text, and the one that is none anywhere."""

MOVING = (
    "Down, Up  a row down or up, where the page is longer than the window",
    "Page Down, Page Up  a screen down or up",
)
LEAVING = "ctrl+q  save and leave the program"


def always(has_letters: bool) -> tuple[str, ...]:
    """Keys and what they do, on a page where letters are text or on any other."""
    if has_letters:
        return (*MOVING, "F2  day or night", "F1  this help", LEAVING)
    return (
        *MOVING,
        "Space  a screen down, too",
        "Home, End  to the top of the page; to its end, as far as it was seen",
        "v or F2  day or night; where letters are typed, F2",
        "? or F1  this help",
        "ctrl+p  look for what can be done here by its words",
        LEAVING,
    )
