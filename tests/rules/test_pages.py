"""The pages: complete, parsed as they should be, and one for every name that a problem may carry."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import faulttree
from faulttree.load.parse import load
from faulttree.problems import ERROR, WARNING
from faulttree.rules import LIBRARY_RULES, RULES
from faulttree.rules.pages import names, page, parse, rules_page
from faulttree.rules.reading import READING_PAGES

PACKAGE = Path(faulttree.__file__).parent
DOCS = Path(__file__).parents[2] / "docs"
CASES = sorted((Path(__file__).parent / "cases").glob("*/*.txt"))
RULE_NAMES = {rule.name for rule in RULES} | {rule.name for rule in LIBRARY_RULES}

NO_RULES = {"operational-checks", "utf-8", "cat-file", "ls-tree", "rev-list", "rev-parse"}
"""Words with hyphens in those modules that are no names of problems: a kind of file, an encoding, words of git."""

NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)+")


def hyphened(paths: Iterator[Path]) -> set[str]:
    """Every text constant of these modules that has the form of a rule's name."""
    nodes = (node for path in paths for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))))
    texts = (node.value for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, str))
    return {text for text in texts if NAME.fullmatch(text)}


def reading_modules() -> Iterator[Path]:
    """The modules that make problems: those of reading, of the library's files and of checking."""
    yield from (PACKAGE / "load").glob("*.py")
    yield from PACKAGE.glob("*.py")


def test_every_name_that_is_used_has_a_page() -> None:
    """A problem's name in the source has a page, and a page of reading is about a name in the source."""
    used = hyphened(reading_modules()) - NO_RULES
    assert used - set(names()) == set()
    assert set(READING_PAGES) - used == set()


def test_every_rule_module_is_in_a_table() -> None:
    """No module with a check is forgotten; rules and pages of reading have different names."""
    with_check = set()
    for path in (PACKAGE / "rules").glob("*.py"):
        module = import_module(f"faulttree.rules.{path.stem}") if path.stem != "__init__" else None
        if hasattr(module, "check") or hasattr(module, "check_library"):
            with_check.add(path.stem.replace("_", "-"))
    assert with_check == RULE_NAMES
    assert RULE_NAMES & set(READING_PAGES) == set()
    for table in (RULES, LIBRARY_RULES):
        assert len({rule.name for rule in table}) == len(table)


@pytest.mark.parametrize("name", names())
def test_page_is_complete(name: str) -> None:
    """Summary and four bodies, the wrong piece other than the right one, and no line too long to read."""
    each = page(name)
    assert each.name == name
    assert each.severity in (ERROR, WARNING)
    assert each.summary.endswith(".")
    assert "\n" not in each.summary
    assert each.meaning.endswith(".")
    assert each.why.endswith(".")
    assert each.wrong
    assert each.right
    assert each.wrong != each.right
    assert max(map(len, each.text.split("\n"))) <= 120


@pytest.mark.parametrize("name", [name for name in names() if not name.startswith("file-")])
def test_examples_can_be_read(name: str) -> None:
    """The right piece of every page is YAML without a problem; so is the wrong one, unless the page is about YAML."""
    each = page(name)
    if name != "yaml-too-large":
        assert load(each.right.encode(), "right.yaml").problems == ()
    if name in RULE_NAMES:
        assert load(each.wrong.encode(), "wrong.yaml").problems == ()


SHOWN_IN_WORDS = ("yaml-bidi", "yaml-not-utf8", "yaml-tab", "yaml-too-large")
"""Pages whose wrong piece describes bytes that cannot stand in a page."""


@pytest.mark.parametrize("name", [name for name in READING_PAGES if name.startswith(("yaml-", "prose-"))])
def test_wrong_examples_of_reading_are_reported(name: str) -> None:
    """What a page of reading shows as wrong is reported under its name."""
    if name not in SHOWN_IN_WORDS:
        assert name in {problem.rule for problem in load(page(name).wrong.encode(), "wrong.yaml").problems}


def test_page_text_is_parsed_back() -> None:
    """The text of a page holds all of it."""
    for name in names():
        each = page(name)
        title, _, rest = each.text.partition("\n")
        assert title == f"{name} ({each.severity})"
        assert parse(name, each.severity, rest) == each


def test_page_with_other_headings_is_refused() -> None:
    """A page must have exactly the four headings, in their order."""
    with pytest.raises(ValueError, match="headings Meaning, Wrong, Right"):
        parse("x", ERROR, "It is so.\n\nMeaning:\n    A.\n\nWrong:\n    b\n\nRight:\n    c\n")


def test_document_of_rules_is_up_to_date() -> None:
    """docs/rules.md is what the pages say; ``python -m faulttree.docs`` makes it anew."""
    assert (DOCS / "rules.md").read_text(encoding="utf-8") == rules_page()


def test_unknown_name_has_no_page() -> None:
    """A name without a page is a KeyError, which the command turns into a suggestion."""
    with pytest.raises(KeyError):
        page("no-such-rule")


def test_words_of_problems() -> None:
    """Messages begin in lower case or with the culprit in quotes and have no full stop; helps begin with a verb."""
    for case in CASES:
        for line in case.read_text(encoding="utf-8").split("\n"):
            if line.startswith("    help: "):
                assert re.match(r"    help: [a-z]+ ", line), line
            elif line and not line.startswith(" "):
                message = line.split(": ", 1)[1]
                assert re.match(r'[a-z"]', message), line
                assert not message.endswith((".", "!")), line
                assert '"' in message or "fallback" in message, line
