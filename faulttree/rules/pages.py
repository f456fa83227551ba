"""The page of each rule, and of each name that a problem of reading may carry: parsed, listed, and as one document."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from faulttree.problems import ERROR, WARNING
from faulttree.rules import LIBRARY_RULES, RULES, LibraryRule, Rule
from faulttree.rules.reading import READING_PAGES, WARNINGS

HEADINGS = ("Meaning", "Why", "Wrong", "Right")
_INDENT = "    "
_EVERY: tuple[Rule | LibraryRule, ...] = (*RULES, *LIBRARY_RULES)


class Page(NamedTuple):
    """What there is to say about a rule. ``wrong`` and ``right`` are pieces of files."""

    name: str
    severity: str
    summary: str
    meaning: str
    why: str
    wrong: str
    right: str

    @property
    def text(self) -> str:
        """The page as lines: the name, the summary, and each heading with what stands below it, indented."""
        lines = [f"{self.name} ({self.severity})", "", self.summary]
        for heading, body in zip(HEADINGS, self[3:], strict=True):
            lines += ["", f"{heading}:", *(_INDENT + line if line else "" for line in body.split("\n"))]
        return "\n".join(lines) + "\n"


def names() -> tuple[str, ...]:
    """Every name that a problem may carry, in alphabetical order."""
    return tuple(sorted(_sources()))


def page(name: str) -> Page:
    """The page of that name; raises KeyError where there is none."""
    severity, text = _sources()[name]
    return parse(name, severity, text)


def parse(name: str, severity: str, text: str) -> Page:
    """A page from its text: a summary, then the four headings in their order, each with what is indented below it."""
    summary, *rest = text.strip().split("\n")
    bodies: dict[str, list[str]] = {}
    lines: list[str] = []
    for line in rest:
        if line and not line.startswith(_INDENT):
            lines = bodies.setdefault(line.removesuffix(":"), [])
        else:
            lines.append(line.removeprefix(_INDENT))
    if tuple(bodies) != HEADINGS:
        raise ValueError(f"the page of {name} has the headings {', '.join(bodies)}")
    return Page(name, severity, summary, *("\n".join(body).strip("\n") for body in bodies.values()))


@cache
def _sources() -> dict[str, tuple[str, str]]:
    """Severity and text of every page, by name."""
    reading = {name: (WARNING if name in WARNINGS else ERROR, text) for name, text in READING_PAGES.items()}
    return {**reading, **{rule.name: (rule.severity, rule.page) for rule in _EVERY}}


def rules_page() -> str:
    """All pages as one document in Markdown: the rules first, then what can be wrong before they run."""
    own = sorted({rule.name for rule in _EVERY})
    lines = [
        "# Rules",
        "",
        "`faulttree explain NAME` shows one page. The name is the code in every output and never changes its meaning.",
        "This document is made by `python -m faulttree.docs`.",
        "",
        "## Rules on trees and shared entries",
        "",
        *_table(own),
        "## What can be wrong with a file before these are asked",
        "",
        *_table([name for name in names() if name not in own]),
    ]
    for name in names():
        lines += _section(page(name))
    return "\n".join(lines).rstrip() + "\n"


def _table(listed: list[str]) -> Iterator[str]:
    yield "| name | severity | |"
    yield "| --- | --- | --- |"
    for name in listed:
        each = page(name)
        yield f"| [{name}](#{name}) | {each.severity} | {each.summary} |"
    yield ""


def _section(each: Page) -> Iterator[str]:
    yield from (f"## {each.name}", "", f"{each.summary} ({each.severity})", "")
    yield from (each.meaning, "", f"**Why.** {each.why}", "")
    for heading, body in (("Wrong", each.wrong), ("Right", each.right)):
        yield from (f"{heading}:", "", "```yaml", *body.split("\n"), "```", "")
