"""The rules on safety and wording: limits from outside, their gates, and that nothing makes them stumble.

Sources are named at each check; docs/sources.md lists them.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from importlib import import_module
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shipped import shipped
from strategies import trees

from faulttree.checking import check_library
from faulttree.library import LoadedLibrary, load_library
from faulttree.load.nodes import has
from faulttree.model import Check, Lift, Notice
from faulttree.rules import LIBRARY_RULES, RULES
from faulttree.rules.context import Context, Shared
from faulttree.rules.findings_alike import SHARE, alike_in, letters_changed
from faulttree.rules.gates import GATES, LIBRARY_GATES, PROSE_GATES
from faulttree.rules.lift_heavy import LOAD_CONSTANT
from faulttree.rules.lift_heavy import check as heavy_lifts
from faulttree.rules.prose import LONG
from faulttree.rules.sentence_long import MOST_OF_DESCRIPTION
from faulttree.rules.sentences import sentences
from faulttree.rules.signal_misfit import check_library as misfits
from faulttree.rules.words import VERBS
from faulttree.value import replace

HERE = Path(__file__).parent
CASES = sorted(path for path in HERE.glob("cases/*/*") if path.suffix in (".yaml", ""))


def contexts(loaded: LoadedLibrary) -> Iterator[Context]:
    """Every tree on every model, as checking gives them to the rules."""
    assert loaded.library is not None
    for tree in loaded.trees.values():
        root = loaded.files[loaded.tree_files[tree.id]].root
        for variant in tree.distinct_variants():
            yield Context(
                library=loaded.library,
                tree=tree,
                variant=variant,
                trees=loaded.trees,
                written=lambda path, root=root: has(root, path),  # type: ignore[misc]
            )


# -- limits from outside


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


# -- gates


def without_gate(name: str, context: Context) -> set[object]:
    """What a rule says when its module is asked directly."""
    return set(import_module(f"faulttree.rules.{name.replace('-', '_')}").check(context))


def assert_gates_hide_nothing(context: Context) -> None:
    """A rule says the same with its gate and without."""
    for rule in RULES:
        if rule.name in GATES or rule.name in PROSE_GATES:
            assert set(rule.check(context)) == without_gate(rule.name, context), rule.name


def assert_library_gates_hide_nothing(shared: Shared) -> None:
    """The same for the shared entries."""
    for rule in LIBRARY_RULES:
        if rule.name in LIBRARY_GATES or rule.name in PROSE_GATES:
            direct = set(import_module(f"faulttree.rules.{rule.name.replace('-', '_')}").check_library(shared))
            assert set(rule.check(shared)) == direct, rule.name


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.parent.name}/{case.stem}")
def test_gates_hide_nothing_in_the_cases(case: Path, tmp_path: Path) -> None:
    """On every case of every rule."""
    shutil.copytree(HERE / "library", tmp_path, dirs_exist_ok=True)
    if case.is_dir():
        shutil.copytree(case, tmp_path, dirs_exist_ok=True)
    else:
        shutil.copy(case, tmp_path)
    loaded = load_library(tmp_path)
    if loaded.library is not None:
        assert_library_gates_hide_nothing(Shared(loaded.library))
        for context in contexts(loaded):
            assert_gates_hide_nothing(context)


def test_gates_hide_nothing_in_the_shipped_trees() -> None:
    """On the shipped library."""
    loaded = shipped()
    assert loaded.library is not None
    assert_library_gates_hide_nothing(Shared(loaded.library))
    for context in contexts(loaded):
        assert_gates_hide_nothing(context)


def test_every_gate_is_used() -> None:
    """No gate of a rule that is not there."""
    assert set(GATES) | set(PROSE_GATES) <= {rule.name for rule in RULES}
    assert set(LIBRARY_GATES) <= {rule.name for rule in LIBRARY_RULES}


# -- what the texts are


def test_the_quick_texts_have_all_that_have_places() -> None:
    """`strings` and `texts` are gathered apart; every text with a place is among the quick ones."""
    for context in contexts(shipped()):
        quick = set(context.prose.strings)
        assert {text.text for text in context.prose.texts} <= quick
        assert all(
            context.written(text.path) or isinstance(text.path[-1], int) for text in context.prose.texts if text.text
        )


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("Push it. Pull it.", ("Push it.", "Pull it.")),
        ("Cot no. 3 is 4.5 mm off. Tag it.", ("Cot no. 3 is 4.5 mm off.", "Tag it.")),
        ("Is it whole? It is!", ("Is it whole?", "It is!")),
        ("", ("",)),
    ],
)
def test_sentences(text: str, parts: tuple[str, ...]) -> None:
    """Points of numbers and of "no." end no sentence."""
    assert sentences(text) == parts


def test_verbs_are_in_their_plain_form() -> None:
    """The list of verbs has plain forms only; others would never stand at the head of an instruction."""
    assert not [verb for verb in VERBS if verb.endswith("ing") and verb not in ("bring", "swing")]


# -- nothing makes them stumble

SAID = (
    "the should be fitted 15 3.5 mm spring unhook lift cot , . ; and then wipe properly if necessary you must ___ "
    "rotor solvent blood fingers off out of 1e9 Ω \u202e \x1b[2J don't - – 0 No not"
)
WORDS = st.sampled_from(SAID.split(" "))
PROSE = st.lists(WORDS, max_size=30).map(" ".join) | st.text(max_size=60)


@given(trees(), st.lists(PROSE, min_size=1, max_size=6))
@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_rules_never_stumble_on_random_trees(made: tuple, said: list[str]) -> None:  # type: ignore[type-arg]
    """Every rule runs through on random trees with any prose, and its gate hides nothing."""
    tree, library = made
    variant = next(iter(tree.variants.values()))
    spoken = {
        name: replace(step, do=tuple(said), **({"text": said[0]} if hasattr(step, "text") else {}))
        for name, step in variant.steps.items()
    }
    changed = replace(variant, steps=spoken)
    told = replace(tree, variants={variant.model: changed}, before=tuple(said), report=said[-1])
    context = Context(library=library, tree=told, variant=changed, trees={told.id: told})
    for rule in RULES:
        for hit in rule.check(context):
            assert hit.message
            assert hit.help
    assert_gates_hide_nothing(context)
    for shared_rule in LIBRARY_RULES:
        list(shared_rule.check(Shared(library)))


FILES = sorted((Path(__file__).parents[2] / "trees").glob("*.yaml"))


@given(st.data())
@settings(
    max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture]
)
def test_rules_never_stumble_on_mutated_files(tmp_path: Path, data: st.DataObject) -> None:
    """A line of a shipped file taken out, doubled or with another value: problems may come, an exception never."""
    folder = tmp_path / "library"
    shutil.copytree(FILES[0].parent, folder, dirs_exist_ok=True)
    file = data.draw(st.sampled_from(FILES), label="file")
    lines = file.read_text(encoding="utf-8").split("\n")
    at = data.draw(st.integers(0, len(lines) - 1), label="line")
    key, colon, _ = lines[at].partition(": ")
    wrong = data.draw(PROSE.map(lambda text: text.replace("\n", " ")), label="value")
    lines[at : at + 1] = data.draw(st.sampled_from([[], [lines[at]] * 2, [f"{key}{colon}{wrong}"]]), label="instead")
    (folder / file.name).write_text("\n".join(lines), encoding="utf-8", errors="replace")
    for problem in check_library(load_library(folder)):
        assert problem.message


def test_dropped_warnings_are_noticed() -> None:
    """A check that is allowed with an occupant must keep its notice of the occupant, on every shipped tree."""
    dropped = found = 0
    rules = [rule for rule in RULES if rule.name in ("notice-missing", "notices-none")]
    for context in contexts(shipped()):
        for step in context.own_work:
            if isinstance(step, Check) and step.occupied:
                without = replace(step, notices=tuple(name for name in step.notices if name != "patient-on-cot"))
                variant = replace(context.variant, steps={**context.variant.steps, step.id: without})
                less = replace(context, variant=variant)
                dropped += 1
                found += any(hit.path[1] == step.id for rule in rules for hit in rule.check(less))
    assert dropped == found > 0


def test_a_dropped_notice_of_a_lift_is_noticed_at_actions_too() -> None:
    """Lines of the fallback and first actions that carry or lift the cot, each without its notices."""
    rule = next(rule for rule in RULES if rule.name == "notice-missing")
    dropped = 0
    for context in contexts(shipped()):
        for key in ("first_actions", "fallback"):
            actions = getattr(context.tree, key)
            for at, action in enumerate(actions):
                if "heavy-lift" in action.notices and "arry the cot" in action.do:
                    bare = (*actions[:at], replace(action, notices=()), *actions[at + 1 :])
                    hits = rule.check(replace(context, tree=replace(context.tree, **{key: bare})))
                    assert [hit.path for hit in hits if hit.path[:2] == (key, at)]
                    dropped += 1
    assert dropped
