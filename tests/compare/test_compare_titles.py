"""What changed, told to whoever goes on with a walk: in the words of the pages, never in the names of the files."""

from __future__ import annotations

import re
from itertools import permutations

import pytest
from shipped import shipped

from faulttree.compare import Side, compare
from faulttree.compare.telling import told_plainly
from faulttree.compare.titles import in_words, quoted_in, titles
from faulttree.value import replace

TREES = sorted(shipped().trees)


def side(tree: str) -> Side:
    library = shipped().library
    assert library is not None
    return Side(library, {"it": replace(shipped().trees[tree], id="it")})


@pytest.mark.parametrize(("one", "other"), list(permutations(TREES, 2))[::5], ids=lambda name: name)
def test_no_name_of_a_file_is_told(one: str, other: str) -> None:
    """Two different trees taken for one are changed in nearly every way."""
    old, new = side(one), side(other)
    found = titles(old, new)
    lines = list(told_plainly(compare(old, new, [("it", "it")]), found))
    assert len(lines) > 50
    names = {name for sort in found.values() for name in sort if "-" in name and not name.startswith("SKM-")}
    told = [(line, name) for line in lines for name in names & set(re.findall(r"[\w-]+", line))]
    # Trade words in the text of a tree may be written like a name: those stand in its words as well.
    texts = " ".join(words for sort in found.values() for words in sort.values())
    assert [(line, name) for line, name in told if name not in texts] == []


def test_a_name_that_stands_for_two_things_is_what_the_change_is_about() -> None:
    found = titles(side("cot-will-not-release"))
    assert found["step"]["over-centre"] != found["limit"]["over-centre"]
    assert in_words("over-centre", found, "way") == found["step"]["over-centre"]
    assert in_words("over-centre", found, "limit-dropped") == found["limit"]["over-centre"]
    assert in_words("over-centre", found, "tool-dropped") == found["step"]["over-centre"], "there is no such tool"


def test_names_are_told_apart_from_prose() -> None:
    found = titles(side("cot-will-not-release"))
    knee, bracket = found["step"]["knee"], found["step"]["bracket"]
    assert quoted_in("knee", found) == f'"{knee}"'
    assert quoted_in("bracket > knee", found) == f'"{bracket}" > "{knee}"'
    assert quoted_in("knee, bracket", found) == f'"{knee}", "{bracket}"'
    assert quoted_in("Look at the knee, then the frame", found) == "Look at the knee, then the frame"
    assert quoted_in("nowhere", found) == "nowhere"
    hazard = found["notice"]["turning-rotors"]
    assert quoted_in("Look (crew; notices turning-rotors)", found, "step-new") == f'Look (crew; notices "{hazard}")'
