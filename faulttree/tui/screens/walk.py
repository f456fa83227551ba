"""The walk: its start page, each step, the last look before work, and its end."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence

from faulttree.keys import Gate, Kind, Move
from faulttree.present.after import due_block
from faulttree.present.another import other_tree
from faulttree.present.resting import Way, resting, way_of
from faulttree.tui import endings
from faulttree.tui.canvas import Canvas
from faulttree.tui.keyed import ENTER, FILL_IN, GO_ON, LOOK_AGAIN, READING, Keyed, keyed
from faulttree.tui.page import is_warned, walk_page, warning_groups, warning_pages
from faulttree.tui.rows import Row
from faulttree.tui.screens.paged import Key
from faulttree.tui.screens.walk_moves import WalkMoves
from faulttree.tui.session import Session
from faulttree.tui.start import go_on_words, start
from faulttree.tui.walk_keys import answer_keys, go_on_keys, is_measured, last_look_keys, look_again_keys, move_keys
from faulttree.walk import GOING, HANDED_OVER


class WalkScreen(WalkMoves):
    """One walk, from where it is to its end or until it is left."""

    title_of_help = "Keys of this page"

    def __init__(self, session: Session, begins: bool) -> None:
        super().__init__(session, begins)
        self.rested: set[Way] = set()
        """The ways whose last look was offered."""

    # -- the page of now

    def rows(self, canvas: Canvas) -> Sequence[Row]:
        walk = self.walk
        if self.begins:
            return start(walk, canvas, self.told)
        if walk.state == HANDED_OVER:
            return endings.hand_over(walk, canvas, self.session.times(), self.told)
        if self._is_resting():
            return endings.last_look(walk, canvas, self.told)
        if walk.ended:
            return endings.end(walk, canvas, self.session.times(), self.told, self.another())
        if is_warned(walk):
            pages = warning_pages(walk, canvas, self.told)
            return pages[self._warning_page(canvas)]
        return walk_page(walk, canvas, self.told, due_block(walk, self.session.times()).lines)

    def _is_resting(self) -> bool:
        """Whether the last look before work is to be offered now."""
        walk = self.walk
        return (
            walk.state == GOING
            and not walk.passed
            and way_of(self.walk) not in self.rested
            and resting(walk) is not None
        )

    # -- keys

    def keys(self) -> Sequence[Key]:
        if self.begins:
            return (Key(ENTER, "go on", go_on_words(self.walk), answer=True), *move_keys(self.walk, asked=False))
        if self._is_resting():
            return (*last_look_keys(resting(self.walk)), *move_keys(self.walk, asked=False))
        another = go_on_keys(self.another()) if self.walk.ended else ()
        return (*answer_keys(self.walk), *another, *look_again_keys(self.walk), *move_keys(self.walk))

    def _is_answer(self, key: str) -> bool:
        """Where a reading is asked for, digits open the line that it is typed in: none is lost in moving the page."""
        measures = not self.begins and not self._is_resting() and is_measured(self.walk)
        return super()._is_answer(key) and not (measures and (key == READING or key.isdigit()))

    # -- presses

    def pressed(self, key: str) -> None:
        if self.begins and key == ENTER:
            self._begin()
        elif key in (ENTER, LOOK_AGAIN) and self._is_resting():
            self._rest(key)
        elif key == ENTER and (self.walk.ended or self.walk.state != GOING):
            self.dismiss(None)
        elif key == GO_ON and self.walk.ended:
            self.dismiss(other_tree(self.walk))
        elif key == READING and not self.begins and is_measured(self.walk):
            self.later(self.reading)
        elif answer := self._asked(key):
            self._answer(answer)
        else:
            self.later(self._moves()[key])

    def _asked(self, key: str) -> Keyed | None:
        """The answer of that key, where the page asks for the answers of the step."""
        if self.begins or self._is_resting():
            return None
        return next((each for each in keyed(self.walk) if each.key == key), None)

    def _moves(self) -> dict[str, Callable[[], Awaitable[object]]]:
        return {
            "f": self.fallback,
            "b": self.back,
            "w": self.wanted,
            "c": self.closed,
            "n": self.note,
            "d": self.defect,
            "s": self.stop,
            "h": self.hand_over,
            "l": self.so_far,
            "o": self.occupant,
            "t": self.take_over,
            "k": self.code,
            "e": self.everything,
            "r": self.restart,
            "x": self.give_up,
            "y": self.copy,
            "p": self.to_file,
            FILL_IN: self.fill_in,
            LOOK_AGAIN: self.back_to_misread,
        }

    def _begin(self) -> None:
        self.begins = False
        if self.walk.site.gate(self.walk.key) == Gate.PEOPLE:
            self.later(lambda: self.make(Move(Kind.PEOPLE_HERE)))
        else:
            self.draw()

    def _rest(self, key: str) -> None:
        again = resting(self.walk)
        if key == LOOK_AGAIN and again and again.alone:
            self.later(lambda: self._look_again(again.alone))
        else:
            self.rested.add(way_of(self.walk))
            self.draw()

    async def _look_again(self, step: str) -> None:
        way = way_of(self.walk)
        # Given up because it could not be recorded, the look was not taken, and is offered again.
        if await self.make(Move(Kind.BACK, to=step)):
            self.rested.add(way)

    def _answer(self, answer: Keyed) -> None:
        move = answer.choice.move
        if move.kind == Kind.ACKNOWLEDGE:
            self._acknowledge(move)
        elif move.kind == Kind.FINDING and is_measured(self.walk):
            # The digit may be the first of a reading: it is asked about, not taken.
            self.later(lambda: self.reading(answer.key))
        elif answer.choice.asks:
            self.later(lambda: self.with_text(answer))
        elif move.kind == Kind.TAKE_OVER:
            # The page of a hand-over does not say as whom one goes on, so it is asked.
            role = move.role if self.walk.state == GOING else ""
            self.later(lambda: self.take_over(role))
        elif move.kind == Kind.WAITED:
            self.later(self.waited)
        else:
            self.later(lambda: self.make(move))

    def _acknowledge(self, move: Move) -> None:
        """The next page of warnings; the last one makes the move."""
        canvas = self.canvas()
        groups = warning_groups(self.walk, canvas, self.told)
        self.read = groups[self._warning_page(canvas)][-1] + 1
        if self.read <= groups[-1][-1]:
            self.draw()
        else:
            self.later(lambda: self.make(move))

    def _warning_page(self, canvas: Canvas) -> int:
        """Which page of new warnings is shown: the one with the first that was not read."""
        groups = warning_groups(self.walk, canvas, self.told)
        return next((at for at, group in enumerate(groups) if self.read in group), len(groups) - 1)
