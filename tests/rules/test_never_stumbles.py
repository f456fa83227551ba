"""Whatever stands in the files, no rule stumbles; a warning that is dropped from a shipped tree is missed."""

from __future__ import annotations

import shutil
from pathlib import Path

from contexts import assert_gates_hide_nothing, contexts
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shipped import shipped
from strategies import trees

from faulttree.checking import check_library
from faulttree.library import load_library
from faulttree.model import Check
from faulttree.rules import LIBRARY_RULES, RULES
from faulttree.rules.context import Context, Shared
from faulttree.value import replace

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
                if "loaded-lift" in action.notices and "arry the cot" in action.do:
                    bare = (*actions[:at], replace(action, notices=()), *actions[at + 1 :])
                    hits = rule.check(replace(context, tree=replace(context.tree, **{key: bare})))
                    assert [hit.path for hit in hits if hit.path[:2] == (key, at)]
                    dropped += 1
    assert dropped
