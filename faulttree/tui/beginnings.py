"""How walks come onto the screen: begun after what has to be asked, or taken up again with everything asked anew."""

from __future__ import annotations

from typing import TYPE_CHECKING

from faulttree.journal import Facts
from faulttree.keys import Kind, Move
from faulttree.model import Library, Tree
from faulttree.present import done_so_far, fallback_blocks
from faulttree.present.blocks import sentence, with_occupant
from faulttree.present.ends import NOT_CARRIED
from faulttree.present.refusal import refusal
from faulttree.problems import FaulttreeError, JournalError
from faulttree.readback import begin as begin_walk
from faulttree.sessions import (
    Ready,
    model_of,
    opened,
    ready,
    ready_by_code,
    role_of,
    started,
)
from faulttree.since import SINCE, Since, since_begun
from faulttree.symptoms import ranks
from faulttree.tui.later import put_down, show_ended
from faulttree.tui.screens.ask import AskScreen
from faulttree.tui.screens.asking import (
    ask_closed,
    ask_occupant,
    ask_occupant_and_model,
    ask_role,
    standing_beside,
    take_over_move,
)
from faulttree.tui.screens.choose import MOST, ChooseScreen
from faulttree.tui.screens.read import ReadScreen
from faulttree.tui.screens.text import BlocksScreen, TextScreen
from faulttree.tui.session import Session
from faulttree.value import replace
from faulttree.waiting import waiting, waiting_words
from faulttree.walk import Walk

if TYPE_CHECKING:
    from faulttree.tui.app import RampApp
    from faulttree.tui.wanted import Wanted


async def begin(app: RampApp, name: str, found: Ready | None = None) -> None:
    """Begin a walk of the tree of that name, or of the one that was ``found``, after what has to be asked first."""
    try:
        what = found or ready(app.wanted.library, name, app.wanted.cwd)
        move = await _first_move(app, what.library, what.tree)
        if move is not None:
            await _start(app, what, move)
    except FaulttreeError as error:
        await _say(app, error)


async def _start(app: RampApp, what: Ready, move: Move) -> None:
    """Begin the walk; where it cannot be recorded it is not begun, but what to do at once is shown."""
    try:
        app.walk(Session(*started(app.wanted.walks, what, move, _facts(app.wanted))), (), begins=True)
    except JournalError as error:
        await _say(app, error)
        blocks = fallback_blocks(begin_walk(what.tree, what.library, move))
        await app.push_screen_wait(BlocksScreen("NOT RECORDED, so not walked. What can be done at once:", blocks))


async def ask_code(app: RampApp) -> None:
    """Ask for a read-back code until a walk can go on from it; what is wrong stands above what was typed."""
    said, wrong = "", ""
    while True:
        asked = AskScreen("Which code was read to you? Signs or words:", (wrong,) if wrong else (), said)
        typed: str | None = await app.push_screen_wait(asked)
        if not typed:
            return
        try:
            what, code = ready_by_code(app.wanted.library, typed)
        except FaulttreeError as error:
            said, wrong = typed, refusal(error)
        else:
            await begin_by_code(app, code, what)
            return


async def begin_by_code(app: RampApp, said: str, found: Ready | None = None) -> None:
    """Begin a walk that goes on from a read-back code, once the person has confirmed what the code says.

    With ``found``, the tree that it belongs to, the code is as it is written.
    """
    try:
        what, code = (found, said) if found else ready_by_code(app.wanted.library, said)
        move = Move(Kind.BEGIN, code=code)
        with standing_beside(app, with_occupant(begin_walk(what.tree, what.library, move), "")):
            role = (
                role_of(what.library, app.wanted.role) if app.wanted.role else await ask_role(app, what.library) or ""
            )
            move = replace(move, role=role)
            if not role or not await _is_confirmed(app, begin_walk(what.tree, what.library, move)):
                return
            occupant = await ask_occupant(app, what.library)
            if occupant is None:
                return
            move = replace(move, occupant=occupant)
            app.taken_up = begin_walk(what.tree, what.library, move)
            whole = await ask_closed(app, app.taken_up, move)
        if whole is not None:
            await _start(app, what, whole)
    except FaulttreeError as error:
        await _say(app, error)


async def _is_confirmed(app: RampApp, walk: Walk) -> bool:
    """Whether what the code says was read back to whoever gave it, and is right."""
    model = "" if walk.tree.alike else f" {walk.key.model}."
    said = (f"The code says: {sentence(walk.tree.symptom)}{model}", *done_so_far(walk).lines, NOT_CARRIED)
    question = "Read this back to whoever gave you the code. Is it right?"
    answer: int | None = await app.push_screen_wait(ChooseScreen(question, ("Yes", "No"), before=said))
    return answer == 0


def _facts(wanted: Wanted) -> Facts:
    return Facts(wanted.practice, wanted.aircraft, wanted.item, wanted.base)


async def _first_move(app: RampApp, library: Library, tree: Tree) -> Move | None:
    """Only what matters now: the occupant, then the model where ways differ. The role starts as the first.

    Digits that are yes and no everywhere are so here: where both are asked, one digit for both comes behind them.
    """
    role = role_of(library, app.wanted.role)
    model = model_of(tree, app.wanted.model)
    # No page names a model that nobody has said yet. What is done at once when it cannot wait does not depend on it.
    shown = tree if model else replace(tree, alike=True)
    # The fallback is one key away here too: until it is answered somebody may be on it.
    with standing_beside(app, begin_walk(shown, library, Move(Kind.BEGIN, role=role, model=model or tree.models[0]))):
        if model is None and library.occupant and 2 + 2 * len(tree.models) <= MOST:
            both = await ask_occupant_and_model(app, library.occupant, tree.models)
            occupant, model = (both[0], both[1] or None) if both else (None, model)
        else:
            occupant = await ask_occupant(app, library, leave="another symptom")
    if occupant is None:
        return None
    move = Move(Kind.BEGIN, role=role, occupant=occupant, model=model or tree.models[0])
    if model is None:
        with standing_beside(app, begin_walk(shown, library, move)):
            answer: int | None = await app.push_screen_wait(ChooseScreen("Which one is it?", tree.models))
        return None if answer is None else replace(move, model=tree.models[answer])
    return replace(move, model=model)


async def take_up(app: RampApp, said: str) -> None:
    """Go on with a walk that waits: the one that was said, or one that is chosen."""
    try:
        chosen = said or await _chosen_walk(app)
        if chosen:
            await _taken_up(app, chosen)
    except FaulttreeError as error:
        await _say(app, error)


async def _chosen_walk(app: RampApp) -> str:
    """The id of a walk that can be gone on with. One that is over is shown, and what it left open can be closed."""
    while found := waiting(app.wanted.walks, app.wanted.role, ranks(app.wanted.library)).every:
        asked = ChooseScreen("Go on with which walk?", [waiting_words(each) for each in found])
        answer: int | None = await app.push_screen_wait(asked)
        if answer is None or not found[answer].over:
            return "" if answer is None else found[answer].id
        await show_ended(app, found[answer].id)
    return ""


async def _taken_up(app: RampApp, said: str) -> None:
    journal, walk = opened(app.wanted.walks, said)
    session = Session(journal, walk)
    if walk.over:
        session.close()
        await show_ended(app, said)
        return
    try:
        since = since_begun(app.wanted.library, journal.recorded, walk)
        on = since.onto.walk if since.onto else walk
        with standing_beside(app, walk, session.id):
            move = await take_over_move(app, on, app.wanted.role) if await _is_read(app, walk, since) else None
        if move is None:
            session.close()
            return
        if since.onto:
            session.go_on_with(since.onto)
        session.make(move)
        if since.withdrawn:
            await put_down(app, session)
            return
    except BaseException:
        session.close()
        raise
    told = [said for said in (since.said, journal.torn) if said]
    app.walk(session, told, begins=True)


async def _is_read(app: RampApp, walk: Walk, since: Since) -> bool:
    """Whether the person goes on, once they have read what changed since the walk began."""
    if not since.differences:
        return True
    with standing_beside(app, with_occupant(walk, "")):
        how = f"{on.walk.tree.revision}" if (on := since.onto) else f"{walk.tree.revision}, as it was then"
        asked = ReadScreen(SINCE, (*since.differences, since.said), f"go on with revision {how}")
        read: bool = await app.push_screen_wait(asked)
    return read


async def _say(app: RampApp, error: FaulttreeError) -> None:
    """An expected failure, in words."""
    await app.push_screen_wait(TextScreen("This is not possible:", (refusal(error),)))
