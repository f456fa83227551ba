"""From the launch to the first check with somebody on the equipment: at most five keys on a usual terminal.

The keys are those that a person presses who reads each page: the symptom, who is on it, and what each page asks for to
go on. On a terminal that is too small for a page, moving it to its end is a key as well.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from shipped import shipped
from tui_runs import PHONE, SHIPPED, USUAL, WIDE, Ramp, running, walk_at

from faulttree.keys import ON, Gate
from faulttree.model import Check
from faulttree.site import Site
from faulttree.symptoms import listed
from faulttree.tui.keyed import keyed

pytestmark = pytest.mark.usefixtures("quick_keys")

MOST = 5
MOST_ON_A_PHONE = 8
NEVER = 20

PLACES = [each.id for each in listed(SHIPPED)]
"""The trees in the order of the first page."""


def occupied_allowed(tree: str) -> bool:
    """Whether the first step may be done with somebody on it, by the first role."""
    whole = shipped().trees[tree]
    library = shipped().library
    assert library is not None
    key = Site(library, whole.variants[whole.models[0]]).begin(library.first_role, ON)
    walk = walk_at(tree, key)
    return isinstance(walk.step, Check) and walk.site.gate(key) not in (Gate.OCCUPANT, Gate.ROLE)


TREES = [tree for tree in PLACES if occupied_allowed(tree)]


def at_the_check(ramp: Ramp) -> bool:
    """Whether the first check is asked and answers count."""
    screen = ramp.screen
    if ramp.name != "WalkScreen" or screen.begins:  # type: ignore[attr-defined]
        return False
    return ramp.walk.site.gate(ramp.walk.key) is None


def next_key(ramp: Ramp) -> str:
    """What goes on from here: that somebody is on it, with the model where one digit says both; and so on."""
    if ramp.name != "WalkScreen":
        options = ramp.screen.options  # type: ignore[attr-defined]
        return str(1 + max((at for at, option in enumerate(options) if option.startswith("Yes")), default=0))
    return "enter" if ramp.screen.begins else keyed(ramp.walk)[0].key  # type: ignore[attr-defined]


async def keys_until_the_check(walks: Path, tree: str, size: tuple[int, int]) -> list[str]:
    """The keys that were pressed from the first page of the program to the first check."""
    async with running(walks, size=size) as ramp:
        pressed = [str(PLACES.index(tree) + 1)]
        await ramp.press(*pressed)
        while not at_the_check(ramp) and len(pressed) < NEVER:
            pressed.append(next_key(ramp))
            await ramp.press(pressed[-1])
        assert ramp.walk.tree.id == tree
        assert ramp.walk.key.occupant == ON
        assert ramp.walk.key.step == ramp.walk.site.variant.start
        return pressed


def test_there_are_trees_whose_first_check_may_be_done_with_somebody_on_it() -> None:
    assert len(TREES) >= 3
    assert len(PLACES) <= 9, "with more the first page has to be turned"


@pytest.mark.parametrize("size", [USUAL, WIDE], ids=str)
@pytest.mark.parametrize("tree", TREES)
async def test_five_keys_lead_to_the_first_check(walks: Path, tree: str, size: tuple[int, int]) -> None:
    pressed = await keys_until_the_check(walks, tree, size)
    assert len(pressed) <= MOST, pressed


@pytest.mark.parametrize("tree", TREES)
async def test_on_a_phone_each_warning_takes_a_key_and_the_start_page_two(walks: Path, tree: str) -> None:
    """A warning in full fills a screen of 40 by 20, and the first actions with theirs fill two."""
    pressed = await keys_until_the_check(walks, tree, PHONE)
    screens = pressed.count("enter")
    assert screens <= 2, pressed
    assert pressed[2:] == ["enter"] * screens + ["a"] * (len(pressed) - 2 - screens), pressed
    assert len(pressed) <= MOST_ON_A_PHONE, pressed
