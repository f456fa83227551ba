"""Open items recorded as closed while a walk is taken up and once it is over, and what keeps it from being given up.

A walk that has ended, or was given up, asks for nothing more. What it left open is closed later, by whoever may speak
of it: each item is a move of its own, `closed`, which says the role and who closed it. The end stays as it was. Whoever
takes a walk over says the same of what is closed by then, in the move that takes it over.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from faulttree.closers import needs_name
from faulttree.keys import Key, Kind, Move
from faulttree.model import Library
from faulttree.open_items import must_close
from faulttree.problems import MoveError
from faulttree.site import Site, check_role
from faulttree.value import replace

GIVEN_UP = "given up"
"""What the label of the move `stop` says where the walk is not to be gone on with; its text says why."""


def may_speak_of(site: Site, role: str, item: str) -> bool:
    """Whether somebody of that role may say that an open item is closed."""
    return item in site.library.open_items and role in site.closers(item)


def must_say_who(site: Site, item: str) -> bool:
    """Whether it must be said who closed an item, also where a walk is only taken over."""
    return needs_name(site.library, site.closers(item), item)


def closings(site: Site, open_items: Collection[str], role: str) -> tuple[Move, ...]:
    """Each open item as the move that records it as closed, in the library's order.

    It carries ``role`` where that one may speak of the item, else the first that may; who closed it is a blank.
    """
    named = [(name, site.closers(name)) for name in site.library.open_items if name in open_items]
    return tuple(Move(Kind.CLOSED, item=name, role=role if role in roles else roles[0]) for name, roles in named)


def with_closed(move: Move, said: Sequence[tuple[str, str]]) -> Move:
    """``move``, which takes a walk over or begins it from a code, with what is closed and who closed each."""
    names = tuple(who for _, who in said)
    return replace(move, closed=tuple(item for item, _ in said), closed_by=names if any(names) else ())


def said_closed(move: Move) -> Iterator[tuple[str, str]]:
    """The items that taking over, or beginning from a code, found closed, each with who closed it."""
    yield from zip(move.closed, move.closed_by or ("",) * len(move.closed), strict=True)


def check_paired(move: Move) -> None:
    """Raises MoveError where it is not clear who closed what; asked of moves out of a journal too."""
    if len(move.closed_by) not in (0, len(move.closed)):
        raise MoveError("it is not clear who closed what", "name somebody for each item that is closed")


def check_said_closed(site: Site, key: Key, move: Move) -> None:
    """Raises MoveError where taking over, or beginning from a code, cannot say that these items are closed.

    Not asked of moves out of a journal: in journals of before nobody had to say who.
    """
    role = move.role or site.library.first_role
    check_role(site.library, role)
    check_paired(move)
    for item, who in said_closed(move):
        if item not in key.open_items:
            raise MoveError(f'"{item}" is not open', "name open items only")
        check_may_speak_of(site, role, item)
        if must_say_who(site, item) and not who.strip():
            raise _not_said()


def _not_said() -> MoveError:
    return MoveError("who closed it was not said", "give a name or initials")


def check_may_speak_of(site: Site, role: str, item: str) -> None:
    """Raises MoveError where an item is not for somebody of that role to close."""
    if not may_speak_of(site, role, item):
        roles = site.closers(item)
        is_duty = site.library.open_items[item].kind == "duty"
        why = f"{role} only passes it on" if is_duty else f"what opened it is work of {roles[0]}"
        raise MoveError(f'"{item}" is not for {role} to close, {why}', f"let one of these say so: {', '.join(roles)}")


def closed_afterwards(library: Library, key: Key, move: Move) -> Key:
    """The key of a walk that is over once an item of it is recorded as closed. Raises MoveError."""
    if move.item not in key.open_items:
        raise MoveError(f'"{move.item}" is not open', "name an item that is")
    check_role(library, move.role)
    if not move.text.strip():
        raise _not_said()
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
