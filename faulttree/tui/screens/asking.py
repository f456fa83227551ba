"""Small conversations: the role, the occupant, what is still open, why something is not possible, a reading."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from textual.app import App

from faulttree.closing import GIVEN_UP, check_may_be_given_up, must_say_who, with_closed
from faulttree.keys import OFF, ON, Kind, Move
from faulttree.model import Check, Library, Occupant
from faulttree.present import Choice, choices
from faulttree.present.answer import NEEDED
from faulttree.present.blocks import TAKEN_AS_ON, item_words, sentence, still_so, with_occupant
from faulttree.present.choices import asked_whether_open
from faulttree.present.over import WHO_CLOSED
from faulttree.present.reading import ask_again, taken
from faulttree.present.refusal import refusal
from faulttree.present.step import TYPE_READING
from faulttree.problems import MoveError
from faulttree.tui.screens.ask import AskScreen
from faulttree.tui.screens.choose import ChooseScreen
from faulttree.walk import Walk

if TYPE_CHECKING:
    from faulttree.tui.app import RampApp

CANNOT_WAIT = "the patient cannot wait"
UNABLE_WHY = ("cannot be seen or reached", "not enough people", CANNOT_WAIT)
CANNOT_WHY = ("no part", "no tool", "no person for it", "no place for it", "unsafe")
OTHER = "something else, in words"
YES, NO = "Yes", "No"
NOT_ANSWERED = TAKEN_AS_ON[0].lower() + TAKEN_AS_ON[1:].removesuffix(".")
"""What leaving the question open means, as one of the answers."""
MOST_READINGS = 3
NOT_GONE_ON = "The walk ends here and is not gone on with. What is open stays in the list until it is closed."


async def ask_reason(app: App[Any], walk: Walk, choice: Choice) -> str | None:
    """The text that an answer needs: a common reason by a digit, or words; None where it was left."""
    reasons = {Kind.UNABLE: UNABLE_WHY, Kind.CANNOT: CANNOT_WHY}.get(choice.move.kind, ())
    step = walk.step
    if choice.move.kind == Kind.UNABLE and isinstance(step, Check) and step.unable and step.unable.why:
        reasons = (step.unable.why, *reasons)
    if reasons:
        chosen: int | None = await app.push_screen_wait(ChooseScreen(f"{choice.asks}?", (*reasons, OTHER)))
        if chosen is None or chosen < len(reasons):
            return None if chosen is None else reasons[chosen]
    typed: str | None = await app.push_screen_wait(AskScreen(f"{choice.asks}:"))
    return typed


async def ask_readings(app: App[Any], walk: Walk, begun: str = "") -> Move | None:
    """The move of a reading; None where it was left. Near an edge it is asked for again, until the readings decide.

    What was read before it was left stays in the log, as a note.

    ``begun`` is what was typed already. A number alone, or an answer's words, may be an answer: then its move comes
    back. What cannot be a reading is said, and asked for again.
    """
    step = walk.step
    limit = walk.library.limits[step.measure] if isinstance(step, Check) else None
    question = f"{limit.text if limit else 'Reading'}:"
    how = f"{TYPE_READING}."
    said: tuple[str, ...] = (how,)
    readings: list[str] = []
    while True:
        typed: str | None = await app.push_screen_wait(AskScreen(question, said, begun))
        begun = ""
        if not typed:
            return Move(Kind.NOTE, text=f"Read and left undecided: {', '.join(readings)}.") if readings else None
        typed, answer = await _reading_or_answer(app, walk, typed, limit.unit if limit else "", asked=not readings)
        if answer is not None:
            return answer
        try:
            again = ask_again(walk, [*readings, typed])
            readings.append(typed)
            if not again:
                return taken(walk, readings)
            said = (again,)
        except MoveError as error:
            readings = readings if len(readings) < MOST_READINGS else []
            said = (refusal(error), f"Read so far: {', '.join(readings)}." if readings else how)


async def _reading_or_answer(app: App[Any], walk: Walk, typed: str, unit: str, asked: bool) -> tuple[str, Move | None]:
    """What was typed as a reading, or the move of the answer that it names; a number alone is asked about.

    Where it is not ``asked``, it is a reading in any case: one was given already.
    """
    findings = [choice for choice in choices(walk) if choice.move.kind == Kind.FINDING and asked]
    for choice in findings:
        if typed.casefold() == choice.words.casefold():
            return typed, choice.move
        if typed == str(choice.number):
            options = (f"the reading {typed} {unit}", f'the answer "{choice.words}", without a reading')
            chosen: int | None = await app.push_screen_wait(ChooseScreen(f'"{typed}" can be', options))
            return (f"{typed} {unit}", None) if chosen == 0 else (typed, choice.move if chosen else None)
    return typed, None


async def ask_occupant(app: App[Any], library: Library, leave: str = "back") -> str | None:
    """On, off, or empty for not answered; None where the question was left. Without such a question, empty."""
    if library.occupant is None:
        return ""
    asked = ChooseScreen(library.occupant.ask, (YES, NO), leave=leave, other=("enter", NOT_ANSWERED))
    answer: int | None = await app.push_screen_wait(asked)
    return None if answer is None else (ON, OFF, "")[answer]


async def ask_fallback_line(app: App[Any], walk: Walk) -> int | None:
    """The number of the fallback's line that worked, 0 for none, None where the question was left."""
    lines = [sentence(line.do) for line in walk.tree.fallback]
    asked = ChooseScreen("Which line worked?", lines, other=("0", "none of them worked"))
    answer: int | None = await app.push_screen_wait(asked)
    return None if answer is None else (answer + 1) % (len(lines) + 1)


async def ask_occupant_and_model(app: App[Any], occupant: Occupant, models: Sequence[str]) -> tuple[str, str] | None:
    """The occupant, and the model where it is said as well; None where the question was left.

    Yes is 1, no is 2 and Enter is not answered, as everywhere; who looks further saves a key by one digit for both.
    """
    both = [(word, model) for word in (YES, NO) for model in models]
    options = (YES, NO, *(f"{word}, and it is {model}" for word, model in both))
    asked = ChooseScreen(occupant.ask, options, leave="another symptom", other=("enter", NOT_ANSWERED))
    answer: int | None = await app.push_screen_wait(asked)
    if answer is None:
        return None
    return [(ON, ""), (OFF, ""), *((ON if word == YES else OFF, model) for word, model in both), ("", "")][answer]


async def ask_role(app: App[Any], library: Library, question: str = "Your role?") -> str | None:
    """A role: of whoever is here now, or of whoever comes next."""
    roles = tuple(library.roles)
    asked = ChooseScreen(question, [f"{name} - {library.roles[name].title}" for name in roles])
    answer: int | None = await app.push_screen_wait(asked)
    return None if answer is None else roles[answer]


async def ask_closed(app: App[Any], walk: Walk, move: Move) -> Move | None:
    """``move`` with the open items that are closed by now, by asking its role for each that it may speak of."""
    closed = []
    for name in asked_whether_open(walk, move.role):
        answer = await _is_closed(app, walk, name)
        if answer is None:
            return None
        closed += [(name, who) for is_closed, who in (answer,) if is_closed]
    return with_closed(move, closed)


async def _is_closed(app: App[Any], walk: Walk, name: str) -> tuple[bool, str] | None:
    """Whether an item is closed, and by whom where that must be said; None where the question was left."""
    text = still_so(walk.library.open_items[name])
    while True:
        answer: int | None = await app.push_screen_wait(ChooseScreen(text, ("Yes, still so", "No, closed")))
        if answer != 1:
            return None if answer is None else (False, "")
        if not must_say_who(walk.site, name):
            return True, ""
        # Without a name it stays open, and is asked again.
        who: str | None = await app.push_screen_wait(
            AskScreen(f"{WHO_CLOSED}:", (item_words(walk.library.open_items[name]),))
        )
        if who:
            return True, who


async def give_up_move(app: App[Any], walk: Walk) -> Move | None:
    """The walk is not gone on with: why; None where the question was left. Raises MoveError where it may not be."""
    check_may_be_given_up(walk.library, walk.key)
    why: str | None = await app.push_screen_wait(AskScreen(f"{NEEDED[Kind.STOP]}:", (NOT_GONE_ON,)))
    return Move(Kind.STOP, label=GIVEN_UP, text=why) if why else None


async def take_over_move(app: RampApp, walk: Walk, role: str = "") -> Move | None:
    """Taking over asks anew: the role, the occupant, and of each open item whether it still is.

    Until it is answered, somebody may be on it: the pages say so, whatever was so when the walk was left.
    """
    with standing_beside(app, with_occupant(walk, "")):
        role = role if role in walk.library.roles else await ask_role(app, walk.library) or ""
        if not role:
            return None
        occupant = await ask_occupant(app, walk.library)
        if occupant is None:
            return None
        app.taken_up = with_occupant(walk, occupant)
        return await ask_closed(app, walk, Move(Kind.TAKE_OVER, role=role, occupant=occupant))


@contextmanager
def standing_beside(app: RampApp, walk: Walk, name: str = "") -> Iterator[None]:
    """Pages stand beside that walk: which it is, the patient's line, what is open and the key of the fallback.

    ``name`` is its id, where it has one that is not known yet.
    """
    before = app.taken_up, app.taken_name
    app.taken_up, app.taken_name = walk, name or app.taken_name
    try:
        yield
    finally:
        app.taken_up, app.taken_name = before
