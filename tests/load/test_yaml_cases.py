"""Every rule of reading: bad files with the exact places of their problems, and good files that come near.

``cases/<rule>/*.yaml`` with a ``.txt`` beside each: one line a problem, ``line:column rule: message``; good files are
called ``good-...`` and have an empty list.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from node_form import placed

from faulttree.load.parse import HAS_LIBYAML, load
from faulttree.load.yaml_messages import RULES

CASES = sorted(Path(__file__).with_name("cases").glob("*/*.yaml"))
NAMES = [f"{path.parent.name}/{path.stem}" for path in CASES]
READERS = (False, True) if HAS_LIBYAML else (False,)

# A file over a mebibyte is made by its own test.
WITHOUT_CASES = {"yaml-too-large"}


def written(path: Path, libyaml: bool) -> str:
    problems = load(path.read_bytes(), path.name, libyaml).problems
    return "".join(f"{p.span.line}:{p.span.column} {p.rule}: {p.message}\n" for p in problems)


@pytest.mark.parametrize("libyaml", READERS)
@pytest.mark.parametrize("path", CASES, ids=NAMES)
def test_problems_stand_where_they_should(path: Path, libyaml: bool) -> None:
    """The problems of a case are those of its list, in order, with and without libyaml."""
    assert written(path, libyaml) == path.with_suffix(".txt").read_text("utf-8")


@pytest.mark.parametrize("path", CASES, ids=NAMES)
def test_cases_show_their_rule(path: Path) -> None:
    """A bad case breaks the rule whose name its folder bears; a good one breaks none and has a root."""
    loaded = load(path.read_bytes(), path.name)
    rules = {problem.rule for problem in loaded.problems}
    if path.stem.startswith("good-"):
        assert not rules
        assert loaded.root is not None
    else:
        assert path.parent.name in rules


def test_every_rule_has_a_bad_and_a_good_case() -> None:
    """No rule is without cases, and no folder without a rule."""
    names = [name for name, _ in RULES]
    bad = {path.parent.name for path in CASES if not path.stem.startswith("good-")}
    good = {path.parent.name for path in CASES if path.stem.startswith("good-")}
    assert names == sorted(names)
    assert bad == good == set(names) - WITHOUT_CASES


def test_advice_starts_with_a_verb_and_names_no_reader() -> None:
    """Help starts in lower case without a full stop, and no words of a reader of YAML leak into messages."""
    for path in CASES:
        for problem in load(path.read_bytes(), path.name).problems:
            assert problem.help.split()[0] in VERBS, problem
            for text in (problem.message, problem.help):
                assert text == text.strip().rstrip("."), problem
                assert text.isprintable(), problem
                assert not any(word in text for word in ("token", "scalar", "node", "block end", "stream")), problem


VERBS = {"check", "close", "delete", "indent", "put", "rename", "save", "split", "start", "use", "write", "begin"}


@pytest.mark.skipif(not HAS_LIBYAML, reason="PyYAML has no libyaml here")
def test_nodes_are_the_same_with_and_without_libyaml() -> None:
    """Nodes and places are the same; the problems are compared above."""
    for path in CASES:
        data = path.read_bytes()
        assert placed(load(data, path.name, True).root) == placed(load(data, path.name, False).root), path
