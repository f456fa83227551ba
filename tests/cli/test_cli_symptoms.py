"""`faulttree symptoms`: the order, the forgiving search, and reading no more than it needs."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_runs import LAMP, ROOT, SAMPLE, MakeLibrary, Run
from hypothesis import given
from hypothesis import strategies as st

from faulttree.library import load_library
from faulttree.searching import fits, nearest, search, stem
from faulttree.symptoms import find, listed
from faulttree.urgency import _Declined, plain_urgencies, urgencies_by_yaml, urgencies_of

WORDINGS = [
    ("Cot will not release from the mount", ("cot stuck in the aircraft", "lock won't let go"), ("mount lock",)),
    ("Legs do not drop when the cot is pulled out", ("undercarriage stays up",), ("leg frame",)),
    ("A wheel thumps", ("bumpy ride", "clicking noise when rolling"), ("wheel", "tyre")),
]


@pytest.mark.parametrize(
    ("words", "at"),
    [
        ("release", [0]),
        ("relaese", [0]),
        ("stuck", [0]),
        ("legs", [1]),
        ("leg dropped", [1]),
        ("WHEELS thumping", [2]),
        ("rolls clicks", [2]),
        ("under carriage", [1]),
        ("the cot", [0, 1]),
        ("whel", [2]),
        ("tyres", [2]),
        ("thump in the mount", [0, 2]),
        ("is not", [1]),
        ("zebra", []),
        ("", []),
        ("?!", []),
    ],
)
def test_what_words_find(words: str, at: list[int]) -> None:
    """Other forms, wrong letters, other wordings and equipment; the entries stay in their order."""
    assert [hit.at for hit in search(words.split(), WORDINGS)] == at


def test_the_other_wording_that_fitted_is_named() -> None:
    assert search(["stuck"], WORDINGS)[0].wording == "cot stuck in the aircraft"
    assert search(["release"], WORDINGS)[0].wording == ""


@pytest.mark.parametrize(
    ("one", "other"), [("thumps", "thumping"), ("rolled", "rolling"), ("stops", "stopped"), ("noise", "noisy")]
)
def test_forms_of_a_word_have_one_stem(one: str, other: str) -> None:
    assert stem(one) == stem(other)


def test_short_words_are_not_taken_for_each_other() -> None:
    """`cot` is not `cut`; in a short word every letter counts."""
    assert not fits("cut", "cot")
    assert not fits("lock", "rack")


@given(st.lists(st.text(max_size=30), max_size=4))
def test_no_words_break_the_search(words: list[str]) -> None:
    assert all(0 <= hit.at < len(WORDINGS) for hit in search(words, WORDINGS))
    assert all(0 <= at < len(WORDINGS) for at in nearest(words, WORDINGS))


def test_the_most_urgent_comes_first(run: Run) -> None:
    """The order of `urgencies` in library.yaml, against the library loaded as a whole."""
    loaded = load_library(ROOT / "trees")
    assert loaded.library
    order = list(loaded.library.urgencies)
    ids = run("symptoms", "--format", "ids").out.split()
    assert sorted(ids) == sorted(loaded.trees)
    ranks = [order.index(loaded.trees[id].urgency) for id in ids]
    assert ranks == sorted(ranks)


def test_every_wording_of_every_shipped_tree_finds_it() -> None:
    """Whoever says what the file says must come to the tree."""
    trees = listed(ROOT / "trees")
    for tree in trees:
        for wording in (tree.symptom, *tree.header.also):
            assert tree in [each._replace(wording="") for each in find(wording.split(), trees)]


def test_text(run: Run, library: MakeLibrary) -> None:
    ran = run("--library", str(library()), "symptoms")
    assert ran.out == f"Mend before the next shift\n  {LAMP}  The lamp does not light DRAFT\n"
    assert "faulttree walk NAME" in ran.err


def test_the_wording_that_fitted_is_shown(run: Run, library: MakeLibrary) -> None:
    assert '(also: "lamp is dead")' in " ".join(run("--library", str(library()), "symptoms", "dead").out.split())


def test_no_match_shows_the_nearest_and_the_list_where_there_is_none(run: Run, library: MakeLibrary) -> None:
    folder = str(library())
    near = run("--library", folder, "symptoms", "lmp", "dorsnt", "lgt")
    assert "The nearest of this library" in " ".join(near.out.split())
    assert LAMP in near.out
    far = run("--library", folder, "symptoms", "qqq")
    assert 'No symptom fits "qqq". All of this library:' in far.out
    assert LAMP in far.out
    assert run("--library", folder, "symptoms", "qqq", "--format", "ids").out == ""


def test_json(run: Run) -> None:
    ran = run("--library", str(SAMPLE), "symptoms", "dark lamp", "--format", "json")
    assert ran.err == ""
    said = json.loads(ran.out)
    assert said["version"] == 1
    assert said["fits"] is True
    [symptom] = said["symptoms"]
    assert symptom["id"] == LAMP
    assert symptom["also"] == ["lamp is dead", "no light"]
    assert symptom["file"] == f"tests/sample/{LAMP}.yaml"


def test_withdrawn_trees_are_left_out(run: Run, library: MakeLibrary) -> None:
    folder = str(library("status: draft", "status: withdrawn"))
    ran = run("--library", folder, "symptoms")
    assert LAMP not in ran.out
    assert "Withdrawn trees are left out: 1" in ran.err
    assert "WITHDRAWN" in run("--library", folder, "symptoms", "--all").out
    assert listed(Path(folder)) == []


def test_a_tree_whose_header_cannot_be_read_is_named(run: Run, library: MakeLibrary) -> None:
    ran = run("--library", str(library("symptom: ", "symptoms: ")), "symptoms")
    assert ran.code == 0
    assert f'{LAMP}.yaml" is left out' in ran.err


# -- urgencies


@pytest.mark.parametrize(
    "text",
    [
        "urgencies:\n  now: Stop at once\n  soon: Mend: soon\n",
        "urgencies:\n  now: 'Stop'\n",
        "urgencies: {now: Stop, soon: Mend}\n",
        "urgencies:\n  now: >-\n    Stop.\n    At once.\n\n  # more\n  soon: Mend # later\n",
        "urgencies:\n  now: Stop\n    at once\n",
        "urgencies:\n  now: |\n    Stop\n    at once\n",
        "urgencies:\n  now:\n",
        "urgencies:\n  now: a#b\n  12: c:d\nroles: {}\n",
        "urgencies:\n    now: Stop\n",
        "urgencies:\n  now: Stop\nurgencies:\n  soon: Mend\n",
        "urgencies: &a\n  now: Stop\n",
        "urgencies:\r\n  now: Stop\r\n  soon: Mend\r\n",
        "urgencies:\n  now: >\n    Stop.\n      Far in.\n",
        "x: |\n  urgencies:\n    now: Stop\n",
        "",
    ],
)
def test_reading_line_by_line_agrees_with_yaml(text: str) -> None:
    """Wherever the quick reading does not decline, YAML says the same."""
    data = text.encode()
    try:
        quick = plain_urgencies(data)
    except _Declined:
        return
    assert quick == urgencies_by_yaml(data)


LINES = st.sampled_from(
    [
        "urgencies:",
        "  a: b",
        "  c: d e",
        "  f: >-",
        "    g h",
        "    i",
        "  j: 'k'",
        "",
        "# l",
        "m: n",
        "  o:",
        "  p: q: r",
        "      s",
    ]
)


@given(st.lists(LINES, max_size=9))
def test_reading_line_by_line_agrees_with_yaml_on_any_lines(lines: list[str]) -> None:
    data = "\n".join(lines).encode()
    try:
        quick = plain_urgencies(data)
    except _Declined:
        return
    by_yaml = urgencies_by_yaml(data)
    assert quick == by_yaml or by_yaml == {}


def test_the_shipped_and_the_sample_library_are_plain_enough() -> None:
    """Else listing would take several times as long."""
    for folder in (ROOT / "trees", SAMPLE):
        data = (folder / "library.yaml").read_bytes()
        assert plain_urgencies(data) == urgencies_by_yaml(data) == urgencies_of(folder) != {}


def test_that_a_release_was_not_proved_is_said(run: Run, library: MakeLibrary) -> None:
    """The list reads headers alone: a tree that changed since its release is listed as its file says it is."""
    said = "No mark: released, as the file says; a walk tells whether that still holds."
    folder = library()
    assert said not in run("--library", str(folder), "symptoms").err
    file = folder / f"{LAMP}.yaml"
    release = f"status: released\nauthor: A. Reed\nreleased: {{by: B. Tarn, date: 2026-02-01, digest: {'0' * 64}}}"
    file.write_text(file.read_text(encoding="utf-8").replace("status: draft", release), encoding="utf-8")
    listed_now = run("--library", str(folder), "symptoms")
    assert said in listed_now.err
    assert "DRAFT" not in listed_now.out
    walked = run("--library", str(folder), "walk", LAMP, "--plain", "--practice", "--model", "Finch")
    assert "DRAFT, CHANGED SINCE ITS RELEASE" in " ".join((walked.out + walked.err).split())
    assert run("--library", str(folder), "symptoms", "--format", "json").err == ""
