"""Hands for the ramp screen: moves made by the keys that a person would press for them."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from tui_runs import Ramp, next_move, way_to

from faulttree.closing import said_closed
from faulttree.keys import OFF, ON, Kind, Move
from faulttree.present.progress import visit_words
from faulttree.present.start import LIST_TITLE
from faulttree.tui.keyed import keyed
from faulttree.tui.widgets.paper import Paper
from faulttree.walk import Walk

YES, NO, NOT_ANSWERED = "1", "2", "enter"
OCCUPANT_KEYS = {ON: YES, OFF: NO, "": NOT_ANSWERED}

MOST = 120
"""How often something is done until what is waited for has come; then the test fails."""


async def until(is_so: Callable[[], bool], do: Callable[[], Awaitable[None]], most: int = MOST) -> None:
    """Do something until it is so, and never without end."""
    for _ in range(most):
        if is_so():
            return
        await do()
    assert is_so(), f"not so after {most} times"


async def seen(ramp: Ramp) -> None:
    """Move the page on until every row of it was on the screen: an answer counts only then."""
    paper = ramp.screen.query(Paper).first()
    await until(lambda: paper.is_seen, lambda: ramp.press("pagedown"))


async def answer(ramp: Ramp, *keys: str) -> None:
    """Press keys that answer, each once its page was seen to its end."""
    for key in keys:
        await seen(ramp)
        await ramp.press(key)


def key_of(walk: Walk, move: Move) -> str:
    """The key of the answer that makes a move; of a choice by what the move is about."""
    for each in keyed(walk):
        made = each.choice.move
        if made.kind == move.kind and made.label == move.label and made.item == move.item:
            return each.key
    raise AssertionError(f"no key for {move}")


async def to_the_work(ramp: Ramp) -> None:
    """Go on over the start page and the last look, which stand before the page of now."""
    for _ in range(3):
        if ramp.name == "WalkScreen" and (ramp.screen.begins or ramp.screen._is_resting()):  # type: ignore[attr-defined]
            await answer(ramp, "enter")


async def make(ramp: Ramp, move: Move) -> None:
    """Make a move by its keys. What the start page makes of its own accord is not made again."""
    before = len(ramp.walk.log)
    await to_the_work(ramp)
    if len(ramp.walk.log) == before:
        await _made(ramp, move)
    if ramp.name == "BlocksScreen" and ramp.shows(LIST_TITLE):
        await ramp.press("enter")


async def _made(ramp: Ramp, move: Move) -> None:
    kind = move.kind
    if kind == Kind.ACKNOWLEDGE:
        log = len(ramp.walk.log)
        await until(lambda: len(ramp.walk.log) > log, lambda: answer(ramp, "a"))
    elif kind == Kind.READING:
        await _read(ramp, move)
    elif kind == Kind.FINDING:
        await _found(ramp, move)
    elif kind in (Kind.UNABLE, Kind.CANNOT, Kind.INSPECTED):
        await _with_text(ramp, move)
    elif kind in (Kind.NOTE, Kind.ALSO_FOUND):
        await ramp.press("n" if kind == Kind.NOTE else "d")
        await ramp.enter(move.text)
    elif kind == Kind.TAKE_OVER:
        await _take_over(ramp, move)
    elif kind == Kind.BACK:
        await _back(ramp, move)
    elif kind in (Kind.OCCUPANT_OFF, Kind.OCCUPANT_ON) and not _has_digit(ramp, kind):
        await ramp.press("o")
        await answer(ramp, NO if kind == Kind.OCCUPANT_OFF else YES)
    elif kind == Kind.FALLBACK:
        await _fallback(ramp, move)
    elif kind in (Kind.STOP, Kind.START_OVER):
        await ramp.press("s" if kind == Kind.STOP else "r")
        await answer(ramp, *([YES] if kind == Kind.START_OVER else []))
    elif kind == Kind.HAND_OVER:
        await answer(ramp, "h")
        if ramp.name == "ChooseScreen":
            await answer(ramp, _role_key(ramp, move.to))
    else:
        await answer(ramp, key_of(ramp.walk, move))
        if kind == Kind.WAITED and ramp.name == "ChooseScreen":
            await answer(ramp, YES)


async def _read(ramp: Ramp, move: Move) -> None:
    """A reading; taken again with the same figure where it lies near an edge."""
    await answer(ramp, "m")
    await ramp.enter(move.value)
    if ramp.name == "AskScreen":
        await ramp.enter(move.value)


async def _found(ramp: Ramp, move: Move) -> None:
    """A finding by its digit; where a reading may be meant by it, said to be the answer."""
    await answer(ramp, key_of(ramp.walk, move))
    if ramp.name == "AskScreen":
        await ramp.press("enter")
        await answer(ramp, "2")


async def _fallback(ramp: Ramp, move: Move) -> None:
    """Read it, say which line worked, and who is on it after that."""
    await ramp.press("f")
    await answer(ramp, "enter", str(move.line))
    if move.line and ramp.name == "ChooseScreen":
        await answer(ramp, OCCUPANT_KEYS[move.occupant])


async def _with_text(ramp: Ramp, move: Move) -> None:
    """A reason in words: the last of the reasons that have digits."""
    await answer(ramp, key_of(ramp.walk, move))
    if ramp.name == "ChooseScreen":
        await answer(ramp, str(len(ramp.screen.options)))  # type: ignore[attr-defined]
    await ramp.enter(move.text)


async def _take_over(ramp: Ramp, move: Move) -> None:
    await answer(ramp, "t")
    if ramp.screen.question == "Your role?":  # type: ignore[attr-defined]
        await answer(ramp, _role_key(ramp, move.role))
    if ramp.walk.library.occupant is not None:
        await answer(ramp, OCCUPANT_KEYS[move.occupant])
    for name in ramp.walk.library.open_items:
        if ramp.name == "ChooseScreen" and name in ramp.walk.key.open_items:
            await answer(ramp, NO if name in move.closed else YES)
            if ramp.name == "AskScreen":
                await ramp.enter(dict(said_closed(move))[name])


async def _back(ramp: Ramp, move: Move) -> None:
    """One step back by b; further by the number of the line in what was done so far."""
    if not move.to:
        await ramp.press("b")
        return
    await ramp.press("l")
    steps = [visit.step for visit in ramp.walk.way if visit_words(ramp.walk, visit)]
    at = max(at for at, step in enumerate(steps) if step == move.to)
    await ramp.press(*["x"] * (at // 9))
    await answer(ramp, str(at % 9 + 1))


def _has_digit(ramp: Ramp, kind: Kind) -> bool:
    return any(each.choice.move.kind == kind for each in keyed(ramp.walk))


def _role_key(ramp: Ramp, role: str) -> str:
    return str(1 + list(ramp.walk.library.roles).index(role))


async def lead_to(ramp: Ramp, target: str) -> None:
    """Bring the walk from its start to a step, and over the gates that stand before it."""
    for step, label in way_to(ramp.walk.site.variant, target):
        await until(
            lambda step=step: ramp.walk.key.step != step, lambda label=label: make(ramp, next_move(ramp.walk, label))
        )
    await until(lambda: ramp.walk.site.gate(ramp.walk.key) is None, lambda: make(ramp, next_move(ramp.walk, "")))
    await to_the_work(ramp)
