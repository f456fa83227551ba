"""The proof, the open items and the counts against plain recursion over every way of random small trees.

The brute force below is written from the definitions, way by way, and shares nothing with the code that it judges:
no masks, no topological order, no joining of ways.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from hypothesis import HealthCheck, given, settings
from small_trees import ITEMS, LABELS, LIBRARY, MODEL, variants

from faulttree.explore import count_ways, every_way
from faulttree.graph import graph_of
from faulttree.left_open import LeftOpen, left_open
from faulttree.model import Cause, Check, End, Finding, Fix, Route, Step, Variant, Work
from faulttree.proof import DETOUR, EARLY, FEEL, LOST, SHADOWED, Failure, prove
from faulttree.rules.work_repeated import repeats

quick = settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])

GIVING_UP = ("unable", "cannot")


class Turn(NamedTuple):
    """A step that a way left, and the answer that left it."""

    step: str
    answer: str


Way = tuple[Turn, ...]


def onward(step: Step) -> list[tuple[str, str]]:
    """Every answer of a step with the step it leads to."""
    ways = [(each.label, each.goto) for each in step.findings] if isinstance(step, Check) else []
    for answer in ("unable", "failed", "cannot"):
        route = getattr(step, answer, None)
        if route is not None:
            ways.append((answer, route.to))
    return ways


def shows(variant: Variant, check: Check, cause: str) -> tuple[str, ...]:
    """The labels that a cause may show: its own, else the usual, else all; all too where the check has none of them."""
    have = [each.label for each in check.findings]
    named = variant.causes[cause].shows.get(check.base, ()) or check.usual
    return tuple(label for label in have if label in named) or tuple(have)


def takes(variant: Variant, step: Step, answer: str, cause: str) -> bool:
    """Whether somebody with this cause can leave the step by this answer."""
    if answer in GIVING_UP:
        return True
    if isinstance(step, Check):
        return answer in shows(variant, step, cause)
    assert isinstance(step, Fix)
    return cause not in step.clears and cause not in step.misses


def prefixes(variant: Variant, causes: tuple[str, ...], name: str, way: Way = ()) -> Iterator[tuple[Way, str]]:
    """Every way that all of ``causes`` can walk, from the start to each step that it comes to."""
    yield way, name
    for answer, to in onward(variant.steps[name]):
        if all(takes(variant, variant.steps[name], answer, cause) for cause in causes):
            yield from prefixes(variant, causes, to, (*way, Turn(name, answer)))


def gave_up(way: Way) -> bool:
    return any(turn.answer in GIVING_UP for turn in way)


def failed_fixes(way: Way) -> int:
    return sum(turn.answer == "failed" for turn in way)


def ruled_out(variant: Variant, way: Way, other: str, firm: bool) -> bool:
    """Whether some turn of the way rules ``other`` out: firmly, or by a check that is a matter of feel."""
    for turn in way:
        step = variant.steps[turn.step]
        if turn.answer in GIVING_UP:
            continue
        if isinstance(step, Check) and (step.sure == 1) == firm and turn.answer not in shows(variant, step, other):
            return True
        if isinstance(step, Fix) and firm and other in step.clears:
            return True
    return False


def broken_by_one(variant: Variant, cause: str, way: Way, name: str) -> Iterator[tuple[str, str, str, str]]:
    """What goes wrong for one cause on arriving at a step."""
    step = variant.steps[name]
    if isinstance(step, End) and cause not in step.named:
        stays = step.kind in ("out of service", "hand over")
        if not (stays and gave_up(way)):
            yield LOST, cause, "", name
    if isinstance(step, Fix):
        if cause in step.misses:
            yield SHADOWED, cause, "", name
        if cause in step.clears and failed_fixes(way) >= 2 and not gave_up(way):
            yield DETOUR, cause, "", name


def broken_by_two(variant: Variant, cause: str, way: Way, name: str) -> Iterator[tuple[str, str, str, str]]:
    """What goes wrong for a second cause while the first is followed."""
    step = variant.steps[name]
    if not isinstance(step, Fix):
        return
    last = any(variant.causes[each].by_elimination for each in step.clears)
    for other in variant.causes:
        firmly, by_feel = (ruled_out(variant, way, other, firm) for firm in (True, False))
        if other in step.clears:
            continue
        if step.parts and by_feel and not firmly and not gave_up(way):
            yield FEEL, cause, other, name
        if last and not firmly:
            yield EARLY, cause, other, name


def brute_force(variant: Variant) -> set[tuple[str, str, str, str]]:
    """Every failure as (rule, cause, other cause, step), found way by way."""
    found = set()
    for cause in variant.causes:
        for way, name in prefixes(variant, (cause,), variant.start):
            found |= set(broken_by_one(variant, cause, way, name))
            found |= set(broken_by_two(variant, cause, way, name))
    return found


def short(failure: Failure) -> tuple[str, str, str, str]:
    """A failure without its way."""
    return failure.rule, failure.cause, failure.other, failure.step


def really_fails(variant: Variant, failure: Failure) -> bool:
    """Whether the way of a failure can be walked with its cause and breaks its rule at its end."""
    way = tuple(Turn(*turn) for turn in failure.way)
    places = [*(turn.step for turn in way), failure.step]
    walked = places[0] == variant.start and all(
        (turn.answer, to) in onward(variant.steps[turn.step])
        and takes(variant, variant.steps[turn.step], turn.answer, failure.cause)
        for turn, to in zip(way, places[1:], strict=True)
    )
    broken = {
        *broken_by_one(variant, failure.cause, way, failure.step),
        *broken_by_two(variant, failure.cause, way, failure.step),
    }
    return walked and short(failure) in broken


@quick
@given(variants())
def test_proof_finds_what_brute_force_finds(variant: Variant) -> None:
    """Rule, cause, other cause and step: the same set, nothing twice."""
    failures = prove(variant, graph_of(variant))
    assert {short(failure) for failure in failures} == brute_force(variant)
    assert len({short(failure) for failure in failures}) == len(failures)


@quick
@given(variants())
def test_every_way_of_a_failure_fails(variant: Variant) -> None:
    """A way that is printed can be walked by the cause and breaks the rule where it ends."""
    for failure in prove(variant, graph_of(variant)):
        assert really_fails(variant, failure), failure


def too_early_by_sets(variant: Variant) -> set[tuple[str, str]]:
    """(other cause, step) by walking with whole sets: who can be the fault here, and who is not yet ruled out."""
    everyone = frozenset(variant.causes)
    found = set()
    seen = set()
    waiting = [(variant.start, everyone, everyone)]
    while waiting:
        state = waiting.pop()
        if state in seen or not state[1]:
            continue
        seen.add(state)
        name, can_be, left = state
        step = variant.steps[name]
        if isinstance(step, Fix) and any(variant.causes[each].by_elimination for each in step.clears):
            found |= {(other, name) for other in left - set(step.clears)}
        for answer, to in onward(step):
            out = {each for each in left if ruled_out(variant, (Turn(name, answer),), each, firm=True)}
            walks = frozenset(each for each in can_be if takes(variant, step, answer, each))
            waiting.append((to, walks, left - out))
    return found


@quick
@given(variants())
def test_two_causes_at_once_see_what_sets_of_causes_see(variant: Variant) -> None:
    """Too early: following pairs finds the same steps and causes as keeping the whole set that is left."""
    failures = prove(variant, graph_of(variant))
    assert {(each.other, each.step) for each in failures if each.rule == EARLY} == too_early_by_sets(variant)


@quick
@given(variants(most_steps=6))
def test_pair_on_feel_alone_is_no_pair_that_walks_together(variant: Variant) -> None:
    """On feel alone: the other cause cannot walk the printed way itself, and no firm finding is the reason."""
    for failure in prove(variant, graph_of(variant)):
        if failure.rule == FEEL:
            together = prefixes(variant, (failure.cause, failure.other), variant.start)
            assert (tuple(Turn(*turn) for turn in failure.way), failure.step) not in set(together)


def complete_ways(variant: Variant, name: str, way: Way = ()) -> Iterator[tuple[Way, str]]:
    """Every way to an end or to a fix, whose operational check may pass."""
    if not isinstance(variant.steps[name], Check):
        yield way, name
    for answer, to in onward(variant.steps[name]):
        yield from complete_ways(variant, to, (*way, Turn(name, answer)))


@quick
@given(variants())
def test_ways_are_counted_and_listed(variant: Variant) -> None:
    """The number of ways and the steps of the longest agree with listing them; the listing agrees in its order."""
    ways = list(complete_ways(variant, variant.start))
    count, longest = count_ways(variant, graph_of(variant))
    assert count == len(ways)
    assert longest == max((len(way) + 1 for way, _ in ways), default=0)
    listed = [(tuple(Turn(*turn) for turn in way), name) for way, name in every_way(variant)]
    assert listed == ways


def bases_twice(variant: Variant) -> set[str]:
    """The steps at which some way does a piece of work that it has done before."""
    found = set()

    def walk(name: str, done: frozenset[str]) -> None:
        step = variant.steps[name]
        if isinstance(step, Work):
            if step.base in done:
                found.add(name)
            done |= {step.base}
        for _, to in onward(step):
            walk(to, done)

    walk(variant.start, frozenset())
    return found


@quick
@given(variants())
def test_repeated_work_is_found_and_shown(variant: Variant) -> None:
    """The steps where work comes a second time are those of brute force; each shown way does the work twice."""
    graph = graph_of(variant)
    found = list(repeats(variant, graph))
    assert {each.step for each in found} == bases_twice(variant)
    assert len(found) == len({each.step for each in found})
    for each in found:
        places = [*(name for name, _ in each.way), each.step]
        step = variant.steps[each.step]
        assert isinstance(step, Work)
        assert [getattr(variant.steps[name], "base", "") for name in places].count(step.base) >= 2
        assert places[0] == variant.start
        for (name, answer), to in zip(each.way, places[1:], strict=True):
            assert (answer, to) in onward(variant.steps[name])


Open = frozenset[str]


LATER = frozenset(name for name, item in LIBRARY.open_items.items() if item.kind != "disturbance")


def begun(step: Work, items: Open) -> Open:
    """The open items once a step's gates are passed."""
    for name in step.accesses:
        access = LIBRARY.accesses[name]
        for other in LIBRARY.accesses.values():
            if access.place and other.place == access.place and other is not access:
                items -= set(other.opens)
        items = items - set(access.closes) | set(access.opens)
    return items | set(step.opens)


def open_after(step: Step, answer: str, items: Open) -> list[Open]:
    """What can be open after an answer: a step may be given up before its gates, during it and after its work."""
    if isinstance(step, End):
        return [items | set(step.opens)]
    at_work = begun(step, items)
    # What a fix closes of hazards and duties it closes only by passing, and then the way is over.
    done = at_work - set(step.closes) | (at_work & LATER if isinstance(step, Fix) else set())
    if isinstance(step, Check) and answer != "unable":
        finding = step.finding(answer)
        assert finding is not None
        return [done - set(finding.closes) | set(finding.opens)]
    if answer == "failed":
        return [done]
    return [items, at_work] if answer == "unable" else [items, at_work, done]


def held_open(step: Step, items: Open) -> Open:
    """Hazards and disturbances that are open where a check passes or no fault found is reached."""
    if isinstance(step, Fix):
        items = begun(step, items) - set(step.closes)
    elif isinstance(step, End) and step.kind == "no fault found":
        items = items | set(step.opens)
    else:
        items = frozenset()
    return items - {"tag-hung"}


def open_prefixes(variant: Variant, name: str, items: Open, way: Way) -> Iterator[tuple[Way, str, Open]]:
    yield way, name, items
    step = variant.steps[name]
    for answer, to in onward(step):
        for after in open_after(step, answer, items):
            yield from open_prefixes(variant, to, after, (*way, Turn(name, answer)))


@quick
@given(variants(most_steps=6, with_items=True))
def test_open_items_are_those_of_brute_force(variant: Variant) -> None:
    """Steps at which something is open are the same; the shown way can leave exactly the named items open."""
    every: dict[str, set[tuple[Way, Open]]] = {}
    for way, name, items in open_prefixes(variant, variant.start, frozenset(), ()):
        if held := held_open(variant.steps[name], items):
            every.setdefault(name, set()).add((way, held))
    found = left_open(LIBRARY, variant, graph_of(variant))
    assert {each.step for each in found} == set(every)
    for each in found:
        assert each.items == tuple(name for name in ITEMS if name in each.items)
        assert (tuple(Turn(*turn) for turn in each.way), frozenset(each.items)) in every[each.step]


def test_giving_up_before_the_gates_closes_nothing() -> None:
    """An access that would shut the cover was not opened yet when the step was given up: the cover is still off."""
    leads_on = tuple(Finding(label, number, "s1") for number, label in enumerate(LABELS[:2], 1))
    to_fix = tuple(Finding(label, number, "s2") for number, label in enumerate(LABELS[:2], 1))
    opening = Check(id="s0", base="s0", text="Is it good?", who="", findings=leads_on, opens=("cover-off",))
    shutting = Check(
        id="s1", base="s1", text="Is it good?", who="", findings=to_fix, unable=Route("s2"), accesses=("shut",)
    )
    fix = Fix(id="s2", base="s2", text="Fit a new one", who="", clears=("c0",), operational_check="works")
    variant = Variant(MODEL, "s0", {"s0": opening, "s1": shutting, "s2": fix}, {"c0": Cause("c0", "c0")})
    (found,) = left_open(LIBRARY, variant, graph_of(variant))
    assert found == LeftOpen("s2", ("cover-off",), (("s0", "Good"), ("s1", "unable")))
