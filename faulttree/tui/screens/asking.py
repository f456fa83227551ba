"""Small conversations that several screens need: the role, the occupant, what is still open."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from textual.app import App

from faulttree.keys import OFF, ON, Kind, Move
from faulttree.model import Library, Occupant
from faulttree.present.blocks import sentence
from faulttree.tui.screens.choose import ChooseScreen
from faulttree.walk import Walk


async def ask_occupant(app: App[Any], library: Library, leave: str = "back") -> str | None:
    """On, off, or empty for not answered; None where the question was left. Without such a question, empty."""
    if library.occupant is None:
        return ""
    asked = ChooseScreen(library.occupant.ask, ("Yes", "No"), leave=leave, enter="not answered, so taken as yes")
    answer: int | None = await app.push_screen_wait(asked)
    return None if answer is None else (ON, OFF, "")[answer]


async def ask_occupant_and_model(app: App[Any], occupant: Occupant, models: Sequence[str]) -> tuple[str, str] | None:
    """Both by one digit, for the sake of a key less while somebody waits; occupant, then model."""
    both = [(state, model) for state in (ON, OFF) for model in models]
    options = [f"{'Yes' if state == ON else 'No'}, {model}" for state, model in both]
    asked = ChooseScreen(f"{occupant.ask} And which one is it?", options, leave="another symptom")
    answer: int | None = await app.push_screen_wait(asked)
    return None if answer is None else both[answer]


async def ask_role(app: App[Any], library: Library) -> str | None:
    """The role of whoever is here now."""
    roles = tuple(library.roles)
    asked = ChooseScreen("Your role?", [f"{name} - {library.roles[name].title}" for name in roles])
    answer: int | None = await app.push_screen_wait(asked)
    return None if answer is None else roles[answer]


async def ask_closed(app: App[Any], walk: Walk) -> tuple[str, ...] | None:
    """The open items that are closed by now, by asking for each of them."""
    closed = []
    for name, item in walk.library.open_items.items():
        if name in walk.key.open_items:
            text = f"{item.kind.upper()}: {sentence(item.text)} Is this still so?"
            answer: int | None = await app.push_screen_wait(ChooseScreen(text, ("Yes, still so", "No, closed")))
            if answer is None:
                return None
            closed += [name] if answer == 1 else []
    return tuple(closed)


async def take_over_move(app: App[Any], walk: Walk, role: str = "") -> Move | None:
    """Taking over asks anew: the role, the occupant, and of each open item whether it still is."""
    role = role or await ask_role(app, walk.library) or ""
    if not role:
        return None
    occupant = await ask_occupant(app, walk.library)
    if occupant is None:
        return None
    closed = await ask_closed(app, walk)
    return None if closed is None else Move(Kind.TAKE_OVER, role=role, occupant=occupant, closed=closed)
