"""`faulttree check`: what is looked at, how it is told, and the exit code."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_runs import LAMP, SAMPLE, MakeLibrary, Run

from faulttree.cli import checked, claims
from faulttree.cli.claims import claims_of
from faulttree.explore import HOLDS
from faulttree.graph import graph_of
from faulttree.library import load_library, shipped_library
from faulttree.moves import routes
from faulttree.problems import WARNING, Problem, Settled, Span
from faulttree.value import replace

LOST = (
    "      Film: wipe-contacts\n    unable: {to: wipe-contacts}",
    "      Film: out-of-use\n    unable: {to: wipe-contacts}",
)
"""The sample with the cause `contacts-dirty` led to an end."""


def line_of(folder: Path) -> int:
    """The line that was changed."""
    lines = (folder / f"{LAMP}.yaml").read_text(encoding="utf-8").splitlines()
    return lines.index("      Film: out-of-use") + 1


def test_a_sound_library_has_no_problems(run: Run, library: MakeLibrary) -> None:
    assert run("check", str(library())) == (0, "No problems in 1 tree and 7 shared files.\n", "")


def test_the_shipped_library_is_sound(run: Run) -> None:
    ran = run("check")
    assert ran.code == 0, ran.out


@pytest.mark.parametrize(
    "words",
    [["check"], ["symptoms"], ["draw", "--all", "--format", "list", "-o", "drawings"]],
    ids=lambda words: words[0],
)
def test_a_shipped_library_that_nobody_named_is_told_of(
    words: list[str], run: Run, library: MakeLibrary, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An all-clear must not seem to be about a library of one's own that is not there."""
    monkeypatch.chdir(tmp_path)
    said = "no library.yaml here or above; this is the library that ships with the program"
    ran = run(*words)
    assert ran.code == 0
    assert said in " ".join(ran.err.split())
    assert str(shipped_library()) in ran.err.replace("\n", "")
    monkeypatch.chdir(library())
    assert "ships" not in run(*words).err
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("FAULTTREE_LIBRARY", "library")
    assert "ships" not in run(*words).err


def test_a_problem_at_length(run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch) -> None:
    """Place, severity, rule, message, frame, help, way, total."""
    folder = library(*LOST)
    monkeypatch.chdir(folder)
    ran = run("check")
    assert ran.code == 1
    lines = ran.out.splitlines()
    assert lines[0].startswith(f'{LAMP}.yaml:{line_of(folder)}:7: error cause-lost: cause "contacts-dirty" is')
    carets = next(line for line in lines if line.strip().startswith("^"))
    framed = lines[lines.index(carets) - 1]
    assert framed[carets.index("^") : carets.rindex("^") + 1] == "Film"
    assert "  help: lead this way to a fix that clears it" in ran.out
    assert "1  spare-cell: Does the lamp light with a spare cell? -> Lights" in ran.out
    assert "1 error in 1 file; looked at 1 tree and 7 shared files." in ran.out
    assert "faulttree explain cause-lost" in ran.err


def test_one_line_a_problem(run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = library(*LOST)
    monkeypatch.chdir(folder)
    ran = run("check", "--concise")
    [line] = ran.out.splitlines()
    assert line.startswith(f'{LAMP}.yaml:{line_of(folder)}:7: error cause-lost: cause "contacts-dirty"')
    assert ran.err.startswith("1 error in 1 file")


def test_json_is_one_document(run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = library(*LOST)
    monkeypatch.chdir(folder)
    ran = run("check", "--format", "json", "-v", "--explore")
    assert (ran.code, ran.err) == (1, "")
    said = json.loads(ran.out)
    assert said["version"] == 1
    [problem] = said["problems"]
    assert problem["rule"] == "cause-lost"
    place = (problem["line"], problem["column"], problem["end_line"], problem["end_column"])
    assert place == (line_of(folder), 7, line_of(folder), 11)
    assert problem["way"]
    assert set(problem) == {
        "rule", "severity", "message", "help", "file", "line", "column", "end_line", "end_column", "way", "causes",
    }  # fmt: skip
    assert said["explored"] == said["claims"] == []


SLIP = ("shows: {spare-cell: Lights, volts: Flat}", "shows: {spare-cell: Light, volts: Flat}")
"""The sample with a label that its check does not have."""


def test_a_misspelt_name_is_one_problem_and_keeps_the_tree_from_being_proved(run: Run, library: MakeLibrary) -> None:
    """What the proof would say of a tree with an unknown label goes away with the slip, and that is told."""
    folder = library(*SLIP)
    ran = run("check", str(folder), "--concise")
    assert ran.code == 1
    assert [line.split(" ")[2] for line in ran.out.splitlines()] == ["shows-unknown:"]
    assert f"Not proved yet, because of shows-unknown: {folder}/{LAMP}.yaml." in " ".join(ran.err.split())
    said = json.loads(run("check", str(folder), "--format", "json").out)
    assert said["not_proved"] == [{"file": f"{folder}/{LAMP}.yaml", "because": ["shows-unknown"]}]
    assert said["not_judged"] == []
    assert run("check", str(folder), "--select", "cause").code == 1
    assert "Not proved yet" in run("check", str(folder), "--format", "github").out


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("clears: [cell-flat]", "clears: [cel-flat]", "clears-unknown"),
        ("Film: wipe-contacts", "Film: wipe-contact", "target-missing"),
    ],
)
def test_what_only_follows_from_a_misspelt_name_is_not_told(
    old: str, new: str, rule: str, run: Run, library: MakeLibrary
) -> None:
    ran = run("check", str(library(old, new)), "--concise")
    assert {line.split(" ")[2] for line in ran.out.splitlines()} == {f"{rule}:"}
    assert f"Not proved yet, because of {rule}: " in " ".join(ran.err.split())


def test_what_cannot_be_read_is_not_judged_and_that_is_told(run: Run, library: MakeLibrary) -> None:
    """Else the number of problems would be taken for that of all mistakes."""
    folder = library("usual: ", "usuall: ")
    ran = run("check", str(folder))
    assert ran.code == 1
    file = f"{folder}/{LAMP}.yaml"
    assert f"Not judged by the rules and the proof yet, because it cannot be read: {file}." in " ".join(ran.out.split())
    assert json.loads(run("check", str(folder), "--format", "json").out)["not_judged"] == [file]
    (folder / f"{LAMP}.yaml").write_bytes((SAMPLE / f"{LAMP}.yaml").read_bytes())
    text = (folder / "library.yaml").read_text(encoding="utf-8")
    (folder / "library.yaml").write_text(text.replace("may:", "mayy:", 1), encoding="utf-8")
    ran = run("check", str(folder))
    assert f"proof yet, because the shared files cannot be read: {file}." in " ".join(ran.out.split())


def test_a_second_document_is_the_only_thing_that_is_told(run: Run, library: MakeLibrary) -> None:
    """The part above it lacks what stands below; told of that, an author would look in the wrong place."""
    ran = run("check", str(library("causes:", "---\ncauses:")), "--concise")
    assert [line.split(" ")[2] for line in ran.out.splitlines()] == ["yaml-documents:"]


def test_nothing_is_said_of_the_proof_where_all_was_proved(run: Run, library: MakeLibrary) -> None:
    said = run("check", str(library(*LOST))).out
    assert "cause-lost" in said
    assert "yet" not in said


def test_output_is_the_same_every_time(run: Run, library: MakeLibrary) -> None:
    folder = str(library("minutes: 1\n", "minutes: one\n"))
    assert run("check", folder) == run("check", folder)


@pytest.mark.parametrize(("strict", "code"), [([], 0), (["--strict"], 1)])
def test_a_warning_alone(strict: list[str], code: int, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """It exits 0, with --strict 1."""
    problem = Problem("a-rule", WARNING, "something is odd", "look at it", "a.yaml", Span(1, 1, 1, 2))
    monkeypatch.setattr(checked, "examine", lambda *_, **__: Settled([problem], []))
    ran = run("check", "tests/sample", *strict)
    assert ran.code == code
    assert "a.yaml:1:1: warning a-rule: something is odd" in ran.out
    assert "1 warning in 1 file" in ran.out


# -- what is looked at


def test_a_file_is_checked_with_the_library_above_it(run: Run, library: MakeLibrary) -> None:
    """Its own problems are told and those of other trees are not."""
    folder = library(*LOST)
    (folder / "below").mkdir()
    other = folder / "below" / "other.yaml"
    other.write_text("faulttree: 1\nid: other\n", encoding="utf-8")
    ran = run("check", str(folder / f"{LAMP}.yaml"), "--concise")
    assert "cause-lost" in ran.out
    assert "other.yaml" not in ran.out
    assert "1 tree and 7 shared files" in ran.err
    ran = run("check", str(other), "--concise")
    assert "other.yaml" in ran.out
    assert "cause-lost" not in ran.out


def test_a_tree_is_checked_by_its_id(run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch) -> None:
    """As every other command takes it: of the library in use; a file or folder of that name comes first."""
    folder = library(*LOST)
    ran = run("check", LAMP, "--library", str(folder), "--concise")
    assert (ran.code, ran.out.count("cause-lost")) == (1, 1)
    monkeypatch.chdir(folder)
    assert run("check", LAMP).code == 1
    assert "mended" not in run("check", LAMP, "--fix").err
    tree = folder / f"{LAMP}.yaml"
    tree.write_text(
        tree.read_text(encoding="utf-8").replace("start:", "start:  ").replace("\nstart", " \nstart"), "utf-8"
    )
    assert "mended" in run("check", LAMP, "--fix").err
    monkeypatch.chdir(folder.parent)
    ran = run("check", "legs-do-not-drop")
    assert ran.code == 0
    assert "ships with the program" in " ".join(ran.err.split())
    assert run("check", "legs-do-not-drop", "--fix").code == 2
    ran = run("check", "legs-do-not-dropp")
    assert (ran.code, 'did you mean "legs-do-not-drop"?' in ran.err) == (2, True)


def test_a_folder_of_trees_is_checked_with_the_library_above_it(run: Run, library: MakeLibrary) -> None:
    folder = library(*LOST)
    (folder / "below").mkdir()
    (folder / "below" / "other.yaml").write_text("faulttree: 1\nid: other\n", encoding="utf-8")
    ran = run("check", str(folder / "below"), "--concise")
    assert "other.yaml" in ran.out
    assert "cause-lost" not in ran.out


def test_problems_of_shared_files_are_told_with_a_tree(run: Run, library: MakeLibrary) -> None:
    folder = library("urgencies:", "urgencys:", file="library.yaml")
    ran = run("check", str(folder / f"{LAMP}.yaml"), "--concise")
    assert ran.code == 1
    assert "library.yaml:" in ran.out


def test_a_shared_file_stands_for_the_whole_library(run: Run, library: MakeLibrary) -> None:
    """What is changed in it may break any tree."""
    folder = library(*LOST)
    assert "cause-lost" in run("check", str(folder / "limits.yaml"), "--concise").out


def test_two_files_of_one_library_are_checked_together(run: Run, library: MakeLibrary) -> None:
    folder = library()
    other = folder / "other.yaml"
    other.write_text("faulttree: 1\nid: other\n", encoding="utf-8")
    ran = run("check", str(folder / f"{LAMP}.yaml"), str(other), "--concise")
    assert "2 trees and 7 shared files" in ran.err


def test_libraries_below_a_folder_are_found(run: Run, library: MakeLibrary) -> None:
    folder = library()
    assert run("check", str(folder.parent)).out == "No problems in 1 tree and 7 shared files.\n"


@pytest.mark.parametrize("name", ["nowhere", "a\0b", "trees/nowhere.yaml"])
def test_what_is_not_there_is_told(name: str, run: Run) -> None:
    ran = run("check", name)
    assert ran.code == 2
    assert f'there is no {"file, folder or tree" if name == "nowhere" else "file or folder"} "' in ran.err


def test_a_folder_without_library_is_told(run: Run, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    assert run("check", str(tmp_path / "empty")).code == 2
    (tmp_path / "empty" / "a.yaml").write_text("faulttree: 1\n", encoding="utf-8")
    assert run("check", str(tmp_path / "empty" / "a.yaml")).code == 2


# -- claims and exploring


def test_claims_are_what_a_brute_force_walk_meets(library: MakeLibrary) -> None:
    """Every way that a cause may take is followed step by step; a fix on it that is silent about the cause claims."""
    loaded = load_library(library())
    tree = loaded.trees[LAMP]
    variant = next(iter(tree.variants.values()))
    met: set[tuple[str, str]] = set()
    for cause in variant.causes.values():
        waiting = [variant.start]
        while waiting:
            step = variant.steps[waiting.pop()]
            clears = getattr(step, "clears", ())
            misses = getattr(step, "misses", ())
            if hasattr(step, "clears") and cause.id not in (*clears, *misses):
                met.add((step.id, cause.id))
            for answer, to in routes(step):
                if hasattr(step, "findings") and answer != "unable" and answer not in variant.shown(step, cause):
                    continue
                if answer == "failed" and cause.id in (*clears, *misses):
                    continue
                waiting.append(to)
    [(name, claimed)] = claims_of(loaded, [LAMP])
    assert name == LAMP
    assert {(claim.fix, cause) for claim in claimed for cause in claim.causes} == met


def test_claims_are_listed_in_words(run: Run, library: MakeLibrary) -> None:
    ran = run("check", str(library()), "-v")
    assert f"What {LAMP} claims" in ran.out
    words = " ".join(ran.out.split())
    assert "With any of switch-worn, head-failed still there, lights-ten-times of fit-cell fails." in words


def test_shared_entries_that_nothing_uses_are_listed(run: Run, library: MakeLibrary) -> None:
    """For a whole library only; what a recurring item, an access or an operational check of a tree names is used."""
    folder = library("tools:\n", "tools:\n  awl: {is: Awl}\n", "tools.yaml")
    ran = run("check", str(folder), "-v")
    said = ran.out.split("Not used by any tree")[1].split("\n\n")[0]
    assert said.splitlines()[-1] == "  - tools: awl"
    assert said.count("  - ") == 1
    unused = json.loads(run("check", str(folder), "-v", "--format", "json").out)["unused_entries"]
    assert unused == [{"library": str(folder), "kind": "tools", "name": "awl"}]
    assert "Not used by" not in run("check", str(folder / f"{LAMP}.yaml"), "-v").out
    assert "awl" not in run("check", str(folder)).out
    (folder / "broken.yaml").write_text("faulttree: 1\n", encoding="utf-8")
    assert "Not used by" not in run("check", str(folder), "-v").out


def test_a_schema_that_is_not_there_is_told(run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch) -> None:
    """An editor would check nothing, and nobody would know."""
    monkeypatch.chdir(library())
    said = f"  - {LAMP}.yaml: tree.schema.json"
    assert said in run("check", "-v").out.splitlines()
    assert said not in run("check").out.splitlines()
    Path("tree.schema.json").write_text("{}", encoding="utf-8")
    assert "Schemas that" not in run("check", "-v").out


def test_exploring_counts_and_says_what_holds(run: Run, library: MakeLibrary) -> None:
    ran = run("check", str(library()), "--explore")
    assert ran.code == 0
    words = " ".join(ran.out.split())
    assert f"{LAMP}, Finch: 16 steps, 147 ways, the longest 8 steps" in words
    for rule in HOLDS:
        assert rule in words


def test_the_counted_ways_are_all_ways(library: MakeLibrary) -> None:
    """The number that exploring gives, against listing every way by recursion."""
    loaded = load_library(library())
    variant = next(iter(loaded.trees[LAMP].variants.values()))
    assert graph_of(variant).order

    def ways(name: str) -> int:
        step = variant.steps[name]
        return (not hasattr(step, "findings")) + sum(ways(to) for _, to in routes(step))

    assert ways(variant.start) == 147


def test_a_rule_that_is_broken_exits_1(run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = claims.explore

    def broken(*args: object) -> object:
        return replace(whole(*args), broken=("no role meets a step it may not do: volts",))  # type: ignore[arg-type]

    monkeypatch.setattr(claims, "explore", broken)
    folder = str(library())
    ran = run("check", folder, "--explore")
    assert ran.code == 1
    assert "broken: no role meets a step it may not do: volts" in ran.out
    assert "In every one of them" not in ran.out
    assert run("check", folder, "--explore", "--format", "json").code == 1


def test_a_tree_with_errors_is_not_explored(run: Run, library: MakeLibrary) -> None:
    ran = run("check", str(library(*LOST)), "--explore")
    assert ran.code == 1
    assert "not explored, it has errors" in ran.out
