"""Comments that let a problem stand: what they are about, which are refused, and which do nothing."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from shipped import SAMPLE

from faulttree.checking import check_library, examine
from faulttree.library import load_library
from faulttree.load.parse import load
from faulttree.problems import ERROR, WARNING
from faulttree.rules import LIBRARY_RULES, RULES
from faulttree.rules.pages import names, page
from faulttree.rules.standing import ERRORS_THAT_MAY, may_stand
from faulttree.standing import Source, Stet, stets_of


def stets(text: str) -> tuple[Stet, ...]:
    return stets_of(Source(text, load(text.encode(), "a.yaml").root))


def sample_with(folder: Path, *changes: tuple[str, str]) -> Path:
    shutil.copytree(SAMPLE, folder, dirs_exist_ok=True)
    path = folder / "lamp-does-not-light.yaml"
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) >= 1
        text = text.replace(old, new, 1)
    path.write_text(text, encoding="utf-8")
    return folder


# -- what is a comment


@pytest.mark.parametrize(
    ("text", "about", "rules", "reason"),
    [
        ("a: b  # stet some-rule: it is so", 1, ["some-rule"], "it is so"),
        ("# stet some-rule: it is so\na: b", 2, ["some-rule"], "it is so"),
        ("# stet x-y: it is so\n\n  # another\na: b", 4, ["x-y"], "it is so"),
        ("a: b  #stet x-y, z-a: two: parts", 1, ["x-y", "z-a"], "two: parts"),
        ("a: b  # stet x-y", 1, ["x-y"], ""),
        ("a: b  # stet x-y: no", 1, ["x-y"], ""),
        ("a: b  # stet: it is so", 1, [], "it is so"),
        ("a: >-  # stet x-y: it is so\n  text\n", 1, ["x-y"], "it is so"),
        ("a: [b,   # stet x-y: it is so\n  c]", 1, ["x-y"], "it is so"),
    ],
)
def test_a_comment_is_read(text: str, about: int, rules: list[str], reason: str) -> None:
    [stet] = stets(text)
    assert (stet.about, [name for name, _ in stet.rules], stet.reason) == (about, rules, reason)


@pytest.mark.parametrize(
    "text",
    [
        "a: 'b # stet x-y: it is so'",
        'a: "b\n  # stet x-y: it is so"',
        "a: |\n  b\n  # stet x-y: it is so\n  c\n",
        "a: b# stet x-y: it is so",
        "a: b  # stets x-y: it is so",
        "a: b  # stet-x: it is so",
        "'# stet x-y: it is so': b",
        "a: [",
    ],
)
def test_what_is_no_comment_is_not_read(text: str) -> None:
    assert stets(text) == ()


def test_the_place_of_a_name() -> None:
    text = "a: b  # stet x-y, z-a: it is so"
    [stet] = stets(text)
    assert [text[span.column - 1 : span.end_column - 1] for _, span in stet.rules] == ["x-y", "z-a"]
    assert text[stet.span.column - 1 : stet.span.end_column - 1] == text[6:]


# -- what it does


CLICKS = ("      Clicks: contacts-dark\n", "      Clicks: bridge\n")
NO_CLICK = "    findings:\n      Clicks: bridge"


def test_a_warning_is_let_stand(tmp_path: Path) -> None:
    told = check_library(load_library(sample_with(tmp_path, CLICKS)))
    assert "findings-same" in {each.rule for each in told}
    stet = (NO_CLICK, NO_CLICK.replace(":\n", ":  # stet findings-same: the next look decides\n", 1))
    settled = examine(load_library(sample_with(tmp_path, CLICKS, stet)))
    assert "findings-same" not in {each.rule for each in settled.problems}
    [let] = settled.let_stand
    assert (let.problem.rule, let.reason) == ("findings-same", "the next look decides")
    assert "stet-unused" not in {each.rule for each in settled.problems}


def test_above_the_line(tmp_path: Path) -> None:
    stet = (NO_CLICK, f"    # stet findings-same: the next look decides\n{NO_CLICK}")
    assert len(examine(load_library(sample_with(tmp_path, CLICKS, stet))).let_stand) == 1


def test_a_reason_of_one_word_is_told_as_too_short(tmp_path: Path) -> None:
    """It is there, so nobody should be told that there is none."""
    stet = (NO_CLICK, NO_CLICK.replace(":\n", ":  # stet findings-same: sure\n", 1))
    told = {each.rule: each for each in check_library(load_library(sample_with(tmp_path, CLICKS, stet)))}
    problem = told["stet-without-reason"]
    assert problem.message == '"sure" is too short a reason for "# stet findings-same"'
    assert "in two words or more" in problem.help


def test_without_reason_nothing_is_let_stand(tmp_path: Path) -> None:
    stet = (NO_CLICK, f"    # stet findings-same\n{NO_CLICK}")
    rules = {each.rule for each in check_library(load_library(sample_with(tmp_path, CLICKS, stet)))}
    assert {"findings-same", "stet-without-reason"} <= rules


SYMPTOM = "symptom: The lamp does not light"


@pytest.mark.parametrize(
    ("comment", "rule", "message", "help"),
    [
        ("findings-same: it is so", "stet-unused", '"findings-same" finds nothing in line 5 that could be', "take"),
        ("finding-same: it is so", "stet-unknown", 'there is no rule "finding-same"', 'write "findings-same"'),
        ("cause-lost: it is so", "stet-refused", '"cause-lost" may not be let stand', "mend"),
        ("stet-unused: it is so", "stet-refused", '"stet-unused" may not be let stand', "mend"),
        ("yaml-tab: it is so", "stet-refused", '"yaml-tab" may not be let stand', "mend"),
        (": it is so", "stet-unknown", '"# stet" names no rule', "write"),
    ],
)
def test_a_comment_that_does_nothing_is_told_of(
    comment: str, rule: str, message: str, help: str, tmp_path: Path
) -> None:
    """At the place of the name, with the severity of its page."""
    folder = sample_with(tmp_path, (SYMPTOM, f"{SYMPTOM}  # stet {comment}".replace("stet :", "stet:")))
    [problem] = check_library(load_library(folder))
    assert problem.rule == rule
    assert problem.message.startswith(message)
    assert problem.help.startswith(help)
    assert problem.severity == page(rule).severity
    line = (folder / "lamp-does-not-light.yaml").read_text(encoding="utf-8").split("\n")[problem.span.line - 1]
    assert line[problem.span.column - 1 : problem.span.end_column - 1] in (
        comment.partition(":")[0],
        f"# stet{comment}",
    )


def test_a_refused_comment_hides_nothing(tmp_path: Path) -> None:
    """The error is told of, and the comment too."""
    lost = ("      Film: wipe-contacts\n    unable: {to: wipe-contacts}",) * 2
    lost = (lost[0], lost[0].replace("Film: wipe-contacts", "Film: out-of-use   # stet cause-lost: seen by us", 1))
    rules = {each.rule for each in check_library(load_library(sample_with(tmp_path, lost)))}
    assert {"cause-lost", "stet-refused"} <= rules


def test_in_a_file_that_is_not_judged_nothing_is_unused(tmp_path: Path) -> None:
    """Where the tree could not be built, no rule has looked."""
    stet = (SYMPTOM, f"{SYMPTOM}  # stet findings-same: it is so")
    folder = sample_with(tmp_path, stet, ("minutes: 1\n", "minutes: one\n"))
    assert "stet-unused" not in {each.rule for each in check_library(load_library(folder))}


def test_shared_files_have_comments_too(tmp_path: Path) -> None:
    folder = sample_with(tmp_path)
    path = folder / "tools.yaml"
    text = path.read_text(encoding="utf-8").replace("tools:", "tools:  # stet findings-same: it is so", 1)
    path.write_text(text, encoding="utf-8")
    assert [each.rule for each in check_library(load_library(folder))] == ["stet-unused"]


# -- what may


def test_what_may_stand() -> None:
    """Warnings and a short list of errors; nothing of the proof, of reading, and of these comments."""
    assert set(names()) >= ERRORS_THAT_MAY
    for name in names():
        severity = page(name).severity
        is_comment = name.startswith("stet-")
        assert may_stand(name, severity) == (not is_comment and (severity == WARNING or name in ERRORS_THAT_MAY))


@pytest.mark.parametrize(
    "name",
    ["cause-lost", "cause-shadowed", "cause-on-feel-alone", "cause-too-early", "open-at-proof", "fallback-missing",
     "no-fault-found-too-low", "released-changed", "case-fails", "fix-unproved", "tree-withdrawn"],
)  # fmt: skip
def test_what_can_hurt_somebody_may_not(name: str) -> None:
    assert page(name).severity == ERROR
    assert not may_stand(name, ERROR)
    assert name in {rule.name for rule in (*RULES, *LIBRARY_RULES)}
