"""Line mode: one question, numbered answers, one line of input. No cursor movement, so that it works with a screen
reader, over a serial line and in a pipe.

Every move is in the journal before the next question is shown. The words come from `present`; nothing here decides
what is allowed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from faulttree.cli.closing import close_items
from faulttree.cli.exits import ExitCode
from faulttree.cli.filling import fill_in_blanks
from faulttree.cli.keeping import Keeping
from faulttree.cli.lines import Finished, ask_occupant, ask_yes_no, refuse, show, take_over_move, wrapped
from faulttree.cli.listening import FALLBACK, Said, show_aside, show_fallback, show_words, word_anywhere
from faulttree.cli.output import out
from faulttree.keys import OFF, Gate, Kind, Move
from faulttree.present import Block, hand_over_page, in_the_lines, next_line, screen
from faulttree.present.after import CUT_SHORT, due_block, too_early
from faulttree.present.another import Another, other_tree
from faulttree.present.answer import Aside, Meant, completed, understand, whole_number
from faulttree.present.blocks import first_line, status_block
from faulttree.present.choices import SAID_OF_WORK, fallback_has_worked
from faulttree.present.filling import FILL_IN, asked_for
from faulttree.present.reading import ask_again, taken
from faulttree.present.resting import Way, resting, resting_blocks, way_of
from faulttree.problems import MoveError
from faulttree.sessions import now
from faulttree.walk import HANDED_OVER, STOPPED, Walk

NEXT_ONE = f'"{Kind.ACKNOWLEDGE}", or Enter for the next one: '
"""Each warning is left by the word that is asked for after the last one; it is recorded there, for all of them."""
GO_ON = "Enter to go on, where it was read right: "
LOOK_AGAIN = 'Enter to go on, where it was read right, or "look again" to go back to that look: '


class Dialogue(Keeping):
    """A walk in line mode, from where it is to its end or until the person stops."""

    rested: frozenset[Way] = frozenset()
    """The ways whose last look was taken."""

    def run(self, fallback_was_shown: bool = False) -> ExitCode:
        """Ask until the walk ends, is handed over or is stopped.

        ``fallback_was_shown`` before the walk could record anything: then it is asked first which line of it worked.
        """
        try:
            if fallback_was_shown and self.can_record_fallback:
                self._attempt(self._which_line_worked)
            return self._until_left()
        except Finished as finished:
            return finished.code
        except BaseException:
            self.last_line()
            raise

    def _until_left(self) -> ExitCode:
        while (code := self.left()) is None:
            here = self.walk
            self._show()
            while self.walk is here:
                self._one_answer()
        return code

    def left(self) -> ExitCode | None:
        """The exit code of a walk that is left, once its last page was shown; None while it goes on."""
        if self.walk.state == HANDED_OVER:
            show((*hand_over_page(self.walk, self.practice), due_block(self.walk, self.times())))
            return ExitCode.DONE
        if self.walk.given_up:
            # It has ended as well as any other way: nothing waits but what is open.
            self.last_line()
            return ExitCode.DONE
        if self.walk.state == STOPPED:
            self.last_line()
            return ExitCode.UNFINISHED
        return None

    def close(self, role: str) -> ExitCode:
        """Of a walk that is over, ask what is closed by now; the end stays as it was."""
        try:
            close_items(self.walk, self.lines, role, self._made)
        except Finished as finished:
            self.last_line()
            return finished.code
        except Said:
            self.last_line()
            return ExitCode.UNFINISHED
        except BaseException:
            self.last_line()
            raise
        return ExitCode.DONE

    def _made(self, move: Move) -> Walk:
        self.move(move)
        return self.walk

    # -- what is shown

    def _show(self) -> None:
        """The last look, where it is to be taken; then what is asked now, unless the person went elsewhere."""
        here = self.walk
        self._last_look()
        if self.walk is here:
            self._show_page()

    def _last_look(self) -> None:
        """Before the first work, or an end without: what it rests on, and the one look that decides offered again.

        Where nobody sits who could look again, it is only told: it takes no answer out of a file or a pipe.
        """
        found = None if way_of(self.walk) in self.rested else resting(self.walk)
        if found is None:
            return
        head = (status_block(self.walk, self.practice), *first_line(self.walk)) if self.lines.attended else ()
        show((*head, *resting_blocks(self.walk, found)))
        if not self.lines.attended or self._turned(LOOK_AGAIN if found.alone else GO_ON, found.alone):
            self.rested |= {way_of(self.walk)}

    def _show_page(self) -> None:
        """The whole screen; between the lines of a fix, which was just shown whole, only the next line."""
        short = in_the_lines(self.walk) and self.walk.log[-1].move.kind == Kind.DONE
        blocks = next_line(self.walk, self.practice) if short else self._whole_screen()
        if self.walk.site.gate(self.walk.key) == Gate.WARNINGS and self.lines.attended:
            self._one_by_one(blocks)
        else:
            show(blocks)

    def _whole_screen(self) -> Sequence[Block]:
        tree = other_tree(self.walk)
        return screen(self.walk, self.practice, self.times(), self.another(tree) if tree else Another())

    def _one_by_one(self, blocks: Sequence[Block]) -> None:
        """Show all warnings but the last, each until the person goes on, so that none runs off a small screen."""
        last = max((at for at, block in enumerate(blocks) if block.kind in ("warning", "caution")), default=0)
        begun = 0
        for at, block in enumerate(blocks[:last]):
            if block.kind in ("warning", "caution"):
                show(blocks[begun : at + 1])
                begun = at + 1
                if not self._turned(NEXT_ONE, by=Kind.ACKNOWLEDGE):
                    return
        show(blocks[begun:])

    def _turned(self, prompt: str, look: str = "", by: str = "") -> bool:
        """Whether the person goes on to what comes next here: by Enter, and not by a move that leads elsewhere.

        ``look`` is the step that "look again" goes back to, ``by`` the answer that does the same as Enter.
        """
        here = self.walk
        while self.walk is here:
            out("")
            # After a fallback line that worked handing over is offered first here too: the answers come further on.
            first = '"hand over", or ' if fallback_has_worked(self.walk) else ""
            typed = self.typed.read(f"{first}{prompt}")
            if typed is not None and (not typed.strip() or (by and self._means(typed) == by)):
                return True
            again = look and (typed or "").strip().casefold() == "look again"
            typed = f"{Kind.BACK} {look}" if again else typed
            self._attempt(self._out_of_input if typed is None else partial(self._take, typed, is_asked=False))
        return False

    def _means(self, typed: str) -> str:
        """The kind of move that was typed; empty where it is none."""
        try:
            meant = understand(self.walk, typed)
        except MoveError:
            return ""
        return meant.move.kind if isinstance(meant, Meant) else ""

    # -- what is typed

    def _one_answer(self) -> None:
        """Read an answer and do what it says. A walk that does not go on is not shown again: the answer stands last."""
        out("")
        answer = self.typed.read(self._prompt())
        self._attempt(self._out_of_input if answer is None else partial(self._take, answer))

    def _prompt(self) -> str:
        """At the end one may still note something, or go back where no check passed."""
        if not self.walk.ended:
            return "> "
        words = [] if self.walk.passed else ["back"]
        words += ["note", "also found"]
        words += ["closed"] if self.walk.key.open_items else []
        words += [FILL_IN] if asked_for(self.walk) else []
        return f"{', '.join(words).capitalize()}, or Enter to leave: "

    def _attempt(self, do: Callable[[], None]) -> None:
        """Do what was typed. A word that is heard everywhere, typed where more was asked, takes its place."""
        while True:
            try:
                return do()
            except MoveError as error:
                return refuse(self.lines, error)
            except Said as said:
                do = partial(self._take, said.word)
            except Finished as finished:
                if finished.code == ExitCode.DONE:
                    raise
                do = self._out_of_input

    def _out_of_input(self) -> None:
        """Nobody answers any more: the walk waits, or has come to its end."""
        if self.walk.ended:
            raise Finished(ExitCode.DONE)
        self.move(Move(Kind.STOP))

    def _take(self, answer: str, is_asked: bool = True) -> None:
        """Do what was typed. What says that something was read, found or done counts only where it ``is_asked``."""
        if self.walk.ended and answer.strip().casefold() in ("", "stop", "leave"):
            raise Finished(ExitCode.DONE)
        if self.walk.ended and answer.strip().casefold() == Kind.CLOSED:
            close_items(self.walk, self.lines, "", self._made)
            return
        if self.walk.ended and answer.strip().casefold() == FILL_IN:
            fill_in_blanks(self.walk, self.lines, self._made)
            return
        meant = understand(self.walk, word_anywhere(answer) or answer)
        if isinstance(meant, Aside):
            self._aside(meant)
        elif not is_asked and meant.move.kind in SAID_OF_WORK:
            raise MoveError(f'"{meant.move.kind}" is asked for further on', "press Enter to come to it")
        else:
            self.move(self._whole(meant))

    def _whole(self, meant: Meant) -> Move:
        """The move, after asking for the text that it cannot do without."""
        if meant.move.kind == Kind.READING and self.lines.attended:
            return self._read_again(meant.move.value)
        if meant.move.kind == Kind.WAITED:
            return self._waited()
        if not meant.asks:
            return meant.move
        text = self.lines.read(f"{meant.asks}: ")
        if text is None:
            raise Finished(ExitCode.UNFINISHED)
        return completed(meant, text)

    def _waited(self) -> Move:
        """The time is over. Where the clock says otherwise, it is asked again; where nobody can be, it is marked."""
        times = self.times()
        question = too_early(self.walk, times, now()) if times else ""
        if question and self.lines.attended and ask_yes_no(self.lines, question) == "no":
            raise MoveError("the wait is not over", "go on when it is")
        return Move(Kind.WAITED, text=CUT_SHORT if question else "")

    def _read_again(self, typed: str) -> Move:
        """Readings near an edge are taken again, where somebody sits there who can."""
        readings = [typed]
        while again := ask_again(self.walk, readings):
            answer = self.lines.read(f"{again} With its unit: ")
            if answer is None:
                raise Finished(ExitCode.UNFINISHED)
            try:
                ask_again(self.walk, [*readings, answer.strip()])
                readings.append(answer.strip())
            except MoveError as error:
                refuse(self.lines, error)
        return taken(self.walk, readings)

    def _aside(self, aside: Aside) -> None:
        if aside.word == FALLBACK:
            self._fallback()
        elif aside.word == "help":
            show_words(self.words)
        elif aside.word == "take over":
            self.move(take_over_move(self.walk, self.lines, aside.rest))
        else:
            show_aside(self.walk, aside.word, self.has_code)

    def _fallback(self) -> None:
        """Show it at once; only afterwards ask whether a line of it worked."""
        show_fallback(self.walk)
        if self.can_record_fallback:
            self._which_line_worked()

    def _which_line_worked(self) -> None:
        out("")
        count = len(self.walk.tree.fallback)
        answer = self.lines.read(f"Which line worked? 1 to {count}, 0 for none: ")
        if answer is None:
            raise Finished(ExitCode.UNFINISHED)
        line = whole_number(answer.strip())
        if line is None:
            raise MoveError(f'"{answer}" is no line of the fallback', f"type fallback again, then 0 to {count}")
        self.move(Move(Kind.FALLBACK, line=line))
        if line:
            self._occupant_anew()
        if line and not self.walk.ended:
            out("")
            out(wrapped('Recorded. You may hand over now: type "hand over". Going on is your choice.'))

    def _occupant_anew(self) -> None:
        """After a line that worked somebody may have been taken off, or put on."""
        occupant = ask_occupant(self.walk.library, self.lines)
        if occupant and not self.walk.ended:
            self.move(Move(Kind.OCCUPANT_OFF if occupant == OFF else Kind.OCCUPANT_ON))
