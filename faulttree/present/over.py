"""What is said of a walk that is left or over: what stays open, how it stands, and which items are whose to close."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from faulttree.closing import may_speak_of
from faulttree.model import OpenItem
from faulttree.present.after import not_before_lines
from faulttree.present.blocks import one_or_more, open_items, open_lines
from faulttree.walk import HANDED_OVER, Walk

ONLY_CLOSING = "What is closed by now can be recorded here. Nothing else of the walk changes."
NOTHING_OPEN = "Nothing of this walk is open any more."
WHO_CLOSED = "Name or initials of who closed it (no patient data)"
NO_NAME = "Without a name it stays open. It is asked again."


def how_over(walk: Walk) -> str:
    """How the walk is over, in words that end a sentence with when."""
    if walk.ended:
        return "has ended"
    why = next((line.move.text for line in reversed(walk.log) if line.move.label and line.move.text), "")
    return f"was given up ({why})" if why else "was given up"


def last_words(walk: Walk, times: Sequence[datetime], is_unrecorded: bool = False) -> tuple[str, ...]:
    """The last lines of a walk that is left or over: what is open, what has to be waited for, and how it stands.

    Without ``times`` (as in `not_before_lines`) nothing is said of waiting. Of a walk that has come to its end nothing
    is said but what is left of it: its own page said how it ended.
    """
    lines = [f"STILL {line}" for line in open_lines(walk)]
    lines += not_before_lines(walk, times) if times else ()
    if is_unrecorded:
        lines.append("THE LAST ANSWER IS NOT RECORDED and does not count.")
    if walk.given_up:
        lines.append(f"The walk {how_over(walk)}. NOT APPROVED FOR RETURN TO SERVICE.")
    elif not walk.ended:
        how = "handed over" if walk.state == HANDED_OVER else "unfinished"
        lines.append(f"The walk is saved and {how}. NOT APPROVED FOR RETURN TO SERVICE.")
    return tuple(lines)


def not_yours(walk: Walk, role: str) -> tuple[str, ...]:
    """That some items are for others to close than somebody of that role: for whom, and what opened them."""
    others: dict[tuple[str, ...], list[OpenItem]] = {}
    for item in open_items(walk):
        if not may_speak_of(walk.site, role, item.id):
            others.setdefault(walk.site.closers(item.id), []).append(item)
    return tuple(_for_others(items, roles) for roles, items in others.items())


def _for_others(items: Sequence[OpenItem], roles: Sequence[str]) -> str:
    kinds = {item.kind for item in items}
    kind = PLURALS[kinds.pop()] if len(kinds) == 1 else PLURALS[""]
    what = one_or_more(len(items), *kind)
    return f"{what} {'is' if len(items) == 1 else 'are'} for somebody else to close: {' or '.join(roles)}."


PLURALS = {
    "": ("open item", "open items"),
    "hazard": ("hazard", "hazards"),
    "disturbance": ("disturbance", "disturbances"),
    "duty": ("duty", "duties"),
}
