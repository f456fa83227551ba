"""The walk: its start page, each step, the last look before work, and its end."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence

from faulttree.keys import OFF, ON, Gate, Kind, Move
from faulttree.present.answer import NEEDED
from faulttree.present.progress import visit_words
from faulttree.present.reading import reading_words
from faulttree.present.resting import resting
from faulttree.problems import FaulttreeError, JournalError, MoveError
from faulttree.tui import endings
from faulttree.tui.canvas import Canvas
from faulttree.tui.keyed import ENTER, READING, Keyed, keyed
from faulttree.tui.page import is_warned, walk_page, warning_groups, warning_pages
from faulttree.tui.rows import Row
from faulttree.tui.screens.ask import AskScreen
from faulttree.tui.screens.asking import (
    ask_occupant,
    ask_readings,
    ask_reason,
    ask_role,
    refusal,
    take_over_move,
)
from faulttree.tui.screens.choose import ChooseScreen
from faulttree.tui.screens.code import CodeScreen
from faulttree.tui.screens.fallback import FallbackScreen
from faulttree.tui.screens.paged import Key, PagedScreen
from faulttree.tui.screens.text import BlocksScreen, TextScreen
from faulttree.tui.screens.unrecorded import UnrecordedScreen
from faulttree.tui.screens.whole import WholeScreen
from faulttree.tui.session import Session
from faulttree.tui.start import go_on_words, start
from faulttree.tui.walk_keys import LOOK_AGAIN, answer_keys, is_measured, last_look_keys, move_keys
from faulttree.walk import GOING, HANDED_OVER, Walk, possible_moves


class WalkScreen(PagedScreen[None]):
    """One walk, from where it is to its end or until it is left."""

    title_of_help = "Keys of this page"

    def __init__(self, session: Session, begins: bool) -> None:
        super().__init__()
        self.session = session
        self.begins = begins
        """Whether the start page is still to be read."""
        self.read = 0
        """How many of the new warnings were read: a page begins with the next one, whatever the size of the screen."""
        self.rested: set[tuple[str, ...]] = set()
        """The ways whose last look was offered."""

    @property
    def walk(self) -> Walk:
        """The walk as it was recorded last."""
        return self.session.walk

    @property
    def practice(self) -> bool:
        return self.session.practice

    # -- the page of now

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        walk = self.walk
        if self.begins:
            return start(walk, canvas, self.told)
        if walk.state == HANDED_OVER:
            return endings.hand_over(walk, canvas, self.told)
        if self._is_resting():
            return endings.last_look(walk, canvas, self.told)
        if walk.ended:
            return endings.end(walk, canvas, self.session.times(), self.told)
        if is_warned(walk):
            pages = warning_pages(walk, canvas, self.told)
            return pages[self._warning_page(canvas)]
        return walk_page(walk, canvas, self.told, endings.due(walk, self.session.times()))

    def _is_resting(self) -> bool:
        """Whether the last look before work is to be offered now."""
        walk = self.walk
        way = tuple(visit.step for visit in walk.way)
        return walk.state == GOING and not walk.passed and way not in self.rested and resting(walk) is not None

    # -- keys

    def keys(self) -> Sequence[Key]:
        if self.begins:
            return (Key(ENTER, "go on", go_on_words(self.walk), answer=True), *move_keys(self.walk, asked=False))
        if self._is_resting():
            return (*last_look_keys(resting(self.walk)), *move_keys(self.walk, asked=False))
        return (*answer_keys(self.walk), *move_keys(self.walk))

    # -- presses

    def pressed(self, key: str) -> None:
        if self.begins and key == ENTER:
            self._begin()
        elif key in (ENTER, LOOK_AGAIN) and self._is_resting():
            self._rest(key)
        elif key == ENTER and (self.walk.ended or self.walk.state != GOING):
            self.dismiss(None)
        elif key == READING and is_measured(self.walk):
            self.later(self._reading)
        elif answer := next((each for each in keyed(self.walk) if each.key == key and not self.begins), None):
            self._answer(answer)
        else:
            self.later(self._moves()[key])

    def _moves(self) -> dict[str, Callable[[], Awaitable[object]]]:
        return {
            "f": self._fallback,
            "b": self._back,
            "w": self._wanted,
            "n": lambda: self._text(Kind.NOTE),
            "d": lambda: self._text(Kind.ALSO_FOUND),
            "s": self._stop,
            "h": self._hand_over,
            "l": self._so_far,
            "o": self._occupant,
            "t": self._take_over,
            "k": self._code,
            "e": self._everything,
            "r": self._restart,
            "y": self._copy,
            "p": self._to_file,
        }

    def _begin(self) -> None:
        if self.has_more_below:
            self.move_on()
            return
        self.begins = False
        if self.walk.site.gate(self.walk.key) == Gate.PEOPLE:
            self.later(lambda: self._make(Move(Kind.PEOPLE_HERE)))
        else:
            self.draw()

    def _rest(self, key: str) -> None:
        again = resting(self.walk)
        self.rested.add(tuple(visit.step for visit in self.walk.way))
        if key == LOOK_AGAIN and again and again.alone:
            self.later(lambda: self._make(Move(Kind.BACK, to=again.alone)))
        else:
            self.draw()

    def _answer(self, answer: Keyed) -> None:
        move = answer.choice.move
        if move.kind == Kind.ACKNOWLEDGE:
            self._acknowledge(move)
        elif move.kind == Kind.FINDING and is_measured(self.walk):
            # The digit may be the first of a reading: it is asked about, not taken.
            self.later(lambda: self._reading(answer.key))
        elif answer.choice.asks:
            self.later(lambda: self._with_text(answer))
        elif move.kind == Kind.TAKE_OVER:
            self.later(lambda: self._take_over(move.role))
        else:
            self.later(lambda: self._make(move))

    def _acknowledge(self, move: Move) -> None:
        """A page that was not seen to its end is moved on instead; the last one makes the move."""
        if self.has_more_below:
            self.move_on()
            return
        canvas = self.canvas()
        groups = warning_groups(self.walk, canvas, self.told)
        self.read = groups[self._warning_page(canvas)][-1] + 1
        if self.read <= groups[-1][-1]:
            self.draw()
        else:
            self.later(lambda: self._make(move))

    def _warning_page(self, canvas: Canvas) -> int:
        """Which page of new warnings is shown: the one with the first that was not read."""
        groups = warning_groups(self.walk, canvas, self.told)
        return next((at for at, group in enumerate(groups) if self.read in group), len(groups) - 1)

    # -- moves

    async def _make(self, move: Move, told: Sequence[str] = ()) -> bool:
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
        self.draw(told)
        return True

    async def _with_text(self, answer: Keyed) -> None:
        text = await ask_reason(self.app, self.walk, answer.choice)
        if text:
            await self._make(Move(answer.choice.move.kind, text=text))
        else:
            self.draw()

    async def _text(self, kind: Kind) -> None:
        typed: str | None = await self.app.push_screen_wait(AskScreen(f"{NEEDED[kind]}:"))
        if typed:
            await self._make(Move(kind, text=typed), ("Written down.",))

    async def _reading(self, typed: str = "") -> None:
        """A reading with its unit, or an answer; near the end of a band it is asked for twice, and both are kept."""
        readings = await ask_readings(self.app, self.walk, typed)
        if isinstance(readings, Move):
            await self._make(readings)
            return
        for first in readings[:-1]:
            if not await self._make(Move(Kind.NOTE, text=f"first reading: {first}")):
                return
        before = self.walk
        if not readings:
            self.draw()
        elif await self._make(Move(Kind.READING, value=readings[-1])):
            self.draw((reading_words(before, self.walk.log[-1].move),))

    async def _fallback(self) -> None:
        worked: int | None = await self.app.push_screen_wait(FallbackScreen(self.walk))
        none = ("Recorded: no line of it worked. Use the operator's emergency procedure.",)
        if (
            worked is None
            or not await self._make(Move(Kind.FALLBACK, line=worked), () if worked else none)
            or not worked
        ):
            return
        occupant = await ask_occupant(self.app, self.walk.library)
        told = ("Recorded. You may hand over now: key h. Going on is your choice.",)
        if occupant and not self.walk.ended:
            await self._make(Move(Kind.OCCUPANT_OFF if occupant == OFF else Kind.OCCUPANT_ON), told)
        else:
            self.draw(told)

    async def _back(self) -> None:
        await self._make(Move(Kind.BACK))

    async def _so_far(self) -> None:
        """The way as numbered lines; a number goes back to that step."""
        visits = [visit for visit in self.walk.way if visit_words(self.walk, visit)]
        lines = [visit_words(self.walk, visit) for visit in visits]
        can_go_back = any(move.kind == Kind.BACK for move in possible_moves(self.walk))
        if not lines or not can_go_back:
            shown = lines or ("Nothing yet.",)
            await self.app.push_screen_wait(TextScreen("Done so far", shown))
            return
        question = "Done so far. A number goes back to that step; the log keeps what was done."
        chosen: int | None = await self.app.push_screen_wait(ChooseScreen(question, lines))
        if chosen is not None and visits[chosen] is not self.walk.way[-1]:
            await self._make(Move(Kind.BACK, to=visits[chosen].step))

    async def _occupant(self) -> None:
        occupant = await ask_occupant(self.app, self.walk.library)
        if occupant in (ON, OFF):
            kind = Kind.OCCUPANT_OFF if occupant == OFF else Kind.OCCUPANT_ON
            if any(move.kind == kind for move in possible_moves(self.walk)):
                await self._make(Move(kind))

    async def _hand_over(self) -> None:
        role = await ask_role(self.app, self.walk.library, "Hand over to whom?")
        if role is not None and await self._make(Move(Kind.HAND_OVER, to=role)):
            self.begins = False
            self.draw()

    async def _take_over(self, role: str = "") -> None:
        before = self.walk.key.role
        move = await take_over_move(self.app, self.walk, role)
        if move is not None and await self._make(move):
            self.begins = self.walk.key.role != before
            self.draw()

    async def _restart(self) -> None:
        await self._make(Move(Kind.START_OVER), ("From the first step. What was found before counts no more.",))

    async def _stop(self) -> None:
        if await self._make(Move(Kind.STOP)):
            await self.app.run_action("app.leave")

    # -- pages beside the walk

    async def _wanted(self) -> None:
        await self.app.push_screen_wait(BlocksScreen("", endings.wanted(self.walk)))

    async def _code(self) -> None:
        await self.app.push_screen_wait(CodeScreen(self.walk))

    async def _everything(self) -> None:
        await self.app.push_screen_wait(WholeScreen(self.rows))

    async def _copy(self) -> None:
        self.app.copy_to_clipboard(endings.as_text(self.walk, self.practice, self.session.times()))
        self.draw(("Copied, where the terminal allows it.",))

    async def _to_file(self) -> None:
        path: str | None = await self.app.push_screen_wait(
            AskScreen("Put the page into which file?", typed=f"{self.session.id}.txt")
        )
        if path is None:
            return
        try:
            saved = endings.save_text(path, endings.as_text(self.walk, self.practice, self.session.times()))
        except FaulttreeError as error:
            self.draw((refusal(error),))
        else:
            self.draw((f"Saved in {saved}.",))
