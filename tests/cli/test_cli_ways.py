"""`faulttree ways`: every way once, cut where it is for another role, and counted without listing."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
from cli_runs import LAMP, ROOT, MakeLibrary, Run

from faulttree.cli.ways_found import Summary, Way, Wish, summary_of, ways_of, words_of
from faulttree.explore import every_way
from faulttree.library import load_library
from faulttree.model import Check, Fix, Library, Step, Variant
from faulttree.value import replace


def sample(folder: Path) -> tuple[Library, Variant]:
    loaded = load_library(folder)
    assert loaded.library
    return loaded.library, next(iter(loaded.trees[LAMP].variants.values()))


def total(library: Library, variant: Variant, role: str) -> int:
    summary = summary_of(library, variant, Wish(role))
    assert summary
    return summary.total


def test_for_a_role_that_may_do_all_they_are_the_ways_of_exploring(library: MakeLibrary) -> None:
    shared, variant = sample(library())
    found = [(way.steps, way.last) for way in ways_of(shared, variant, Wish("repairer"))]
    assert found == list(every_way(variant))
    assert total(shared, variant, "repairer") == len(found) == 147


def test_for_the_first_role_they_are_cut_where_another_is_needed(library: MakeLibrary) -> None:
    """Against every full way, cut by hand at the first step that the role may not do."""
    shared, variant = sample(library())
    cut: dict[tuple[tuple[str, str], ...], None] = {}
    for way, last in every_way(variant):
        names = [*(name for name, _ in way), last]
        stop = next((at for at, name in enumerate(names) if variant.steps[name].who == "repairer"), None)
        answers = [*way, (last, "")]
        cut[tuple(answers) if stop is None else (*answers[:stop], (names[stop], ""))] = None
    found = [(*way.steps, (way.last, "")) for way in ways_of(shared, variant, Wish("user"))]
    assert found == list(cut)
    assert total(shared, variant, "user") == len(cut)


def test_the_operational_check_may_be_for_another_role(library: MakeLibrary) -> None:
    """Then a way ends at the fix, and nothing follows its failing."""
    folder = library("who: user", "who: repairer", file="operational-checks.yaml")
    shared, variant = sample(folder)
    ways = list(ways_of(shared, variant, Wish("user")))
    assert len(ways) == total(shared, variant, "user")
    for way in ways:
        assert "failed" not in [answer for _, answer in way.steps]
        if isinstance(variant.steps[way.last], Fix):
            assert way.hand_over == "repairer"
    said = [line for way in ways for line in words_of(shared, variant, way)]
    assert "Wipe the contacts - hand over to repairer for the operational check" in said


def test_words(library: MakeLibrary) -> None:
    shared, variant = sample(library())
    steps = (("spare-cell", "unable"), ("volts", "Flat"), ("fit-cell", "failed"), ("wipe-contacts", "cannot"))
    way = Way(steps, "out-of-use")
    assert list(words_of(shared, variant, way)) == [
        "Does the lamp light with a spare cell? - unable (no spare cell)",
        "Is the old cell good under load? - Flat",
        "Fit a new cell - operational check failed",
        "Wipe the contacts - cannot",
        "OUT OF SERVICE",
    ]
    assert list(words_of(shared, variant, Way((), "volts", "repairer", False))) == [
        "Hand over to repairer: Is the old cell good under load?"
    ]


# -- summed up, and some of them


def shipped(*names: str) -> list[tuple[Library, Variant]]:
    loaded = load_library(ROOT / "trees")
    assert loaded.library
    return [(loaded.library, variant) for name in names for variant in loaded.trees[name].distinct_variants()]


def summed(ways: list[Way]) -> tuple[int, int, int, Counter[tuple[str, str, bool]]]:
    """The same as the summary, counted one by one."""
    lengths = [len(way.steps) + 1 for way in ways]
    stops = Counter((way.last, way.hand_over, way.proved) for way in ways)
    return len(ways), min(lengths, default=0), max(lengths, default=0), stops


def as_counted(found: Summary | None) -> tuple[int, int, int, Counter[tuple[str, str, bool]]]:
    assert found
    return found.total, found.shortest, found.longest, Counter({tuple(stop): n for stop, n in found.stops.items()})


@pytest.mark.parametrize("role", ["crew", "mechanic"])
def test_the_summary_is_that_of_the_ways_one_by_one(role: str) -> None:
    for shared, variant in shipped("wheel-thumps", "strap-or-buckle"):
        ways = list(ways_of(shared, variant, Wish(role)))
        found = summary_of(shared, variant, Wish(role))
        assert as_counted(found) == summed(ways)
        assert found
        assert list(found.stops.values()) == sorted(found.stops.values(), reverse=True)


def test_ways_to_a_step_are_those_of_all_that_come_to_it() -> None:
    for shared, variant in shipped("wheel-thumps"):
        every = list(ways_of(shared, variant, Wish("mechanic")))
        for name in variant.steps:
            wish = Wish("mechanic", to=name)
            ways = list(ways_of(shared, variant, wish))
            assert ways == [way for way in every if name in (*(step for step, _ in way.steps), way.last)]
            assert as_counted(summary_of(shared, variant, wish)) == summed(ways)
        assert list(ways_of(shared, variant, Wish("mechanic", to=variant.start))) == every


def test_ways_of_a_cause_are_those_of_all_that_it_may_take() -> None:
    """Each answer held against what the file says: labels shown, checks that fail unless the fix clears or misses."""
    for shared, variant in shipped("wheel-thumps", "strap-or-buckle"):
        every = list(ways_of(shared, variant, Wish("mechanic")))
        for name in variant.causes:
            wish = Wish("mechanic", cause=name)
            ways = list(ways_of(shared, variant, wish))
            assert ways == [way for way in every if may_take(variant, name, way)]
            assert 0 < len(ways) < len(every)
            assert as_counted(summary_of(shared, variant, wish)) == summed(ways)


def may_take(variant: Variant, cause: str, way: Way) -> bool:
    for name, answer in way.steps:
        step = variant.steps[name]
        if isinstance(step, Check) and answer != "unable" and answer not in variant.shown(step, variant.causes[cause]):
            return False
        if isinstance(step, Fix) and answer == "failed" and cause in (*step.clears, *step.misses):
            return False
    last = variant.steps[way.last]
    return not isinstance(last, Fix) or bool(way.hand_over) or cause in (*last.clears, *last.misses)


def test_a_tree_with_more_ways_than_can_be_made_is_summed_up_at_once(library: MakeLibrary) -> None:
    """A hundred checks after each other with three answers each."""
    shared, variant = sample(library())
    check = next(step for step in variant.steps.values() if isinstance(step, Check))
    names = [f"c{at}" for at in range(100)]
    steps: dict[str, Step] = {}
    for name, to in zip(names, [*names[1:], "out-of-use"], strict=True):
        found = tuple(replace(check.findings[0], label=label, goto=to) for label in ("A", "B", "C"))
        steps[name] = replace(check, id=name, findings=found, unable=None)
    long = replace(variant, start="c0", steps={**steps, "out-of-use": variant.steps["out-of-use"]})
    found = summary_of(shared, long, Wish("repairer"))
    assert found
    assert (found.total, found.shortest, found.longest) == (3**100, 101, 101)


def ways(run: Run, folder: str, *words: str):
    return run("--library", folder, "ways", LAMP, "--model", "Finch", *words)


def test_many_ways_are_summed_up_and_listed_on_demand(run: Run, library: MakeLibrary) -> None:
    folder = str(library())
    ran = ways(run, folder, "--as", "repairer")
    assert ran.code == 0
    assert ran.out.splitlines()[0].endswith("as repairer: 147 ways")
    assert "The shortest has 3 steps, the longest 8. They end at:" in ran.out
    assert "Way 1" not in ran.out
    assert "so none is listed: --to STEP or --cause CAUSE lists some, --all lists all." in " ".join(ran.out.split())
    few = ways(run, folder, "--as", "repairer", "--limit", "3")
    assert few.out.count("\nWay ") == 3
    assert "These are 3 of 147 ways; --all lists all, --to STEP or --cause" in " ".join(few.out.split())
    every = ways(run, folder, "--as", "repairer", "--all")
    assert every.out.count("\nWay ") == 147
    assert "These are" not in every.out
    assert ways(run, folder, "--all", "--limit", "3").code == 2


def test_few_ways_are_listed_as_they_are(run: Run, library: MakeLibrary) -> None:
    folder = str(library())
    everything = ways(run, folder)
    total = int(everything.out.splitlines()[0].split()[-2])
    assert "as user" in everything.out.splitlines()[0]
    assert everything.out.count("\nWay ") == total <= 20
    assert run("--library", folder, "ways", f"{folder}/{LAMP}.yaml", "--model", "Finch") == everything


def test_some_are_listed_without_a_limit(run: Run, library: MakeLibrary) -> None:
    folder = str(library())
    ran = ways(run, folder, "--as", "repairer", "--to", "volts", "--cause", "cell-flat")
    assert ', to "volts", with the cause "cell-flat": ' in ran.out.replace("\n", " ")
    assert ran.out.count("\nWay ") == int(re.findall(r"(\d+) ways?\n", ran.out)[0]) > 0


@pytest.mark.parametrize(("option", "name", "like"), [("--to", "volt", "volts"), ("--cause", "cell-flt", "cell-flat")])
def test_a_name_that_is_not_there(option: str, name: str, like: str, run: Run, library: MakeLibrary) -> None:
    ran = ways(run, str(library()), option, name)
    assert ran.code == 2
    assert f'has no {option.strip("-").replace("to", "step")} "{name}"' in ran.err
    assert like in ran.err


def test_each_model_that_differs_is_listed(run: Run, library: MakeLibrary) -> None:
    out = run("--library", str(library()), "ways", LAMP).out
    assert "on Finch" in out
    assert "on Wren" in out


def test_steps_in_a_circle_are_told(run: Run, library: MakeLibrary) -> None:
    ran = run("--library", str(library("Lights: volts", "Lights: spare-cell")), "ways", LAMP)
    assert ran.code == 1
    assert "run in a circle" in ran.err


@pytest.mark.parametrize("path", sorted((ROOT / "trees").glob("*-*.yaml")), ids=lambda path: path.stem)
def test_every_shipped_tree_can_be_listed(path: Path, run: Run) -> None:
    if path.stem == "operational-checks":
        assert run("ways", str(path)).code == 2
    else:
        assert run("ways", path.stem, "--limit", "1").code == 0
