"""What comes after a walk: tags, parts to order, times before which nothing is used. Values worked out by hand."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shipped import sample, shipped, variants
from strategies import filled, trees

from faulttree.keys import OFF, ON, Gate, Kind, Move
from faulttree.model import Consumable, Fix
from faulttree.moves import allowed
from faulttree.present.after import done_fixes, duration_words, not_before_lines, order_lines, tag_lines
from faulttree.readback import begin as begin_by_code
from faulttree.readback import encode
from faulttree.value import replace
from faulttree.walk import apply, begin, possible_moves

PASSING = {Gate.PEOPLE: Kind.PEOPLE_HERE, Gate.WARNINGS: Kind.ACKNOWLEDGE}
START = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)
DONE, WAITED, PASSED, FAILED, BACK = (
    Move(kind) for kind in (Kind.DONE, Kind.WAITED, Kind.PASSED, Kind.FAILED, Kind.BACK)
)
CANNOT = Move(Kind.CANNOT, text="no part")
UNABLE = Move(Kind.UNABLE, text="no light")
INSPECTED = Move(Kind.INSPECTED, text="AB")


def walked(
    loaded, tree: str, *answers: Move | str, role: str = "mechanic", model: str = "Bracken", occupant: str = OFF
):
    """A walk with gates passed by themselves; a text is a finding."""
    walk = begin(loaded.trees[tree], loaded.library, Move(Kind.BEGIN, role=role, model=model, occupant=occupant))
    return further(walk, *answers)


def further(walk, *answers: Move | str):
    for answer in answers:
        while (gate := walk.site.gate(walk.key)) in PASSING:
            walk = apply(walk, Move(PASSING[gate]))
        walk = apply(walk, Move(Kind.FINDING, label=answer) if isinstance(answer, str) else answer)
    return walk


def rel(*answers: Move | str, **given):
    return walked(shipped(), "cot-will-not-release", *answers, **given)


def legs(*answers: Move | str, **given):
    return walked(shipped(), "legs-do-not-drop", *answers, **given)


def minutely(walk, start: datetime = START):
    """A time for each line of the log, a minute apart."""
    return [start + timedelta(minutes=at) for at in range(len(walk.log))]


def last_tick(walk) -> datetime:
    """By `minutely`, when the last line was ticked."""
    return START + timedelta(minutes=max(at for at, line in enumerate(walk.log) if line.move.kind == Kind.DONE))


def all_done(walk):
    """The walk after every line of the fix that it is at."""
    return further(walk, *(DONE,) * len(walk.step.lines))


def clock(time: datetime) -> str:
    return f"{time:%Y-%m-%d %H:%M} UTC"


# -- tags


def test_hazards_and_disturbances_stand_before_duties() -> None:
    walk = rel("Still held", "Past the line", role="crew")
    assert walk.key.open_items == {"cot-not-locked", "mount-out-of-use"}
    assert tag_lines(walk) == (
        "TAG: NOT AVAILABLE. The prop is folded and the jaw still shut. The cot is not locked and can let go.",
        "TAG on the mount: NOT AVAILABLE. It is out of use until a mechanic approves it.",
    )


def test_duties_are_last_wherever_the_library_has_them() -> None:
    walk = rel("Still held", "Past the line", role="crew")
    items = shipped().library.open_items
    library = replace(walk.library, open_items={name: items[name] for name in reversed(items)})
    turned = replace(walk, site=replace(walk.site, library=library))
    assert tag_lines(turned) == tag_lines(walk)


def test_nothing_is_tagged_where_nothing_is_open() -> None:
    assert tag_lines(rel("Still held")) == ()


@given(trees(), st.randoms(use_true_random=False))
@settings(max_examples=80, deadline=None)
def test_there_is_a_tag_for_each_open_item(drawn, random) -> None:
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=OFF))
    for _ in range(20):
        lines = tag_lines(walk)
        items = [library.open_items[name] for name in walk.key.open_items]
        assert sorted(lines) == sorted(f"TAG: NOT AVAILABLE. {item.text}." for item in items)
        assert "Tag hung" not in "".join(lines[:-1]), "the one duty is last"
        walk = apply(walk, filled(random.choice(allowed(walk.site, walk.key) or (Move(Kind.NOTE),))))


def test_no_line_says_more_of_the_equipment_than_not_available() -> None:
    """Of every open item of the shipped library and the sample, of whatever way they came to be open."""
    for _, library, tree, variant in variants():
        walk = begin(tree, library, Move(Kind.BEGIN, model=variant.model))
        full = replace(walk, key=walk.key._replace(open_items=frozenset(library.open_items)))
        assert len(tag_lines(full)) == len(library.open_items)
        words = " ".join(tag_lines(full)).replace("NOT AVAILABLE", "").casefold().replace(".", " ").split()
        assert not {"available", "serviceable", "airworthy", "safe", "ok"} & set(words)


def test_an_item_that_says_where_its_tag_hangs_is_not_written_on_it_so() -> None:
    """The words of the shipped library's three items are worked out by hand, and no other begins so."""
    walk = begin(shipped().trees["cot-will-not-release"], shipped().library, Move(Kind.BEGIN, model="Bracken"))
    full = replace(walk, key=walk.key._replace(open_items=frozenset(walk.library.open_items)))
    assert [line for line in tag_lines(full) if not line.startswith("TAG: NOT AVAILABLE. ")] == [
        "TAG on the mount: NOT AVAILABLE. It is out of use until its crew check has passed or a mechanic approves it.",
        "TAG on the mount: NOT AVAILABLE. It is out of use until a mechanic approves it.",
        "TAG on the cot: NOT AVAILABLE. It is out of use until a mechanic approves it.",
    ]


# -- parts


def test_the_parts_of_a_fix_given_up_are_ordered() -> None:
    walk = rel(UNABLE, UNABLE, UNABLE, UNABLE, "No bite", CANNOT)
    assert walk.ended
    assert order_lines(walk) == (
        "To order: SKM-0430 Release cable assembly (1); SKM-0432 Adjuster locknut and tab (1).",
    )


def test_parts_used_are_replaced_in_stock_and_if_needed_says_so() -> None:
    fitted = rel("Still held", "Short of the line", "Moves")
    assert fitted.key.step == "refit-bracket"
    assert order_lines(fitted) == ()
    begun = further(fitted, DONE, DONE)
    assert order_lines(begun) == (), "not every line is ticked"
    done = all_done(fitted)
    part = shipped().library.parts["SKM-0437"].text
    assert order_lines(done) == (f"Used, to be replaced in stock: SKM-0437 {part} (if it was needed).",)
    assert order_lines(further(fitted, CANNOT)) == (f"To order: SKM-0437 {part} (if needed).",)
    assert order_lines(further(done, WAITED, CANNOT)) == order_lines(done), "the part is in, not missing"


def test_counts_are_those_of_the_model() -> None:
    """Alder's leg: four bushes, two nut sets, two stem nuts, one of two legs if needed; in the order of the parts."""
    walk = legs("Nothing caught", "Cloth runs free", "Stiff at one spot", "Touches", model="Alder")
    assert walk.key.step == "fit-leg"
    (line,) = order_lines(further(walk, CANNOT))
    parts = line.removeprefix("To order: ").removesuffix(".").split("; ")
    assert [(part.split()[0], part[part.rindex("(") :]) for part in parts] == [
        ("SKM-0206", "(4)"),
        ("SKM-0207", "(2)"),
        ("SKM-0241", "(if needed)"),
        ("SKM-0242", "(if needed)"),
        ("SKM-0316", "(2)"),
    ]


def test_a_part_that_two_fixes_used_stands_once() -> None:
    """Cleaning used an axle set if the wheel was off, the new axle another."""
    cleaned = further(all_done(walked(shipped(), "wheel-thumps", "Something stuck")), WAITED, FAILED, "Broken")
    assert cleaned.key.step == "renew-axle"
    (line,) = order_lines(all_done(cleaned))
    assert line.startswith("Used, to be replaced in stock: SKM-0312 ")
    assert line.endswith("(1, more if it was needed).")


def test_what_was_taken_back_is_neither_ordered_nor_forgotten() -> None:
    given_up = rel("Still held", "Short of the line", "Moves", CANNOT)
    assert order_lines(given_up)
    assert order_lines(further(given_up, BACK)) == (), "given up no longer"
    done = all_done(rel("Still held", "Short of the line", "Moves"))
    assert order_lines(further(done, BACK)) == order_lines(done) != (), "work done stays done"


def test_the_first_role_sees_no_parts() -> None:
    walk = walked(sample(), "lamp-does-not-light", UNABLE, "Flat", CANNOT, role="repairer", model="Finch")
    assert order_lines(walk) == ("To order: SL-10 Cell (1).",)
    assert order_lines(replace(walk, key=walk.key._replace(role="user"))) == ()


# -- times


def test_what_threadlocker_holds_up() -> None:
    """An hour from the last ticked line, for the operational check and for use; the paint holds up nothing."""
    done = all_done(rel("Still held", "Short of the line", "Moves"))
    text = shipped().library.consumables["threadlocker-activated"].text
    due = clock(last_tick(done) + timedelta(hours=1))
    use = f"{text}, 1 hour before use."
    assert not_before_lines(done, minutely(done)) == (
        f'NOT BEFORE {due}: the operational check, 1 hour after "Refit or replace the handle bracket"; {use}',
    ), "one time is named once"
    passed = further(done, WAITED, INSPECTED, PASSED)
    assert not_before_lines(passed, minutely(passed)) == (f"NOT BEFORE {due}: {use}",), "the check is behind"


def test_the_soonest_stands_first_and_minutes_are_given() -> None:
    """From the last line, ticked at 15:09: alcohol 2 minutes, dry film 10, detergent 30."""
    done = all_done(legs("Nothing caught", "Cloth runs free", "Stiff all the way", "In limits"))
    times = [*minutely(done)[:-1], datetime(2026, 11, 25, 15, 9, tzinfo=UTC)]
    assert not_before_lines(done, times) == (
        "NOT BEFORE 2026-11-25 15:11 UTC: Isopropyl alcohol wipes, 2 minutes before use.",
        "NOT BEFORE 2026-11-25 15:19 UTC: Dry-film slip lubricant, 10 minutes before use.",
        "NOT BEFORE 2026-11-25 15:39 UTC: the operational check, 30 minutes after "
        '"Clean and slip-lubricate the leg pivots in place"; Neutral detergent in warm water, 30 minutes before use.',
    )


def with_service(tree, step: str, minutes: float):
    """The sample's library and tree where what ``step`` uses needs so many minutes."""
    library = replace(sample().library, consumables={"locker": Consumable("locker", "Threadlocker", minutes)})
    variant = tree.variants["Finch"]
    fix = replace(variant.steps[step], consumables=("locker",), wait=minutes)
    return replace(tree, variants={"Finch": replace(variant, steps={**variant.steps, step: fix})}), library


def lamp_with(minutes: float):
    tree, library = with_service(sample().trees["lamp-does-not-light"], "fit-cell", minutes)
    walk = begin(tree, library, Move(Kind.BEGIN, role="repairer", model="Finch"))
    return all_done(further(walk, "Lights", "Flat"))


@pytest.mark.parametrize(
    ("ticked", "minutes", "line"),
    [
        ("2026-11-25T16:40:00+00:00", 1440, "NOT BEFORE 2026-11-26 16:40 UTC: Threadlocker, 24 hours before use."),
        ("2026-11-25T16:40:00+01:00", 1440, "NOT BEFORE 2026-11-26 15:40 UTC: Threadlocker, 24 hours before use."),
        ("2026-11-25T16:40:00.001+00:00", 60, "NOT BEFORE 2026-11-25 17:41 UTC: Threadlocker, 1 hour before use."),
        ("2026-12-31T23:59:30-05:00", 1, "NOT BEFORE 2027-01-01 05:01 UTC: Threadlocker, 1 minute before use."),
        ("2026-11-25T16:40:00+00:00", 90, "NOT BEFORE 2026-11-25 18:10 UTC: Threadlocker, 90 minutes before use."),
        ("2026-11-25T16:40:00Z", 0.5, "NOT BEFORE 2026-11-25 16:41 UTC: Threadlocker, 0.5 minutes before use."),
    ],
)  # fmt: skip
def test_times_are_in_utc_and_never_too_early(ticked, minutes, line) -> None:
    walk = lamp_with(minutes)
    times = [datetime.fromisoformat(ticked)] * len(walk.log)
    [shown] = not_before_lines(walk, times)
    time, _, words = line.partition(": ")
    assert shown.startswith(f"{time}: the operational check, ")
    assert shown.endswith(f'"Fit a new cell"; {words}')


def test_a_time_that_cannot_be_written_is_the_last_that_can() -> None:
    for minutes in (1e10, 1e300):
        walk = lamp_with(minutes)
        assert all("NOT BEFORE 9999-12-31 23:59 UTC" in line for line in not_before_lines(walk, minutely(walk)))


def test_nothing_is_held_up_by_what_was_not_done_or_needs_no_time() -> None:
    begun = further(rel("Still held", "Short of the line", "Moves"), DONE, DONE)
    assert not_before_lines(begun, minutely(begun)) == ()
    walk = lamp_with(0)
    assert done_fixes(walk)
    assert not_before_lines(walk, minutely(walk)) == ()


def test_work_that_was_gone_back_from_still_dries_and_counts_from_its_latest_ticks() -> None:
    done = all_done(rel("Still held", "Short of the line", "Moves"))
    back = further(done, BACK)
    assert not_before_lines(back, minutely(back)) == not_before_lines(done, minutely(done))
    again = all_done(further(back, "Moves"))
    assert [fixed.fix.id for fixed in done_fixes(again)] == ["refit-bracket"]
    [line] = not_before_lines(again, minutely(again))
    assert line.startswith(f"NOT BEFORE {clock(last_tick(again) + timedelta(hours=1))}")


def test_of_one_consumable_used_twice_the_later_counts() -> None:
    """Dry film on the pivots, which did not help, then on the springs."""
    pivots = all_done(legs("Nothing caught", "Cloth runs free", "Stiff all the way", "In limits"))
    springs = all_done(further(pivots, WAITED, FAILED, "Broken or out"))
    assert [fixed.fix.id for fixed in done_fixes(springs)] == ["clean-pivot", "fit-springs-then"]
    lines = [line for line in not_before_lines(springs, minutely(springs)) if "Dry-film" in line]
    due = clock(last_tick(springs) + timedelta(minutes=10))
    assert len(lines) == 1
    assert lines[0].startswith(f"NOT BEFORE {due}: the operational check, ")
    assert lines[0].endswith("; Dry-film slip lubricant, 10 minutes before use.")


def test_work_that_came_with_a_code_counts_from_when_the_code_was_read() -> None:
    done = all_done(rel("Still held", "Short of the line", "Moves"))
    resumed = begin_by_code(done.tree, done.library, Move(Kind.BEGIN, role="mechanic", occupant=OFF, code=encode(done)))
    assert [fixed.fix.id for fixed in done_fixes(resumed)] == ["refit-bracket"]
    [line] = not_before_lines(resumed, [START] * len(resumed.log))
    assert line.startswith("NOT BEFORE 2026-11-25 16:00 UTC: ")
    assert line.count("1 hour") == 2, "for the check and for use"


def test_times_must_be_whole_and_aware() -> None:
    walk = rel("Still held")
    with pytest.raises(ValueError, match="lines of the log"):
        not_before_lines(walk, minutely(walk)[1:])
    with pytest.raises(ValueError, match="without its offset"):
        not_before_lines(walk, [time.replace(tzinfo=None) for time in minutely(walk)])
    assert not_before_lines(walk, minutely(walk, START.astimezone(timezone(timedelta(hours=-7))))) == ()


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(1, "1 minute"), (2, "2 minutes"), (59, "59 minutes"), (60, "1 hour"), (90, "90 minutes"), (120, "2 hours"),
     (1440, "24 hours"), (4320, "72 hours"), (0.5, "0.5 minutes")],
)  # fmt: skip
def test_hours_only_where_they_are_whole(minutes, words) -> None:
    assert duration_words(minutes) == words


@given(trees(), st.randoms(use_true_random=False))
@settings(max_examples=100, deadline=None)
def test_a_fix_is_done_once_its_last_line_is_ticked(drawn, random) -> None:
    """Counted in another way: ticks of one stay at a fix, from arriving to leaving it."""
    tree, library = drawn
    walk = begin(tree, library, Move(Kind.BEGIN, role="mechanic", occupant=ON))
    ticks, done = 0, {}
    for _ in range(50):
        moves = [move for move in possible_moves(walk) if move.kind in STAYING] or list(possible_moves(walk))
        move = random.choice(moves)
        move = Move(move.kind, role="mechanic", occupant=OFF) if move.kind == Kind.TAKE_OVER else filled(move)
        here, before = walk.step, len(walk.way)
        walk = apply(walk, move)
        if isinstance(here, Fix) and move.kind == Kind.DONE:
            ticks += 1
            if ticks == len(here.do):
                done.pop(here.id, None)
                done[here.id] = len(walk.log) - 1
        if len(walk.way) != before or walk.step is not here:
            ticks = 0
        if move.kind in (Kind.BACK, Kind.START_OVER):
            ticks = 0
        assert [(fixed.fix.id, fixed.at) for fixed in done_fixes(walk)] == list(done.items())


STAYING = {
    Kind.ACKNOWLEDGE, Kind.PEOPLE_HERE, Kind.OCCUPANT_OFF, Kind.FINDING, Kind.UNABLE, Kind.DONE, Kind.WAITED,
    Kind.INSPECTED, Kind.FAILED, Kind.CANNOT, Kind.CLOSED, Kind.BACK, Kind.START_OVER,
}  # fmt: skip
