"""Open items recorded as closed once a walk is over, and what keeps a walk from being given up.

A walk that has ended, or was given up, asks for nothing more. What it left open is closed later, by whoever may speak
of it: each item is a move of its own, `closed`, which says the role and who closed it. The end stays as it was.
"""

from __future__ import annotations

from collections.abc import Collection

from faulttree.keys import Key, Kind, Move
from faulttree.model import Library
from faulttree.moves import must_close
from faulttree.problems import MoveError

GIVEN_UP = "given up"
"""What the label of the move `stop` says where the walk is not to be gone on with; its text says why."""


def may_speak_of(library: Library, role: str, item: str) -> bool:
    """Whether somebody of that role may say that an open item is closed.

    A duty is passed on by the first role: that it is done is said by somebody whom it is for.
    """
    passes_on = role == library.first_role and len(library.roles) > 1
    return not (passes_on and item in library.open_items and library.open_items[item].kind == "duty")


def closings(library: Library, open_items: Collection[str], role: str) -> tuple[Move, ...]:
    """Each open item as the move that records it as closed, in the library's order.

    It carries ``role`` where that one may speak of the item, else the first that may; who closed it is a blank.
    """
    return tuple(
        Move(
            Kind.CLOSED,
            item=name,
            role=next(each for each in (role, *library.roles) if may_speak_of(library, each, name)),
        )
        for name in library.open_items
        if name in open_items
    )


def closed_afterwards(library: Library, key: Key, move: Move) -> Key:
    """The key of a walk that is over once an item of it is recorded as closed. Raises MoveError."""
    if move.item not in key.open_items:
        raise MoveError(f'"{move.item}" is not open', "name an item that is")
    if move.role not in library.roles:
        raise MoveError(f'"{move.role}" is no role here', f"choose one of: {', '.join(library.roles)}")
    if not may_speak_of(library, move.role, move.item):
        raise MoveError(f'"{move.item}" is not for {move.role} to close', "let somebody whom it is for say so")
    if not move.text.strip():
        raise MoveError("who closed it was not said", "give a name or initials")
    return key._replace(open_items=key.open_items - {move.item})


def check_given_up(library: Library, key: Key, move: Move) -> None:
    """Raises MoveError where a walk may not be given up: no reason, or something open that can hurt or hinder."""
    if move.label != GIVEN_UP:
        raise MoveError(f'"{move.label}" is no way to stop', f'stop, or say "{GIVEN_UP}" and why')
    check_may_be_given_up(library, key)
    if not move.text.strip():
        raise MoveError("why it is given up was not said", "say why in a few words; no patient data")


def check_may_be_given_up(library: Library, key: Key) -> None:
    """Raises MoveError where a hazard or a disturbance is open: whoever leaves it must not be the last who knows."""
    left = [library.open_items[name] for name in must_close(library, key.open_items)]
    if left:
        what = "; ".join(f"{item.kind}: {item.text.rstrip('.')}" for item in left)
        raise MoveError(
            f"it cannot be given up while this is open ({what})",
            "close it and record it as closed first; taking over asks for each",
        )
