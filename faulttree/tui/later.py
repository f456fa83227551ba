"""A walk that is over, on the screen: it is shown, and what it left open is recorded as closed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from faulttree.keys import OFF, Kind, Move
from faulttree.present import Block, hand_over_page
from faulttree.present.after import due_block
from faulttree.present.another import Another, other_tree
from faulttree.present.blocks import item_words
from faulttree.present.choices import asked_whether_open
from faulttree.present.over import NOTHING_OPEN, ONLY_CLOSING, WHO_CLOSED, not_yours
from faulttree.present.refusal import refusal
from faulttree.problems import JournalError, MoveError
from faulttree.sessions import line_times, opened, shown, symptom_of
from faulttree.since import WHAT_NOW, WITHDRAWN, over_since
from faulttree.tui.endings import over
from faulttree.tui.screens.ask import AskScreen
from faulttree.tui.screens.asking import (
    ask_fallback_line,
    ask_occupant,
    ask_role,
    give_up_move,
    standing_beside,
    take_over_move,
)
from faulttree.tui.screens.choose import ChooseScreen
from faulttree.tui.screens.ended import EndedScreen
from faulttree.tui.screens.text import BlocksScreen, TextScreen
from faulttree.tui.screens.unrecorded import UnrecordedScreen
from faulttree.tui.session import Session
from faulttree.walk import GOING

if TYPE_CHECKING:
    from faulttree.tui.app import RampApp


async def show_ended(app: RampApp, said: str) -> None:
    """Show a walk that is over; where the person wants it, what it left open is recorded as closed."""
    while True:
        recorded, walk = shown(app.wanted.walks, said)
        times = line_times(recorded)
        another = Another(symptom_of(app.wanted.library, other_tree(walk)))
        blocks = tuple(over(walk, recorded.header.facts.practice, times, another))
        title = f"{recorded.header.walk} {over_since(walk, recorded)}"
        with standing_beside(app, walk):
            asked = EndedScreen(title, blocks, closes=bool(walk.key.open_items))
            if not await app.push_screen_wait(asked):
                return
        session = Session(*opened(app.wanted.walks, said))
        try:
            await record_closed(app, session)
        finally:
            session.close()


HAND_OVER, GIVE_UP = "Hand over: the walk waits for the next person", "Give up: it is not gone on with"
CLOSED, LEAVE = "Record what is closed by now", "Leave it waiting"


async def put_down(app: RampApp, session: Session) -> None:
    """A walk whose tree was withdrawn: handed over, given up, or left as it was; never walked on."""
    app.puts_down = True
    try:
        with standing_beside(app, session.walk, session.id):
            while session.walk.state == GOING:
                if app.owes_fallback:
                    await _fallback_worked(app, session)
                    app.taken_up = session.walk
                options = (HAND_OVER, GIVE_UP, LEAVE, *((CLOSED,) if session.walk.key.open_items else ()))
                asked = ChooseScreen(WITHDRAWN, options, before=(WHAT_NOW,))
                answer: int | None = await app.push_screen_wait(asked)
                if app.owes_fallback:
                    continue
                chosen = LEAVE if answer is None else options[answer]
                if chosen == LEAVE:
                    session.stop()
                    break
                await {HAND_OVER: _handed_over, GIVE_UP: _given_up, CLOSED: _closed_now}[chosen](app, session)
                app.taken_up = session.walk
    finally:
        app.puts_down = False
        app.remember(session)
        session.close()
        # Between the questions the first page stood for a moment, and read the walk as it was then.
        app.find.look_again()


async def _fallback_worked(app: RampApp, session: Session) -> None:
    """Which line of the fallback worked, and who is on it after that."""
    app.owes_fallback = False
    worked = await ask_fallback_line(app, session.walk)
    if worked is None or not await _is_made(app, session, Move(Kind.FALLBACK, line=worked)) or not worked:
        return
    app.taken_up = session.walk
    occupant = await ask_occupant(app, session.walk.library)
    if occupant:
        await _is_made(app, session, Move(Kind.OCCUPANT_OFF if occupant == OFF else Kind.OCCUPANT_ON))


async def _handed_over(app: RampApp, session: Session) -> None:
    role = await ask_role(app, session.walk.library, "Hand over to whom?")
    if role is not None and await _is_made(app, session, Move(Kind.HAND_OVER, to=role)):
        page = hand_over_page(session.walk, session.practice, goes_on=False)
        blocks = (Block("gate", (WITHDRAWN,)), *page, due_block(session.walk, session.times()))
        await app.push_screen_wait(BlocksScreen("", blocks))


async def _closed_now(app: RampApp, session: Session) -> None:
    """Asked again of each item, as in taking over: so that it is said who is on it now as well."""
    move = await take_over_move(app, session.walk, session.walk.key.role)
    if move is not None:
        await _is_made(app, session, move)


async def _given_up(app: RampApp, session: Session) -> None:
    try:
        move = await give_up_move(app, session.walk)
    except MoveError as error:
        await app.push_screen_wait(TextScreen("This is not possible:", (refusal(error),)))
        return
    if move is not None:
        await _is_made(app, session, move)


async def record_closed(app: RampApp, session: Session) -> None:
    """Record one item after another as closed, as long as the person says that one is; each by whom."""
    library = session.walk.library
    with standing_beside(app, session.walk, session.id):
        role = app.wanted.role if app.wanted.role in library.roles else await ask_role(app, library) or ""
        while role:
            move = await _closed_by_whom(app, session, role)
            if move is None or not await _is_made(app, session, move):
                return
            app.taken_up = session.walk


async def _closed_by_whom(app: RampApp, session: Session, role: str) -> Move | None:
    """The move of an item that is closed; None where none is, or none is that somebody of that role may speak of."""
    walk = session.walk
    items = asked_whether_open(walk, role)
    others = not_yours(walk, role)
    if not items:
        lines = others or (NOTHING_OPEN,)
        await app.push_screen_wait(TextScreen(f"Walk {session.id}", lines))
        return None
    options = [item_words(walk.library.open_items[name]) for name in items]
    asked = ChooseScreen("Which of these is closed by now?", options, before=(ONLY_CLOSING, *others))
    chosen: int | None = await app.push_screen_wait(asked)
    if chosen is None:
        return None
    who: str | None = await app.push_screen_wait(AskScreen(f"{WHO_CLOSED}:", (options[chosen],)))
    return Move(Kind.CLOSED, item=items[chosen], role=role, text=who) if who else None


async def _is_made(app: RampApp, session: Session, move: Move) -> bool:
    """Whether the move was recorded."""
    try:
        session.make(move)
    except MoveError as error:
        await app.push_screen_wait(TextScreen("This is not possible:", (refusal(error),)))
        return False
    except JournalError as error:
        recorded: bool = await app.push_screen_wait(UnrecordedScreen(session, error))
        return recorded
    return True
