"""Numbers of rules that come from outside, and the threshold between findings that are alike and those that are not.

Sources are named at each check; docs/sources.md lists them.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import pytest
from contexts import contexts
from shipped import shipped

from faulttree.model import Lift, Notice
from faulttree.rules.context import Shared
from faulttree.rules.findings_alike import SHARE, alike_in, letters_changed
from faulttree.rules.lift_heavy import LOAD_CONSTANT
from faulttree.rules.lift_heavy import check as heavy_lifts
from faulttree.rules.prose import LONG
from faulttree.rules.sentence_long import MOST_OF_DESCRIPTION
from faulttree.rules.signal_misfit import check_library as misfits
from faulttree.value import replace


def test_load_constant_is_that_of_niosh() -> None:
    """The lower of 23 kg and 51 lb, Applications Manual for the Revised NIOSH Lifting Equation, NIOSH 94-110: quoted.

    The recommended weight limit of its worked example 4 (Package Inspection, origin) comes out from this constant:
    V 22 in, D 37 in, coupling fair, frequency multiplier .88 gives the printed 34.9 lb.
    """
    assert LOAD_CONSTANT == 23.0
    assert round(LOAD_CONSTANT / 0.45359237) == 51
    horizontal, vertical, distance = 1.0, round(1 - 0.0075 * abs(22 - 30), 2), round(0.82 + 1.8 / 37, 2)
    assert (vertical, distance) == (0.94, 0.87)
    assert round(51 * horizontal * vertical * distance * 1.0 * 0.88 * 0.95, 1) == 34.9


@pytest.mark.parametrize(("mass", "people", "wrong"), [(23, 1, 0), (23.1, 1, 1), (46, 2, 0), (47, 2, 1), (69, 3, 0)])
def test_lift_at_its_limit(mass: float, people: int, wrong: int) -> None:
    """23 kg for each person is allowed, more is not."""
    context = next(contexts(shipped()))
    check = next(step for step in context.checks if step.base == step.id)
    lifted = replace(check, lift=Lift(mass, people), people=people)
    variant = replace(context.variant, steps={check.id: lifted})
    assert len(list(heavy_lifts(replace(context, variant=variant)))) == wrong


def test_lengths_of_sentences_are_those_of_simplified_technical_english() -> None:
    """At most 20 words an instruction, at most 25 a description: ASD-STE100, rules 5.1 and 6.3: seen, from memory."""
    assert LONG == 20
    assert MOST_OF_DESCRIPTION == 25


@pytest.mark.parametrize(
    ("signal", "result", "fits"),
    [
        ("warning", "Somebody is killed", True),
        ("warning", "Fingers are crushed", True),
        ("caution", "Fingers are crushed", False),
        ("caution", "The panel is scratched", True),
        ("warning", "The panel is scratched", False),
    ],
)
def test_signal_words_go_by_the_usage_of_aviation_documents(signal: str, result: str, fits: bool) -> None:
    """WARNING is death or injury, CAUTION is damage to equipment: MIL-STD-38784, quoted.

    In ANSI Z535 a CAUTION is about minor injury: seen. The library follows the usage of aviation.
    """
    notice = Notice("n", signal, "The edge is sharp", result, ("Go round it.",))  # type: ignore[arg-type]
    library = shipped().library
    assert library is not None
    assert (not list(misfits(Shared(replace(library, notices={"n": notice}))))) == fits


# -- findings that are alike


def test_letters_changed_against_a_table_of_all_prefixes() -> None:
    """The distance of printed pairs, and of short words by plain recursion. Kitten and sitting, 3: from memory."""
    assert letters_changed("kitten", "sitting") == 3
    assert letters_changed("torn", "worn") == 1
    assert letters_changed("form", "from") == 1

    def slow(first: str, second: str) -> int:
        if not first or not second:
            return len(first) + len(second)
        least = min(
            slow(first[1:], second) + 1,
            slow(first, second[1:]) + 1,
            slow(first[1:], second[1:]) + (first[0] != second[0]),
        )
        if len(first) > 1 and len(second) > 1 and first[0] == second[1] and first[1] == second[0]:
            least = min(least, slow(first[2:], second[2:]) + 1)
        return least

    for first, second in combinations(("torn", "worn", "thorn", "on", "not", "ton", ""), 2):
        assert letters_changed(first, second) == slow(first, second)


MIXED_UP = (
    ("Torn", "Worn"), ("Loose", "Lose"), ("Bend", "Bent"), ("Clean", "Clear"), ("Hooked", "Unhooked"),
    ("Moves", "Does not move"), ("Crack", "No crack"), ("Seated", "Unseated"), ("Left worn", "Left torn"),
)  # fmt: skip
"""Pairs that a tired reader takes for each other."""


@pytest.mark.parametrize("pair", MIXED_UP, ids="-".join)
def test_pairs_that_are_mixed_up_are_found(pair: tuple[str, str]) -> None:
    """Each pair of the list, whichever comes first."""
    assert alike_in(pair)
    assert alike_in(pair[::-1])


def test_threshold_parts_what_is_mixed_up_from_what_is_not() -> None:
    """The measure behind the threshold, without the words that both labels have.

    Pairs that differ by letters lie at 0.25 and below. On the shipped trees the nearest pair of findings of one check
    is "Nothing caught" and "Something caught", then comes "Straight and hooked" and "Bent or unhooked" at 0.58.
    """
    shares = sorted({share(*pair) for pair in shipped_pairs()})
    assert max(share(*pair) for pair in MIXED_UP[:4]) == 0.25 < SHARE
    assert SHARE < shares[0] < 0.4
    assert round(shares[1], 2) >= 0.58


def shipped_pairs() -> Iterator[tuple[str, str]]:
    """All pairs of findings of one check."""
    for context in contexts(shipped()):
        for step in context.checks:
            yield from combinations([finding.label for finding in step.findings], 2)


def share(first: str, second: str) -> float:
    """Letters changed to letters of the longer label."""
    words = [label.lower().split() for label in (first, second)]
    one, other = (" ".join(word for word in each if word not in set(words[0]) & set(words[1])) for each in words)
    return letters_changed(one, other) / max(len(one), len(other))
