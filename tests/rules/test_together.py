"""What is found of several causes, told together: a mistake once, every cause with its models and its way."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from test_rule_cases import HERE, problems_of

from faulttree.checking import check_library
from faulttree.cli.report import as_json, full, in_plain_lines
from faulttree.library import load_library
from faulttree.problems import ERROR, Problem
from faulttree.rules.context import Hit
from faulttree.rules.together import MOST_NAMES, message_of, together

MODELS = ("Finch", "Wren")
SEVERAL = HERE / "cases" / "cause-lost" / "bad-several.yaml"


def hit(cause: str, place: str = "here", way: int = 1, help: str = "lead it on") -> Hit:
    return Hit((place,), f'cause "{cause}" is lost', help, ("step",) * way, cause, ("", " are lost"))


def said(found: dict[Hit, tuple[str, ...]], by_place: bool = False) -> list[str]:
    return [message_of(group, len(MODELS)) for group in together(found, by_place)]


def test_one_cause_is_told_as_before() -> None:
    assert said({hit("a"): MODELS}) == ['cause "a" is lost']
    assert said({hit("a"): ("Wren",)}) == ['cause "a" is lost (on Wren)']


def test_several_causes_on_the_same_models() -> None:
    assert said({hit("a"): MODELS, hit("b"): MODELS}) == ['causes "a", "b" are lost']
    assert said({hit("a"): ("Wren",), hit("b"): ("Wren",)}) == ['causes "a", "b" are lost (on Wren)']


def test_several_causes_on_different_models() -> None:
    assert said({hit("a"): MODELS, hit("b"): ("Finch",)}) == ['causes "a", "b" (on Finch) are lost']


def test_a_cause_with_another_way_on_each_model_is_one_cause() -> None:
    """Both ways are kept, the shortest first; the message needs no models, for it is so on all."""
    found = {hit("a", way=3): ("Finch",), hit("a", "there", way=2): ("Wren",)}
    (group,) = together(found, False)
    assert [each.models for each in group] == [("Wren",), ("Finch",)]
    assert message_of(group, len(MODELS)) == 'cause "a" is lost'


def test_what_else_is_to_be_done_is_another_problem() -> None:
    assert len(said({hit("a"): MODELS, hit("b", help="say what it shows"): MODELS})) == 2


def test_warnings_are_told_together_at_one_place_only() -> None:
    """A comment that lets one stand is about a line; it must not hide what another line leads to."""
    found = {hit("a"): MODELS, hit("b", "there"): MODELS}
    assert len(said(found, by_place=True)) == 2
    assert len(said(found)) == 1


def test_hits_that_are_about_no_cause_stay_apart() -> None:
    one, two = (Hit(("here",), message, "mend it") for message in ("this", "that"))
    assert said({one: MODELS, two: ("Wren",)}) == ["this", "that (on Wren)"]


def test_of_many_causes_some_are_named() -> None:
    (message,) = said({hit(f"c{at}"): MODELS for at in range(20)})
    assert message.startswith('causes "c0", ')
    assert message.endswith(" and 15 more are lost")
    assert message.count('"') == 2 * (MOST_NAMES - 1)
    (message,) = said({hit(f"c{at}"): MODELS for at in range(MOST_NAMES)})
    assert "more" not in message


def test_every_failure_of_the_proof_is_in_a_problem(tmp_path: Path) -> None:
    """Nothing that the proof found is lost by telling it together: compared with the proof itself, on each model."""
    lost = [each for each in problems_of(SEVERAL, tmp_path) if each.rule == "cause-lost"]
    every = [each for one in lost for each in one.causes]
    told = {(each.cause, model, each.way[-1].split(":")[0]) for each in every for model in each.models}
    assert told == set(_failures(tmp_path))
    assert len({(one.help, one.way[-1]) for one in lost}) == len(lost)


def _failures(folder: Path) -> Iterator[tuple[str, str, str]]:
    from faulttree.graph import graph_of
    from faulttree.proof import LOST, prove

    loaded = load_library(folder)
    for model, variant in loaded.trees["bad-several"].variants.items():
        for failure in prove(variant, graph_of(variant)):
            if failure.rule == LOST:
                yield failure.cause, model, failure.step


def lost_by_two_turns(folder: Path) -> Problem:
    """The tree of the case where a cause that says what it shows comes to the same end by another turn."""
    problems_of(SEVERAL, folder)
    file = folder / "bad-several.yaml"
    silent = "spring-weak: {is: Spring weak, shows: {contacts: Clean}}"
    file.write_text(file.read_text().replace(silent, silent.replace("Clean", "Clean, cell: Whole")))
    (one,) = (
        each for each in check_library(load_library(folder)) if "spring-weak" in each.message and each.span.line == 28
    )
    return one


def test_other_places_are_told_in_every_form(tmp_path: Path) -> None:
    one = lost_by_two_turns(tmp_path)
    assert (one.severity, one.span.line) == (ERROR, 28)
    also = 'also at 32:34, for "spring-weak"'
    text = ["".join(line if isinstance(line, str) else "".join(map(str, line))) for line in full(one, (), 80)]
    assert text[-1].strip() == also
    assert in_plain_lines(one)[-1] == also
    assert 'the way of "contacts-dirty":' in in_plain_lines(one)
    whole = as_json(one)["causes"]
    assert [(each["cause"], each["models"], each["line"]) for each in whole] == [
        ("contacts-dirty", ["Finch", "Wren"], 28),
        ("lens-loose", ["Wren"], 28),
        ("spring-weak", ["Finch", "Wren"], 32),
    ]
    assert [len(each["way"]) for each in whole] == [2, 2, 3]
