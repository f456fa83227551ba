"""The screen while a walk is taken up, what is closed after the end, a walk that is given up, and the list of them."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from test_present_after import all_done, rel
from tui_hands import answer, make, seen, to_the_work
from tui_runs import FREE, LAMP, PHONE, REL, SHIPPED, USUAL, WHEEL, Ramp, answer_begin, loaded, running

from faulttree.closing import GIVEN_UP
from faulttree.compare.steps import title
from faulttree.journal import Facts, Journal, read_journal, summaries
from faulttree.keys import OFF, ON, Kind, Move
from faulttree.problems import JournalError
from faulttree.sessions import ready, started
from faulttree.tui.session import Session
from faulttree.walk import STOPPED

pytestmark = pytest.mark.usefixtures("quick_keys")

HELD = Move(Kind.FALLBACK, line=2, occupant=OFF)
"""A line of the fallback worked: the lock is open, and the mount has a tag."""


async def left(walks: Path, *moves: Move) -> str:
    """A walk that was left after these moves; its id."""
    async with running(walks, REL, "mechanic") as ramp:
        await answer_begin(ramp, FREE)
        await to_the_work(ramp)
        for move in (HELD, *moves):
            await make(ramp, move)
        if not ramp.is_left:
            await ramp.press("s")
        return ramp.session.id


async def ended(walks: Path) -> str:
    """A walk that was given up, with a duty open; its id."""
    walk_id = await left(walks)
    async with running(walks, role="mechanic", resume=walk_id) as ramp:
        await answer(ramp, "2", "2", "1")
        assert ramp.name == "WalkScreen"
        await ramp.press("x")
        await ramp.enter("wrong cot")
        assert ramp.name == "FindScreen"
    return walk_id


# -- taking up


def is_in_sight(ramp: Ramp, patient: bool = True) -> bool:
    """The patient's line with the way to the fallback, what is open, and the fallback's key in the row of keys."""
    is_open = ramp.shows("OPEN, 2: HAZARD lock open; mount out")
    return ramp.shows("Patient first. Cannot wait: key f.") == patient and is_open


@pytest.mark.parametrize("size", [PHONE, USUAL])
async def test_every_page_of_taking_up_has_the_patient_what_is_open_and_the_fallback(
    walks: Path, size: tuple[int, int]
) -> None:
    walk_id = await left(walks)
    async with running(walks, resume=walk_id, size=size) as ramp:
        for key in ("1", "1", "1"):
            assert ramp.name == "ChooseScreen"
            assert is_in_sight(ramp), ramp.text
            await ramp.press("f")
            assert ramp.name == "FallbackScreen"
            assert ramp.shows("Fallback: when it cannot wait")
            await answer(ramp, "escape")
            assert is_in_sight(ramp)
            await answer(ramp, key)
        assert ramp.shows("DUTY") is False, "the first role passes duties on"
        assert ramp.name == "WalkScreen"
        assert (ramp.walk.key.occupant, ramp.app.taken_up) == (ON, None)


async def test_with_nobody_on_it_the_pages_that_follow_say_so(walks: Path) -> None:
    walk_id = await left(walks)
    async with running(walks, role="mechanic", resume=walk_id) as ramp:
        assert is_in_sight(ramp), "until it is answered somebody may be on it"
        await answer(ramp, "2")
        assert ramp.shows("HAZARD")
        assert is_in_sight(ramp, patient=False)
        await ramp.press("b")
        assert (ramp.name, ramp.app.taken_up) == ("FindScreen", None)


async def test_taking_over_in_a_walk_shows_the_patient_of_the_answer(walks: Path) -> None:
    async with running(walks, REL, "mechanic") as ramp:
        await answer_begin(ramp, FREE)
        await to_the_work(ramp)
        await make(ramp, HELD)
        assert ramp.walk.key.occupant == OFF
        await ramp.press("t")
        assert ramp.shows("Your role?")
        assert is_in_sight(ramp)
        await answer(ramp, "2", "1")
        assert ramp.shows("HAZARD")
        assert is_in_sight(ramp), "the walk still says nobody, the answer does not"
        await answer(ramp, "1", "1")
        assert (ramp.walk.key.occupant, ramp.app.taken_up) == (ON, None)


async def test_who_goes_on_from_a_code_sees_the_patient_and_the_fallback(walks: Path) -> None:
    from faulttree.readback import encode

    async with running(walks, REL) as ramp:
        await answer_begin(ramp, FREE)
        code = encode(ramp.walk)
    async with running(walks, REL, code=code) as ramp:
        for key in ("2", "1"):
            assert ramp.shows("Patient first. Cannot wait: key f.")
            await answer(ramp, key)
        assert ramp.shows("Is a patient on the cot?")
        await ramp.press("f")
        assert ramp.name == "FallbackScreen"


async def test_a_line_that_worked_while_a_walk_was_taken_up_is_asked_for_once_it_is(walks: Path) -> None:
    """Nothing could be recorded while it was read, and nothing was asked afterwards."""
    walk_id = await left(walks)
    async with running(walks, resume=walk_id) as ramp:
        await ramp.press("f")
        await answer(ramp, "enter")
        assert ramp.shows("Your role?"), "what was asked is asked still"
        await answer(ramp, "2", "1", "1", "1")
        assert ramp.shows("Which line worked?")
        await answer(ramp, "1", "2")
        assert [line.move.kind for line in ramp.walk.log[-3:]] == [Kind.TAKE_OVER, Kind.FALLBACK, Kind.OCCUPANT_OFF]
        assert ramp.name == "WalkScreen"
        await ramp.press("f", "escape")
        assert ramp.name == "WalkScreen", "it is asked once"


async def test_a_line_that_worked_before_a_walk_began_is_asked_for_in_it(walks: Path) -> None:
    async with running(walks, REL) as ramp:
        await ramp.press("f")
        await answer(ramp, "enter", "1")
        assert ramp.shows("Which line worked?")
        await answer(ramp, "0")
        assert ramp.kinds == [Kind.BEGIN, Kind.FALLBACK]
    async with running(walks, REL) as ramp:
        await ramp.press("f")
        await answer(ramp, "enter")
        await ramp.press("b", "2")
        await answer_begin(ramp)
        assert ramp.name == "WalkScreen", "another walk does not owe it"


async def test_a_line_that_worked_is_asked_for_where_the_tree_was_withdrawn_too(walks: Path, tmp_path: Path) -> None:
    walk_id = await left(walks)
    library = changed(tmp_path / "library", WITHDRAWN)
    async with running(walks, role="mechanic", library=library, resume=walk_id) as ramp:
        await withdrawn(ramp)
        await answer(ramp, "1")
        assert ramp.shows("Hand over to whom?")
        await ramp.press("f")
        await answer(ramp, "enter")
        assert ramp.shows("Which line worked?")
        await answer(ramp, "1", "2")
        assert ramp.shows("THIS TREE HAS BEEN WITHDRAWN")
    entries = read_journal(walks / f"{walk_id}.jsonl").entries
    assert [entry.move.kind for entry in entries[-3:]] == [Kind.TAKE_OVER, Kind.FALLBACK, Kind.OCCUPANT_OFF]


# -- closed after the end


async def test_an_item_is_closed_after_the_end_and_the_walk_leaves_the_list(walks: Path) -> None:
    walk_id = await ended(walks)
    async with running(walks) as ramp:
        assert ramp.shows("1 ended walk with something open")
        await answer(ramp, "0", "1")
        assert ramp.name == "EndedScreen"
        assert ramp.shows("was given up (wrong cot)")
        await ramp.press("c")
        await answer(ramp, "2")
        assert ramp.shows("Which of these is closed by now?")
        assert ramp.shows("DUTY: Tag on the mount.")
        await answer(ramp, "1")
        await ramp.press("escape")
        assert ramp.name == "EndedScreen", "without a name nothing is recorded"
        assert len(read_journal(walks / f"{walk_id}.jsonl").entries) == (await _moves(walks))
        await ramp.press("c")
        await answer(ramp, "2", "1")
        await ramp.enter("A. B.")
        assert ramp.shows("Nothing of this walk is open any more.")
        await answer(ramp, "enter", "enter")
        assert ramp.name == "FindScreen"
        assert not ramp.shows("something open")
    last = read_journal(walks / f"{walk_id}.jsonl").entries[-1]
    assert (last.move, last.open_items, last.state) == (
        Move(Kind.CLOSED, item="mount-out-of-use", role="mechanic", text="A. B."),
        (),
        STOPPED,
    )


async def _moves(walks: Path) -> int:
    [each] = summaries(walks, include_ended=True)
    return each.moves


async def test_the_first_role_is_told_whose_the_duty_is(walks: Path) -> None:
    walk_id = await ended(walks)
    async with running(walks, resume=walk_id) as ramp:
        await ramp.press("c")
        await answer(ramp, "1")
        assert ramp.shows("1 duty is for somebody else to close: mechanic or inspector or engineering.")
        await answer(ramp, "enter")
        assert ramp.name == "EndedScreen"
        await ramp.press("b")
        assert ramp.name == "FindScreen"


async def test_what_cannot_be_recorded_is_not_closed(walks: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    walk_id = await ended(walks)
    async with running(walks, role="mechanic", resume=walk_id) as ramp:
        whole = Journal.append

        def full(*args: object) -> None:
            raise JournalError("the disk is full", "make room")

        monkeypatch.setattr(Journal, "append", full)
        await ramp.press("c")
        await answer(ramp, "1")
        await ramp.enter("A. B.")
        assert ramp.name == "UnrecordedScreen"
        assert ramp.shows("OPEN, 1: mount out of use")
        await ramp.press("b")
        assert ramp.name == "EndedScreen"
        await ramp.press("c")
        await answer(ramp, "1")
        await ramp.enter("A. B.")
        monkeypatch.setattr(Journal, "append", whole)
        await ramp.press("enter")
        assert ramp.shows("Nothing of this walk is open any more.")
    assert read_journal(walks / f"{walk_id}.jsonl").entries[-1].open_items == ()


async def test_at_its_end_an_item_is_closed_by_its_key(walks: Path) -> None:
    async with running(walks, LAMP, "repairer", model="Finch") as ramp:
        for move in (
            Move(Kind.ACKNOWLEDGE),
            Move(Kind.FINDING, label="Stays dark"),
            Move(Kind.FINDING, label="No click"),
            Move(Kind.UNABLE, text="no key"),
        ):
            await make(ramp, move)
        assert ramp.walk.ended
        await ramp.press("enter") if ramp.shows("it was read right") else None
        await ramp.press("c")
        await answer(ramp, "1", "1")
        await ramp.enter("A. B.")
        await answer(ramp, "enter")
        assert ramp.name == "WalkScreen"
        assert (ramp.last.kind, ramp.walk.ended, ramp.walk.key.open_items) == (Kind.CLOSED, True, frozenset())
        assert not any(key.key == "c" for key in ramp.screen.keys())  # type: ignore[attr-defined] # noqa: SIM118


@pytest.mark.parametrize("size", [PHONE, USUAL])
async def test_ended_walks_take_one_row_of_the_first_page(walks: Path, size: tuple[int, int]) -> None:
    async with running(walks, size=size) as ramp:
        before = len(ramp.text.splitlines())
    for _ in range(3):
        await ended(walks)
    async with running(walks, size=size) as ramp:
        assert ramp.shows("0  3 ended walks with something open")
        assert len(ramp.text.splitlines()) <= before + 2
        assert ramp.shows("8  A wheel thumps")
        await ramp.press("0")
        assert len(ramp.screen.options) == 3  # type: ignore[attr-defined]


async def test_a_hazard_that_was_left_stands_with_what_can_be_gone_on_with(walks: Path) -> None:
    await ended(walks)
    walk_id = await left(walks)
    async with running(walks) as ramp:
        assert ramp.shows("One walk waits or has left something open")
        assert ramp.shows(f"{walk_id}: Cot will not release")
        assert ramp.shows("1 ended walk with something open")
        await ramp.press("0")
        assert walk_id in ramp.screen.options[0]  # type: ignore[attr-defined]


# -- given up


async def test_it_is_not_given_up_while_a_hazard_is_open(walks: Path) -> None:
    async with running(walks, REL, "mechanic") as ramp:
        await answer_begin(ramp, FREE)
        await to_the_work(ramp)
        await make(ramp, HELD)
        log = ramp.kinds
        await ramp.press("x")
        assert ramp.name == "WalkScreen"
        assert ramp.shows("It cannot be given up while this is open (hazard: The lock is open.")
        assert ramp.kinds == log


async def test_given_up_with_a_reason_it_waits_no_more(walks: Path) -> None:
    async with running(walks, WHEEL, model="Alder") as ramp:
        await answer_begin(ramp, FREE)
        await ramp.press("x")
        await ramp.press("escape")
        assert ramp.kinds == [Kind.BEGIN]
        await ramp.press("x")
        await ramp.enter("spare cot taken")
        assert ramp.name == "FindScreen"
        assert not ramp.shows("waits")
        await ramp.press("ctrl+q")
        assert ramp.app.return_code == 0
        assert "The walk was given up (spare cot taken). NOT APPROVED FOR RETURN TO SERVICE." in ramp.app.last_words
    [each] = summaries(walks, include_ended=True)
    assert each.last
    assert (each.last.move.label, each.over, each.ended) == (GIVEN_UP, True, False)
    async with running(walks, resume=each.id) as ramp:
        assert ramp.shows("nothing of it is open")


async def test_the_pages_are_read_to_their_end(walks: Path) -> None:
    """A page of a walk that is over may be longer than the screen; its keys are there from the first."""
    walk_id = await ended(walks)
    async with running(walks, resume=walk_id, size=PHONE) as ramp:
        assert ramp.shows("c record closed")
        await seen(ramp)
        assert ramp.name == "EndedScreen"


# -- what became of the tree since


def changed(folder: Path, *pairs: tuple[str, str]) -> Path:
    """The shipped library with texts of the tree replaced."""
    shutil.copytree(SHIPPED, folder)
    file = folder / f"{REL}.yaml"
    text = file.read_text(encoding="utf-8")
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new, 1)
    file.write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize("size", [PHONE, USUAL])
async def test_what_changed_in_meaning_is_read_before_the_walk_goes_on(
    walks: Path, tmp_path: Path, size: tuple[int, int]
) -> None:
    walk_id = await left(walks)
    before = read_journal(walks / f"{walk_id}.jsonl").whole
    library = changed(
        tmp_path / "library", ("revision: 1", "revision: 2"), ("Still held: knee", "Still held: bracket"), ROLE_LOWERED
    )
    async with running(walks, library=library, resume=walk_id, size=size) as ramp:
        assert ramp.name == "ReadScreen"
        assert is_in_sight(ramp)
        page = " ".join(map(str.strip, ramp.screen.lines))  # type: ignore[attr-defined]
        assert page.index("What protects became WEAKER") < page.index("To be judged by somebody")
        steps = loaded(REL)[1].variants["Alder"].steps
        assert f'step "{title(steps["free-play"])}": who does it changed before: mechanic now: crew' in page
        knee, bracket = title(steps["knee"]), title(steps["bracket"])
        assert f'"Still held" leads elsewhere before: "{knee}" now: "{bracket}"' in page
        await ramp.press("f")
        assert ramp.name == "FallbackScreen"
        await answer(ramp, "enter")
        await ramp.press("b")
        assert ramp.name == "FindScreen"
    assert read_journal(walks / f"{walk_id}.jsonl").whole == before, "left, nothing was taken over"
    async with running(walks, role="mechanic", library=library, resume=walk_id, size=size) as ramp:
        await answer(ramp, "enter", "2", "1", "1")
        assert ramp.name == "WalkScreen"
        assert ramp.walk.tree.revision == 1, "it goes on as it was"


ROLE_LOWERED = ("who: mechanic\n    minutes: 3\n    people: 2", "who: crew\n    minutes: 3\n    people: 2")
WITHDRAWN = ("status: draft", "status: withdrawn")


@pytest.mark.parametrize("size", [PHONE, USUAL])
async def test_it_goes_on_with_the_revision_in_use_from_the_first_step_that_changed(
    walks: Path, tmp_path: Path, size: tuple[int, int]
) -> None:
    async with running(walks, REL, "mechanic") as ramp:
        await answer_begin(ramp, FREE)
        for label in ("Still held", "Short of the line"):
            for move in (Move(Kind.PEOPLE_HERE), Move(Kind.ACKNOWLEDGE), Move(Kind.FINDING, label=label)):
                await make(ramp, move)
        await ramp.press("s")
        walk_id, before = ramp.session.id, ramp.walk
    library = changed(
        tmp_path / "library", ("revision: 1", "revision: 2"), ("Through the side window, what does", "What does")
    )
    async with running(walks, role="mechanic", library=library, resume=walk_id, size=size) as ramp:
        page = " ".join(map(str.strip, ramp.screen.lines))  # type: ignore[attr-defined]
        assert "The first answer stands. It is asked again from: What does the knee do" in page
        assert ramp.screen.go_on == "go on with revision 2"  # type: ignore[attr-defined]
        await answer(ramp, "enter", "2", "1")
        assert ramp.name == "WalkScreen"
        assert (ramp.walk.tree.revision, [visit.step for visit in ramp.walk.way]) == (2, ["push-forward", "knee"])
        assert ramp.walk.key.open_items == before.key.open_items
        await ramp.press("s")
    async with running(walks, role="mechanic", library=library, resume=walk_id, size=size) as ramp:
        assert ramp.shows("Is a patient on the cot?"), "nothing changed since"


async def test_what_is_only_layout_or_a_date_is_no_page(walks: Path, tmp_path: Path) -> None:
    walk_id = await left(walks)
    library = changed(tmp_path / "library", ("revision: 1", "revision: 2 # a comment"))
    async with running(walks, library=library, resume=walk_id) as ramp:
        assert ramp.shows("Your role?")


async def withdrawn(ramp: Ramp, hazard: str = "1") -> None:
    """Taken up by a mechanic, nobody on it, up to what is asked of a walk whose tree was withdrawn."""
    await answer(ramp, "2", hazard, "1")
    assert ramp.name == "ChooseScreen"
    assert ramp.shows("THIS TREE HAS BEEN WITHDRAWN")
    assert ramp.app.session is None, "it is not walked on"


async def test_a_withdrawn_tree_is_handed_over_without_a_next_step(walks: Path, tmp_path: Path) -> None:
    walk_id = await left(walks)
    library = changed(tmp_path / "library", WITHDRAWN)
    async with running(walks, role="mechanic", library=library, resume=walk_id) as ramp:
        await withdrawn(ramp)
        assert is_in_sight(ramp, patient=False)
        await answer(ramp, "2")
        assert ramp.shows("It cannot be given up while this is open")
        await answer(ramp, "enter", "1", "2")
        assert ramp.shows("HAND-OVER. NOT APPROVED FOR RETURN TO SERVICE.")
        assert ramp.shows("Handed over to: mechanic.")
        assert not ramp.shows("Next:")
        assert not ramp.shows("Read-back code")
        await answer(ramp, "enter")
        assert (ramp.name, ramp.shows("handed over to: mechanic")) == ("FindScreen", True)
    recorded = read_journal(walks / f"{walk_id}.jsonl")
    assert [entry.move.kind for entry in recorded.entries[-2:]] == [Kind.TAKE_OVER, Kind.HAND_OVER]


async def test_a_withdrawn_tree_is_given_up_once_what_is_open_was_closed(walks: Path, tmp_path: Path) -> None:
    walk_id = await left(walks)
    library = changed(tmp_path / "library", WITHDRAWN)
    async with running(walks, role="mechanic", library=library, resume=walk_id) as ramp:
        await withdrawn(ramp)
        await answer(ramp, "4", "2", "2", "1")
        assert ramp.shows("OPEN, 1: mount out of use")
        await answer(ramp, "2")
        assert ramp.shows("The walk ends here and is not gone on with."), "as where any walk is given up"
        await ramp.enter("tree withdrawn")
        assert ramp.name == "FindScreen"
        assert ramp.shows("1 ended walk with something open"), "the first page shows how it stands now"
        assert "The walk was given up (tree withdrawn). NOT APPROVED FOR RETURN TO SERVICE." in ramp.app._left[walk_id]


async def test_what_has_to_be_waited_for_stands_at_the_hand_over_of_a_withdrawn_walk(
    walks: Path, tmp_path: Path
) -> None:
    done = all_done(rel("Still held", "Short of the line", "Moves"))
    session = Session(*started(walks, ready(SHIPPED, REL), done.log[0].move, Facts()))
    for line in done.log[1:]:
        session.make(line.move)
    session.stop()
    session.close()
    library = changed(tmp_path / "library", WITHDRAWN)
    async with running(walks, role="mechanic", library=library, resume=session.id) as ramp:
        await answer(ramp, "2", "1", "1", "2")
        assert ramp.name == "BlocksScreen"
        assert "NOT BEFORE 20" in " ".join(line for block in ramp.screen.blocks for line in block.lines)  # type: ignore[attr-defined]


async def test_a_withdrawn_tree_can_be_left_waiting(walks: Path, tmp_path: Path) -> None:
    walk_id = await left(walks)
    library = changed(tmp_path / "library", WITHDRAWN)
    for keys in (["3"], ["b"]):
        async with running(walks, role="mechanic", library=library, resume=walk_id) as ramp:
            await withdrawn(ramp)
            await answer(ramp, *keys)
            assert ramp.name == "FindScreen"
            assert ramp.shows(f"{walk_id}: Cot will not release")
        last = read_journal(walks / f"{walk_id}.jsonl").entries[-1]
        assert (last.move, last.state) == (Move(Kind.STOP), STOPPED)


async def test_an_error_in_the_library_in_use_hides_no_withdrawal(walks: Path, tmp_path: Path) -> None:
    walk_id = await left(walks)
    library = changed(tmp_path / "library", WITHDRAWN)
    with (library / "parts.yaml").open("a", encoding="utf-8") as file:
        file.write("\n: : [no yaml\n")
    async with running(walks, role="mechanic", library=library, resume=walk_id) as ramp:
        await withdrawn(ramp)
