"""What a walk's screen does beside answering: moves that ask more on pages of their own, and pages to look at."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence

from faulttree.keys import OFF, Kind, Move
from faulttree.model import Fix
from faulttree.present.after import CUT_SHORT, too_early
from faulttree.present.another import Another, other_tree
from faulttree.present.answer import NEEDED
from faulttree.present.blanks import fill_in
from faulttree.present.blocks import one_or_more
from faulttree.present.filling import asked_for
from faulttree.present.progress import set_aside, visit_words
from faulttree.present.reading import reading_words
from faulttree.present.refusal import refusal
from faulttree.present.remaining import look_again
from faulttree.present.start import list_is_due, list_page
from faulttree.problems import FaulttreeError, JournalError, MoveError
from faulttree.sessions import now, symptom_of
from faulttree.tui import endings
from faulttree.tui.keyed import Keyed
from faulttree.tui.screens.ask import AskScreen, FillScreen
from faulttree.tui.screens.asking import (
    CANNOT_WAIT,
    ask_fallback_line,
    ask_occupant,
    ask_readings,
    ask_reason,
    ask_role,
    give_up_move,
    take_over_move,
)
from faulttree.tui.screens.choose import ChooseScreen
from faulttree.tui.screens.code import CodeScreen
from faulttree.tui.screens.fallback import FallbackScreen
from faulttree.tui.screens.paged import PagedScreen
from faulttree.tui.screens.text import BlocksScreen, TextScreen
from faulttree.tui.screens.unrecorded import UnrecordedScreen
from faulttree.tui.screens.whole import WholeScreen
from faulttree.tui.session import Session
from faulttree.walk import Walk, possible_moves

NONE_WORKED = "Recorded: no line of it worked. Use the operator's emergency procedure."
ONE_WORKED = "Recorded. You may hand over now: key h. Going on is your choice."
OVER = "From the first step. What was found before counts no more."


class WalkMoves(PagedScreen[str | None]):
    """A recorded walk, its moves, and the pages beside it. Gives the tree that is to be gone on with, if any."""

    seen_beside = False

    def __init__(self, session: Session, begins: bool) -> None:
        super().__init__()
        self.session = session
        self.begins = begins
        """Whether the start page is still to be read."""
        self._asking = 0
        """How many conversations of this page go on."""
        self._another = ("", Another())
        """The tree that the walk leads on to, with what the library in use says of it."""
        self.read = 0
        """How many of the new warnings were read: a page begins with the next one, whatever the size of the screen."""

    @property
    def walk(self) -> Walk:
        """The walk as it was recorded last."""
        return self.session.walk

    @property
    def practice(self) -> bool:
        return self.session.practice

    def another(self) -> Another:
        """The tree that the walk leads on to at its end, as the library in use names it."""
        tree = other_tree(self.walk)
        if tree and self._another[0] != tree:
            self._another = (tree, Another(symptom_of(self.ramp.wanted.library, tree)))
        return self._another[1] if tree else Another()

    def on_screen_resume(self) -> None:
        """Where the fallback was read on a page beside the walk and something of it was done, it is asked first."""
        super().on_screen_resume()
        if self._owes_fallback() and not self._asking:
            self.later(self.which_line_worked)

    def _owes_fallback(self) -> bool:
        return self.ramp.owes_fallback and self.ramp.records_fallback

    async def _done_later(self, call: Callable[[], Awaitable[object]]) -> None:
        async def and_the_fallback() -> None:
            await call()
            if self._owes_fallback():
                await self.which_line_worked()

        self._asking += 1
        try:
            await super()._done_later(and_the_fallback)
        finally:
            self._asking -= 1

    # -- moves

    async def make(self, move: Move, told: Sequence[str] = ()) -> bool:
        """Make a move: what it leads to, then the journal, then the page. Whether it was made."""
        try:
            self.session.make(move)
        except MoveError as error:
            self.draw((refusal(error),))
            return False
        except JournalError as error:
            if not await self.app.push_screen_wait(UnrecordedScreen(self.session, error)):
                self.draw()
                return False
        self.read = 0
        if list_is_due(self.walk) and not self.begins:
            await self.app.push_screen_wait(BlocksScreen("", list_page(self.walk)))
        self.draw(told)
        return True

    def can(self, kind: Kind) -> bool:
        """Whether a move of that kind is possible now."""
        return any(move.kind == kind for move in possible_moves(self.walk))

    async def with_text(self, answer: Keyed) -> None:
        """An answer that says why, or by whom."""
        text = await ask_reason(self.app, self.walk, answer.choice)
        if not text:
            self.draw()
        elif await self.make(Move(answer.choice.move.kind, text=text)) and text == CANNOT_WAIT:
            await self.fallback()

    async def note(self) -> None:
        """Something is written down."""
        await self._text(Kind.NOTE)

    async def defect(self) -> None:
        """Another defect was seen."""
        await self._text(Kind.ALSO_FOUND)

    async def _text(self, kind: Kind) -> None:
        typed: str | None = await self.app.push_screen_wait(AskScreen(f"{NEEDED[kind]}:"))
        if typed:
            await self.make(Move(kind, text=typed), ("Written down.",))

    async def fill_in(self) -> None:
        """The blanks of the end, one by one, until all were asked for or the person leaves them."""
        count = 0
        for at in range(len(asked_for(self.walk))):
            # Anew each time: what was filled in before stands in its sentence.
            asked = asked_for(self.walk)[at]
            typed: str | None = await self.app.push_screen_wait(
                FillScreen(f"{asked.question}, Enter leaves it:", (asked.sentence,))
            )
            if typed is None or (typed and not await self.make(fill_in(asked.blank, typed))):
                break
            count += bool(typed)
        self.draw((f"Written down: {count}.",) if count else ())

    async def reading(self, typed: str = "") -> None:
        """A reading with its unit, or an answer; ``typed`` is what was typed of it already."""
        before = self.walk
        move = await ask_readings(self.app, before, typed)
        if move is None:
            self.draw()
        elif await self.make(move) and move.kind == Kind.READING:
            self.draw((reading_words(before, self.walk.log[-1].move),))

    async def waited(self) -> None:
        """The time is over; where the clock says otherwise, only when the person says it again."""
        question = too_early(self.walk, self.session.times(), now())
        if question:
            said: int | None = await self.app.push_screen_wait(ChooseScreen(question, ("Yes, it is over", "No")))
            if said != 0:
                return
        await self.make(Move(Kind.WAITED, text=CUT_SHORT if question else ""))

    async def fallback(self) -> None:
        """Show the fallback; once something of it was done, ask which line worked, and who is on it now."""
        if await self.app.push_screen_wait(FallbackScreen(self.walk)):
            await self.which_line_worked()

    async def which_line_worked(self) -> None:
        """Ask which line of the fallback worked, and who is on it now."""
        self.ramp.owes_fallback = False
        if not self.can(Kind.FALLBACK):
            return
        worked = await ask_fallback_line(self.app, self.walk)
        if worked is None or not await self.make(Move(Kind.FALLBACK, line=worked), () if worked else (NONE_WORKED,)):
            return
        if worked:
            await self._occupant_anew()

    async def _occupant_anew(self) -> None:
        occupant = await ask_occupant(self.app, self.walk.library)
        told = () if self.walk.ended else (ONE_WORKED,)
        move = Move(Kind.OCCUPANT_OFF if occupant == OFF else Kind.OCCUPANT_ON)
        if not occupant or self.walk.ended or not await self.make(move, told):
            self.draw(told)

    async def back(self) -> None:
        """To the step before; out of work that was begun only when the person says so."""
        done = self.walk.key.phase.line if isinstance(self.walk.step, Fix) else 0
        if done:
            question = (
                f"{one_or_more(done, 'line')} of this work {'is' if done == 1 else 'are'} done. After going back its "
                "lines are asked for from the first again; what was taken apart stays so. Go back?"
            )
            said: int | None = await self.app.push_screen_wait(ChooseScreen(question, ("Yes, go back", "No")))
            if said != 0:
                return
        await self.make(Move(Kind.BACK))

    async def back_to_misread(self) -> None:
        """To the answer that the page says is to be looked at again first."""
        again = look_again(self.walk)
        if again:
            await self.make(Move(Kind.BACK, to=again.step))

    async def so_far(self) -> None:
        """The way as numbered lines; a number goes back to that step. What was gone back over stands below."""
        visits = [visit for visit in self.walk.way if visit_words(self.walk, visit)]
        lines = [visit_words(self.walk, visit) for visit in visits]
        aside = set_aside(self.walk).lines
        if not lines or not self.can(Kind.BACK):
            told = (*(lines or ("Nothing on this way yet." if aside else "Nothing yet.",)), *aside)
            await self.app.push_screen_wait(TextScreen("Done so far", told))
            return
        question = "Done so far. A number goes back to that step; the log keeps what was done."
        chosen: int | None = await self.app.push_screen_wait(ChooseScreen(question, lines, below=aside))
        if chosen is not None and visits[chosen] is not self.walk.way[-1]:
            await self.make(Move(Kind.BACK, to=visits[chosen].step))

    async def occupant(self) -> None:
        """Somebody is on it, or nobody."""
        occupant = await ask_occupant(self.app, self.walk.library)
        kind = Kind.OCCUPANT_OFF if occupant == OFF else Kind.OCCUPANT_ON
        if occupant is not None and self.can(kind):
            await self.make(Move(kind))
        elif occupant is not None:
            self.draw(("That is how it was recorded already.",))

    async def hand_over(self) -> None:
        """The walk waits for the next person."""
        role = await ask_role(self.app, self.walk.library, "Hand over to whom?")
        if role is not None and await self.make(Move(Kind.HAND_OVER, to=role)):
            self.begins = False
            self.draw()

    async def take_over(self, role: str = "") -> None:
        """Another person goes on here."""
        before = self.walk.key.role
        try:
            self.session.take_again()
        except MoveError as error:
            self.draw((refusal(error),))
            return
        move = await take_over_move(self.ramp, self.walk, role)
        if move is not None and await self.make(move):
            self.begins = self.walk.key.role != before
            self.draw()
        self.session.let_go()

    async def restart(self) -> None:
        """From the first step, when the person says so twice: what was found counts no more."""
        question = "Start over from the first step? What was found until now counts no more; the log keeps it."
        said: int | None = await self.app.push_screen_wait(ChooseScreen(question, ("Yes, start over", "No")))
        if said == 0:
            await self.make(Move(Kind.START_OVER), (OVER,))

    async def stop(self) -> None:
        """Save and leave."""
        if await self.make(Move(Kind.STOP)):
            await self.app.run_action("app.leave")

    async def give_up(self) -> None:
        """End the walk here with a reason, and go back to the first page."""
        try:
            move = await give_up_move(self.app, self.walk)
        except MoveError as error:
            self.draw((refusal(error),))
            return
        if move is not None and await self.make(move):
            self.dismiss(None)

    async def closed(self) -> None:
        """What the walk left open, recorded as closed once it is."""
        from faulttree.tui.later import record_closed

        await record_closed(self.ramp, self.session)
        self.draw()

    # -- pages to look at

    async def wanted(self) -> None:
        """What stands against using the aircraft now."""
        await self.app.push_screen_wait(BlocksScreen("", endings.wanted(self.walk, self.session.times())))

    async def code(self) -> None:
        """The read-back code."""
        await self.app.push_screen_wait(CodeScreen(self.walk))

    async def everything(self) -> None:
        """This page with nothing left out."""
        await self.app.push_screen_wait(WholeScreen(self.rows))

    async def copy(self) -> None:
        """The page as text for another program."""
        self.app.copy_to_clipboard(self._as_text())
        self.draw(("Copied, where the terminal allows it.",))

    async def to_file(self) -> None:
        """The page as text in a file."""
        path: str | None = await self.app.push_screen_wait(
            AskScreen("Put the page into which file?", typed=f"{self.session.id}.txt")
        )
        if path is None:
            return
        try:
            told = f"Saved in {endings.save_text(path, self._as_text())}."
        except FaulttreeError as error:
            told = refusal(error)
        self.draw((told,))

    def _as_text(self) -> str:
        return endings.as_text(self.walk, self.practice, self.session.times(), self.another())
