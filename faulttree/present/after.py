"""What comes after a walk: what to write on tags, which parts to order, and before when nothing is to be used.

All three are lines to be copied by hand or printed; none says anything of the equipment but that it is NOT AVAILABLE.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime, timedelta
from typing import NamedTuple

from faulttree.keys import Kind
from faulttree.model import Fix, Part
from faulttree.present.blocks import Block, one_or_more, open_items, sees_figures, sentence
from faulttree.walk import Walk

CUT_SHORT = "said to be over before it was by the clock"
"""What the record says of a wait that somebody took for over too early."""

IF_NEEDED = "if needed"
"""A count of a part that only the work itself tells."""


def after_blocks(walk: Walk, times: Sequence[datetime]) -> Iterator[Block]:
    """All that comes after a walk that has ended; without ``times`` (as in `not_before_lines`) none is said."""
    yield due_block(walk, times)
    yield Block("order", order_lines(walk))
    yield Block("tag", tag_lines(walk))


def due_block(walk: Walk, times: Sequence[datetime]) -> Block:
    """What has to be waited for; without ``times`` nothing is said of it."""
    return Block("due", not_before_lines(walk, times) if times else ())


def tag_lines(walk: Walk) -> tuple[str, ...]:
    """What to write on tags: hazards and disturbances that are open, then duties, each in the library's order."""
    ordered = sorted(open_items(walk), key=lambda item: not item.must_close)
    return tuple(_tag(item.text) for item in ordered)


def _tag(text: str) -> str:
    """An item on its tag. One that says itself where its tag hangs is not written on that tag with these words."""
    where, _, rest = text.partition(". ")
    if where.startswith("Tag ") and rest:
        return f"TAG{where.removeprefix('Tag')}: NOT AVAILABLE. {sentence(rest)}"
    return f"TAG: NOT AVAILABLE. {sentence(text)}"


# -- work that was done


class Done(NamedTuple):
    """A fix whose every line was ticked, and the place of the last tick in the log."""

    fix: Fix
    at: int


def done_fixes(walk: Walk) -> tuple[Done, ...]:
    """The fixes of the log that were ticked completely, in the order of their last ticks.

    Work done stays done whatever became of the way. A fix that was done again, at another place of the tree too,
    counts once, by its latest ticks.
    """
    found: dict[str, Done] = {}
    for at, line in enumerate(walk.log):
        step = line.at_step
        if isinstance(step, Fix) and line.move.kind == Kind.DONE and line.phase.line == len(step.lines) - 1:
            found.pop(step.base, None)
            found[step.base] = Done(step, at)
    return tuple(found.values())


# -- parts


def order_lines(walk: Walk) -> tuple[str, ...]:
    """Parts to order, then parts to be replaced in stock, each part once, in the order of the library's parts.

    To order: for the fixes that the way gave up by `cannot` and whose work was not done; a `cannot` that was taken
    back by going back asks for nothing. Used: for the fixes that were done. Counts of several fixes add up. Empty for
    roles that see no figures.
    """
    if not sees_figures(walk):
        return ()
    used = [done.fix for done in done_fixes(walk)]
    given_up = _given_up(walk, {fix.base for fix in used})
    return (
        *_part_lines(walk, "To order", given_up, IF_NEEDED),
        *_part_lines(walk, "Used, to be replaced in stock", used, "if it was needed"),
    )


def _given_up(walk: Walk, done: set[str]) -> list[Fix]:
    """The fixes of the way left by `cannot`, once each."""
    found: dict[str, Fix] = {}
    for visit in walk.way:
        step, answer = walk.site.variant.steps[visit.step], visit.answer
        if isinstance(step, Fix) and answer and answer.kind == Kind.CANNOT and step.base not in done:
            found[step.base] = step
    return list(found.values())


def _part_lines(walk: Walk, title: str, fixes: Sequence[Fix], if_needed: str) -> Iterator[str]:
    """One line of all parts, or none."""
    parts = []
    for name, part in _every_part(walk).items():
        counts = [fix.parts[name] for fix in fixes if name in fix.parts]
        parts += [f"{name} {part.text} ({_count(counts, if_needed)})"] if counts else []
    if parts:
        yield f"{title}: {'; '.join(parts)}."


def _every_part(walk: Walk) -> dict[str, Part]:
    """The parts of the library; behind them those that only a revision of before had, by which work was done."""
    parts = dict(walk.library.parts)
    for line in walk.log:
        if line.site is not walk.site:
            parts = {**parts, **line.site.library.parts, **parts}
    return parts


def _count(counts: Sequence[str], if_needed: str) -> str:
    """The sum of the counts; what is certain before what is not."""
    certain = sum(int(count) for count in counts if count != IF_NEEDED)
    more = IF_NEEDED in counts
    if not certain:
        return if_needed
    return f"{certain}, more {if_needed}" if more else str(certain)


# -- times


class Due(NamedTuple):
    """Before when something is not to be done, and what."""

    at: datetime
    words: str


def not_before_lines(walk: Walk, times: Sequence[datetime]) -> tuple[str, ...]:
    """Until when work that was done holds up its operational check and the use of the equipment, the soonest first.

    ``times`` has one time with its offset for each line of the log; lines that came with a read-back code have the
    time when the code was read, as when the work was done is not known: later is the safer side. Both waits count
    from the last ticked line of a fix: its ``wait`` until the operational check, where that was not answered yet;
    and the service minutes of each consumable until use, of one used twice the later. Minutes are rounded up. What
    falls on the same minute is one line.
    Raises ValueError where ``times`` are not as many as the lines, or one has no offset.
    """
    if len(times) != len(walk.log):
        raise ValueError(f"{len(times)} times for {len(walk.log)} lines of the log")
    if any(time.utcoffset() is None for time in times):
        raise ValueError("a time without its offset from UTC")
    done = done_fixes(walk)
    dues: dict[datetime, list[str]] = {}
    for due in sorted((*_checks(walk, times, done), *_uses(walk, times, done)), key=lambda due: due.at):
        dues.setdefault(due.at, []).append(due.words)
    return tuple(f"NOT BEFORE {at:%Y-%m-%d %H:%M} UTC: {'; '.join(words)}." for at, words in dues.items())


def _checks(walk: Walk, times: Sequence[datetime], done: Iterable[Done]) -> Iterator[Due]:
    """Operational checks that are still to come."""
    for fix, at in done:
        proved = any(line.step == fix.id and line.move.kind in (Kind.PASSED, Kind.FAILED) for line in walk.log[at:])
        if fix.wait and not proved:
            yield Due(
                _later(times[at], fix.wait), f'the operational check, {duration_words(fix.wait)} after "{fix.text}"'
            )


def too_early(walk: Walk, times: Sequence[datetime], now: datetime) -> str:
    """The question whether the wait of the fix of now is over, where the clock says that it is not; else empty.

    ``times`` as in `not_before_lines`.
    """
    found = [done for done in done_fixes(walk) if done.fix.id == walk.step.id and done.fix.wait]
    over = _later(times[found[0].at], found[0].fix.wait) if found else now
    if over <= now:
        return ""
    here = now.astimezone(UTC)
    form = "%H:%M UTC" if over.date() == here.date() else "%Y-%m-%d %H:%M UTC"
    return f"By the clock the wait is over at {over:{form}}; it is {here:{form}}. Is it over?"


def _uses(walk: Walk, times: Sequence[datetime], done: Iterable[Done]) -> Iterator[Due]:
    """Consumables that must dry, set or cure."""
    latest: dict[str, Due] = {}
    for fix, at in done:
        for name in fix.consumables:
            consumable = walk.log[at].site.library.consumables[name]
            words = f"{consumable.text}, {duration_words(consumable.service)} before use"
            due = Due(_later(times[at], consumable.service), words)
            if consumable.service and (name not in latest or latest[name].at < due.at):
                latest[name] = due
    yield from latest.values()


def _later(time: datetime, minutes: float) -> datetime:
    """The whole minute in UTC at which ``minutes`` are over; the last that can be written where they never are."""
    try:
        over = time.astimezone(UTC) + timedelta(minutes=minutes)
        whole = over.replace(second=0, microsecond=0)
        return whole if whole == over else whole + timedelta(minutes=1)
    except OverflowError:
        return datetime.max.replace(tzinfo=UTC)


def duration_words(minutes: float) -> str:
    """Minutes in words: in hours where they are whole hours."""
    if minutes and minutes % 60 == 0:
        return one_or_more(f"{minutes / 60:g}", "hour")
    return one_or_more(f"{minutes:g}", "minute")
