"""`faulttree explain`: pages, families, suggestions."""

from __future__ import annotations

import pytest
from cli_runs import Run

from faulttree.rules.pages import names, page


@pytest.mark.parametrize("name", names())
def test_every_rule_has_a_page_with_all_its_words(name: str, run: Run) -> None:
    ran = run("explain", name)
    assert (ran.code, ran.err) == (0, "")
    shown = " ".join(ran.out.split())
    found = page(name)
    for text in (found.name, found.severity, found.summary, found.meaning, found.why, found.wrong, found.right):
        assert " ".join(text.split()) in shown
    assert all(len(line) <= 80 for line in ran.out.partition("\nWrong\n")[0].splitlines())


def test_pieces_of_files_stay_as_they_are(run: Run) -> None:
    found = page("cause-lost")
    shown = run("explain", "cause-lost").out
    assert "\n".join(f"  {line}".rstrip() for line in found.wrong.split("\n")) in shown


def test_a_beginning_lists_its_family(run: Run) -> None:
    lines = run("explain", "cause-").out.splitlines()
    family = [name for name in names() if name.startswith("cause-")]
    assert [line.split()[0] for line in lines if not line.startswith(" ")] == family


def test_without_a_name_all_are_listed(run: Run) -> None:
    out = run("explain").out
    assert all(name in out for name in names())


@pytest.mark.parametrize(("word", "advice"), [("cause-lst", 'did you mean "cause-lost"?'), ("qq", "lists the rules")])
def test_an_unknown_name_gets_a_suggestion(word: str, advice: str, run: Run) -> None:
    ran = run("explain", word)
    assert ran.code == 2
    assert f'there is no rule "{word}"' in ran.err
    assert advice in ran.err


def test_capitals_do_not_matter(run: Run) -> None:
    assert run("explain", "Cause-Lost") == run("explain", "cause-lost")
