"""Listings as JSON: one document each, that says what the text says."""

from __future__ import annotations

import io
import json
import sys
import tracemalloc
from typing import Any

import pytest
from cli_runs import LAMP, SAMPLE, MakeLibrary, Run

from faulttree.cli.main import main
from faulttree.cli.ways import total_of
from faulttree.cli.ways_found import Wish, ways_of, words_of
from faulttree.journal.names import default_folder
from faulttree.library import load_library
from faulttree.load.schema import KINDS
from faulttree.rules.pages import names, page
from faulttree.waiting import waiting

IN_SAMPLE = ("--library", str(SAMPLE))


@pytest.fixture
def listed(run: Run):
    """What a command lists as JSON; nothing else may be printed."""

    def document(*words: str) -> dict[str, Any]:
        ran = run(*words, "--format", "json")
        assert (ran.code, ran.err) == (0, "")
        assert ran.out.isascii()
        found = json.loads(ran.out)
        assert found["version"] == 1
        return found

    return document


@pytest.mark.parametrize("role", ["user", "repairer"])
def test_ways_are_those_of_the_text(listed, role: str) -> None:
    loaded = load_library(SAMPLE)
    tree = loaded.trees[LAMP]
    found = listed("ways", LAMP, "--as", role, *IN_SAMPLE)
    assert (found["tree"], found["symptom"], found["role"]) == (LAMP, tree.symptom, role)
    assert [each["models"] for each in found["models"]] == [["Finch"], ["Wren"]]
    for each, variant in zip(found["models"], tree.distinct_variants(), strict=True):
        ways = list(ways_of(loaded.library, variant, Wish(role)))
        assert (
            each["total"] == total_of(loaded.library, tree, variant, Wish(role)).total == len(ways) == len(each["ways"])
        )
        lengths = [len(way.steps) + 1 for way in ways]
        assert (each["shortest"], each["longest"]) == (min(lengths), max(lengths))
        stops = [((stop["last"], stop["hand_over"]), stop["ways"]) for stop in each["stops"]]
        assert all(count == [(way["last"], way["hand_over"]) for way in each["ways"]].count(at) for at, count in stops)
        assert sum(count for _, count in stops) == len(ways)
        for said, way in zip(each["ways"], ways, strict=True):
            assert [(step["step"], step["answer"]) for step in said["steps"]] == list(way.steps)
            assert said["last"] == way.last
            assert said["words"] == list(words_of(loaded.library, variant, way))
            assert (said["hand_over"] or {"to": ""})["to"] == way.hand_over
            if said["hand_over"]:
                assert said["hand_over"]["at"] == ("operational check" if way.proved else "step")


def test_ways_are_limited_and_all_are_counted(listed) -> None:
    found = listed("ways", LAMP, "--as", "repairer", "--model", "Finch", "--limit", "3", *IN_SAMPLE)
    [finch] = found["models"]
    assert (len(finch["ways"]), finch["total"]) == (3, 147)


def test_a_tree_that_is_alike_for_all_models_is_listed_once_for_all(listed) -> None:
    found = listed("ways", "cot-will-not-release", "--limit", "1")
    assert [each["models"] for each in found["models"]] == [["Alder", "Bracken"]]


def test_hugely_many_ways_are_written_one_by_one(library: MakeLibrary, capsys: pytest.CaptureFixture[str]) -> None:
    """Three answers at each of thirty checks: the first ways are there at once, and need no room for the others."""
    folder = library()
    steps = "\n".join(
        f"  c{at}: {{check: Which {at}?, who: user, unable: c{at + 1}, findings: {{One: c{at + 1}, Two: c{at + 1}}}}}"
        for at in range(30)
    )
    head, _, _ = (folder / f"{LAMP}.yaml").read_text().partition("causes:")
    rest = f"causes: {{dead: {{is: Dead}}}}\nstart: c0\nsteps:\n{steps}\n  c30: {{end: out of service}}\n"
    (folder / "many.yaml").write_text(head.replace(f"id: {LAMP}", "id: many") + rest)
    tracemalloc.start()
    assert main(["ways", "many", "--library", str(folder), "--format", "json", "--limit", "40"]) == 0
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    found = json.loads(capsys.readouterr().out)
    assert all(each["total"] == 3**30 and len(each["ways"]) == 40 for each in found["models"])
    assert peak < 60_000_000


def test_walks_that_wait_are_those_of_the_text(listed, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    assert listed("walk", "--resume")["walks"] == []
    monkeypatch.setattr(sys, "stdin", io.StringIO("Finch\nacknowledge\nLights\nstop\n"))
    run("walk", LAMP, "--aircraft", "G-TEST", "--item", "lamp 4", "--base", "A", *IN_SAMPLE)
    (default_folder() / "broken.jsonl").write_text("nothing\n")
    found = listed("walk", "--resume")
    assert found["folder"] == str(default_folder())
    assert {walk["id"] for walk in found["walks"]} == {each.id for each in waiting(default_folder()).every}
    [walk] = [walk for walk in found["walks"] if not walk["problem"]]
    [broken] = [walk for walk in found["walks"] if walk["problem"]]
    assert broken.keys() == {"id", "file", "problem"}
    assert walk["id"] in run("walk", "--resume").out
    assert (walk["tree"], walk["state"], walk["open_items"]) == (LAMP, "stopped", ["cell-out"])
    assert (walk["aircraft"], walk["item"], walk["base"], walk["practice"]) == ("G-TEST", "lamp 4", "A", False)
    assert (walk["step"], walk["role"], walk["moves"]) == ("volts", "user", 4)


@pytest.mark.parametrize(
    ("answers", "state", "words"),
    [
        ("acknowledge|Lights|hand over repairer", "handed over", "handed over to: repairer"),
        ("acknowledge|Stays dark|Clicks|unable dark|stop", "stopped", "stopped"),
        ("acknowledge|Stays dark|No click|unable no key||", "ended", "ended"),
    ],
)
def test_how_a_walk_stands_is_the_same_in_both_lists(
    listed, run: Run, monkeypatch: pytest.MonkeyPatch, answers: str, state: str, words: str
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"Finch|{answers}|".replace("|", "\n")))
    run("walk", LAMP, "--plain", "--as", "repairer", *IN_SAMPLE)
    [walk] = listed("walk", "--resume")["walks"]
    assert walk["state"] == state
    assert f", {words}, " in run("walk", "--resume").out


@pytest.mark.parametrize("words", [[], [LAMP], ["--resume", "LMP-0101-AA"], ["--readback", "ABC"]])
def test_only_the_list_of_walks_has_a_format(run: Run, words: list[str]) -> None:
    ran = run("walk", *words, "--format", "json")
    assert ran.code == 2
    assert "--format is for the list of walks" in ran.err


def test_rules_and_one_page(listed) -> None:
    rules = listed("explain")["rules"]
    assert [rule["name"] for rule in rules] == list(names())
    assert all(rule == {key: getattr(page(rule["name"]), key) for key in rule} for rule in rules)
    assert [rule["name"] for rule in listed("explain", "notice-")["rules"]] == [
        name for name in names() if name.startswith("notice-")
    ]
    one = listed("explain", "cause-lost")
    assert {key: one[key] for key in one if key != "version"} == page("cause-lost")._asdict()


def test_kinds_of_file(listed, run: Run) -> None:
    assert listed("schema")["kinds"] == list(KINDS) == run("schema").out.split()
