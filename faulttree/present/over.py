"""What is said of a walk that is over and has left something open: which items are whose to close, and how it ended."""

from __future__ import annotations

from faulttree.closing import may_speak_of
from faulttree.present.blocks import one_or_more
from faulttree.walk import Walk

ONLY_CLOSING = "What is closed by now can be recorded here. Nothing else of the walk changes."
NOTHING_OPEN = "Nothing of this walk is open any more."
WHO_CLOSED = "Name or initials of who closed it (no patient data)"


def how_over(walk: Walk) -> str:
    """How the walk is over, in words that end a sentence with when."""
    if walk.ended:
        return "has ended"
    why = next((line.move.text for line in reversed(walk.log) if line.move.label and line.move.text), "")
    return f"was given up ({why})" if why else "was given up"


def not_yours(walk: Walk, role: str) -> tuple[str, ...]:
    """That some items are for others to close than somebody of that role."""
    count = sum(not may_speak_of(walk.library, role, name) for name in walk.key.open_items)
    if not count:
        return ()
    others = [each for each in walk.library.roles if each != walk.library.first_role]
    is_are = "is" if count == 1 else "are"
    return (f"{one_or_more(count, 'duty', 'duties')} {is_are} for somebody else to close: {' or '.join(others)}.",)
