"""Hands for the ramp screen: moves made by the keys that a person would press for them."""

from __future__ import annotations

from tui_runs import Ramp, next_move, way_to

from faulttree.keys import OFF, ON, Kind, Move
from faulttree.tui.keyed import keyed
from faulttree.walk import Walk

YES, NO, NOT_ANSWERED = "1", "2", "enter"
OCCUPANT_KEYS = {ON: YES, OFF: NO, "": NOT_ANSWERED}
LETTERS = {Kind.STOP: "s", Kind.START_OVER: "r", Kind.HAND_OVER: "h"}


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
            await ramp.press("enter")


async def make(ramp: Ramp, move: Move) -> None:
    """Make a move by its keys. What the start page makes of its own accord is not made again."""
    before = len(ramp.walk.log)
    await to_the_work(ramp)
    if len(ramp.walk.log) == before:
        await _made(ramp, move)


async def _made(ramp: Ramp, move: Move) -> None:
    kind = move.kind
    if kind == Kind.ACKNOWLEDGE:
        log = len(ramp.walk.log)
        while len(ramp.walk.log) == log:
            await ramp.press("a")
    elif kind == Kind.READING:
        await ramp.press("m")
        await ramp.enter(move.value)
        if ramp.name == "AskScreen":
            await ramp.enter(move.value)
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
        await ramp.press("o", NO if kind == Kind.OCCUPANT_OFF else YES)
    elif kind == Kind.FALLBACK:
        await ramp.press("f", str(move.line))
        if move.line and ramp.name == "ChooseScreen":
            await ramp.press(OCCUPANT_KEYS[move.occupant])
    elif kind in LETTERS:
        await ramp.press(LETTERS[kind], *([_role_key(ramp, move.to)] if kind == Kind.HAND_OVER else []))
    else:
        await ramp.press(key_of(ramp.walk, move))


async def _with_text(ramp: Ramp, move: Move) -> None:
    """A reason in words: the last of the reasons that have digits."""
    await ramp.press(key_of(ramp.walk, move))
    if ramp.name == "ChooseScreen":
        await ramp.press(str(len(ramp.screen.options)))  # type: ignore[attr-defined]
    await ramp.enter(move.text)


async def _take_over(ramp: Ramp, move: Move) -> None:
    offered = [each for each in keyed(ramp.walk) if each.choice.move.kind == Kind.TAKE_OVER]
    await ramp.press("t")
    if not offered or ramp.screen.question == "Your role?":  # type: ignore[attr-defined]
        await ramp.press(_role_key(ramp, move.role))
    if ramp.walk.library.occupant is not None:
        await ramp.press(OCCUPANT_KEYS[move.occupant])
    for name in ramp.walk.library.open_items:
        if ramp.name == "ChooseScreen" and name in ramp.walk.key.open_items:
            await ramp.press("2" if name in move.closed else "1")


async def _back(ramp: Ramp, move: Move) -> None:
    """One step back by b; further by the number of the line in what was done so far."""
    if not move.to:
        await ramp.press("b")
        return
    await ramp.press("l")
    steps = [visit.step for visit in ramp.walk.way if visit.moves]
    at = max(at for at, step in enumerate(steps) if step == move.to)
    await ramp.press(*["x"] * (at // 9), str(at % 9 + 1))


def _has_digit(ramp: Ramp, kind: Kind) -> bool:
    return any(each.choice.move.kind == kind for each in keyed(ramp.walk))


def _role_key(ramp: Ramp, role: str) -> str:
    return str(1 + list(ramp.walk.library.roles).index(role))


async def lead_to(ramp: Ramp, target: str) -> None:
    """Bring the walk from its start to a step, and over the gates that stand before it."""
    for step, answer in way_to(ramp.walk.site.variant, target):
        while ramp.walk.key.step == step:
            await make(ramp, next_move(ramp.walk, answer))
    while ramp.walk.site.gate(ramp.walk.key) is not None:
        await make(ramp, next_move(ramp.walk, ""))
    await to_the_work(ramp)
