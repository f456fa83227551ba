"""`faulttree ways`: every way once, cut where it is for another role, and counted without listing."""

from __future__ import annotations

from pathlib import Path

import pytest
from cli_runs import LAMP, ROOT, MakeLibrary, Run

from faulttree.cli.ways import Way, count_ways, ways_of, words_of
from faulttree.explore import every_way
from faulttree.library import load_library
from faulttree.model import Fix, Library, Variant


def sample(folder: Path) -> tuple[Library, Variant]:
    loaded = load_library(folder)
    assert loaded.library
    return loaded.library, next(iter(loaded.trees[LAMP].variants.values()))


def test_for_a_role_that_may_do_all_they_are_the_ways_of_exploring(library: MakeLibrary) -> None:
    shared, variant = sample(library())
    found = [(way.steps, way.last) for way in ways_of(shared, variant, "repairer")]
    assert found == list(every_way(variant))
    assert count_ways(shared, variant, "repairer") == len(found) == 147


def test_for_the_first_role_they_are_cut_where_another_is_needed(library: MakeLibrary) -> None:
    """Against every full way, cut by hand at the first step that the role may not do."""
    shared, variant = sample(library())
    cut: dict[tuple[tuple[str, str], ...], None] = {}
    for way, last in every_way(variant):
        names = [*(name for name, _ in way), last]
        stop = next((at for at, name in enumerate(names) if variant.steps[name].who == "repairer"), None)
        answers = [*way, (last, "")]
        cut[tuple(answers) if stop is None else (*answers[:stop], (names[stop], ""))] = None
    found = [(*way.steps, (way.last, "")) for way in ways_of(shared, variant, "user")]
    assert found == list(cut)
    assert count_ways(shared, variant, "user") == len(cut)


def test_the_operational_check_may_be_for_another_role(library: MakeLibrary) -> None:
    """Then a way ends at the fix, and nothing follows its failing."""
    folder = library("who: user", "who: repairer", file="operational-checks.yaml")
    shared, variant = sample(folder)
    ways = list(ways_of(shared, variant, "user"))
    assert len(ways) == count_ways(shared, variant, "user")
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


def test_text_and_limit(run: Run, library: MakeLibrary) -> None:
    folder = str(library())
    ran = run("--library", folder, "ways", LAMP, "--as", "repairer", "--model", "Finch", "--limit", "3")
    assert ran.code == 0
    assert "147 ways" in ran.out.splitlines()[0]
    assert ran.out.count("\nWay ") == 3
    assert "These are 3 of 147 ways; --limit 147 lists all." in ran.out
    everything = run("--library", folder, "ways", LAMP, "--model", "Finch")
    assert "These are" not in everything.out
    assert "as user" in everything.out.splitlines()[0]
    assert run("--library", folder, "ways", f"{folder}/{LAMP}.yaml", "--model", "Finch") == everything


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
