"""What an author lets stand: comments beside a line that name a rule and give a reason.

``# stet RULE: reason`` at the end of a line is about the problems that begin in this line; alone in a line it is about
the next line that has anything else. The loader drops comments, so they are looked for in the text; what stands
inside a value or a key is no comment. Every such comment that does nothing is a problem itself.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import NamedTuple

from faulttree.load.nodes import Items, Node, Scalar, Table
from faulttree.problems import LetStand, Problem, Settled, Span, in_order
from faulttree.rules.standing import SIGN, may_stand, severity_of

_COMMENT = rf"(?m)(?:^|(?<=[ \t]))#[ \t]*{SIGN}(?![\w-])([^\n]*)"
_NAME = r"[^\s,]+"
FEWEST_WORDS = 2
"""A reason has so many words or more."""


class Source(NamedTuple):
    """The text of a file with its data."""

    text: str
    root: Node | None


class Stet(NamedTuple):
    """A comment: its place, the line that it is about, the rules with their places, the reason."""

    span: Span
    about: int
    rules: tuple[tuple[str, Span], ...]
    reason: str
    """Why it may stand; empty where that is not said in words enough."""
    said: str = ""
    """What stands in the place of the reason."""


def settle(problems: Iterable[Problem], sources: Mapping[str, Source], judged: Collection[str]) -> Settled:
    """Part the problems by the comments of their files; ``judged`` are the files on which every rule has run."""
    stets = {name: found for name, source in sources.items() if (found := stets_of(source))}
    if not stets:
        return Settled(in_order(list(problems)), [])
    left: list[Problem] = []
    let_stand: list[LetStand] = []
    used: set[tuple[str, int, str]] = set()
    for problem in in_order(list(problems)):
        stet = _stet_for(problem, stets.get(problem.file, ()))
        if stet is None:
            left.append(problem)
        else:
            let_stand.append(LetStand(problem, stet.reason))
            used.add((problem.file, stet.span.line, problem.rule))
    for name, found in stets.items():
        for stet in found:
            left += _wrong(name, stet, used, name in judged)
    return Settled(in_order(left), let_stand)


def _stet_for(problem: Problem, stets: Collection[Stet]) -> Stet | None:
    """The comment that lets the problem stand."""
    if not may_stand(problem.rule, problem.severity):
        return None
    fits = (each for each in stets if each.about == problem.span.line and each.reason)
    return next((each for each in fits if problem.rule in (name for name, _ in each.rules)), None)


def _wrong(file: str, stet: Stet, used: Collection[tuple[str, int, str]], judged: bool) -> Iterator[Problem]:
    """What is wrong with a comment."""
    if not stet.rules:
        yield _problem("stet-unknown", f'"# {SIGN}" names no rule', f"write {_form('RULE')}", file, stet.span)
        return
    names = ", ".join(name for name, _ in stet.rules)
    if not stet.reason:
        message = f'"# {SIGN} {names}" gives no reason'
        if stet.said:
            message = f'"{stet.said}" is too short a reason for "# {SIGN} {names}"'
        advice = f"say why it may stand, in two words or more: {_form(names)}"
        yield _problem("stet-without-reason", message, advice, file, stet.span)
    for name, span in stet.rules:
        problem = _wrong_name(file, name, span)
        if problem:
            yield problem
        elif stet.reason and judged and (file, stet.span.line, name) not in used:
            message = f'"{name}" finds nothing in line {stet.about} that could be let stand'
            yield _problem("stet-unused", message, f'take "{name}" out of the comment', file, span)


def _form(names: str) -> str:
    return f"`# {SIGN} {names}: reason`"


def _wrong_name(file: str, name: str, span: Span) -> Problem | None:
    """Why a rule cannot be let stand."""
    from faulttree.rules.advice import instead
    from faulttree.rules.pages import names, page

    if name not in names():
        advice = instead(name, names(), 'look for the name in "faulttree explain"')
        return _problem("stet-unknown", f'there is no rule "{name}"', advice, file, span)
    if not may_stand(name, page(name).severity):
        advice = "mend what the rule tells of, and take the comment out"
        return _problem("stet-refused", f'"{name}" may not be let stand', advice, file, span)
    return None


def _problem(rule: str, message: str, advice: str, file: str, span: Span) -> Problem:
    return Problem(rule, severity_of(rule), message, advice, file, span)


# -- the comments of a text


def stets_of(source: Source) -> tuple[Stet, ...]:
    """The comments of a file, in order; none where the file could not be read as YAML."""
    if SIGN not in source.text or source.root is None:
        return ()
    lines = source.text.split("\n")
    found = list(re.finditer(_COMMENT, source.text))
    inside = [each.span for each in _scalars(source.root)] if found else []
    places = (_place(source.text, match.start()) for match in found)
    return tuple(
        _stet(match[1], match.start(1) - match.start(), line, column, lines)
        for match, (line, column) in zip(found, places, strict=True)
        if not any(_is_inside(span, line, column, lines) for span in inside)
    )


def _place(text: str, index: int) -> tuple[int, int]:
    """Line and column, from 1."""
    return text.count("\n", 0, index) + 1, index - text.rfind("\n", 0, index)


def _scalars(node: Node | None) -> Iterator[Scalar]:
    """Every text of the data, keys included."""
    if isinstance(node, Scalar):
        yield node
    elif isinstance(node, Items):
        for item in node.items:
            yield from _scalars(item)
    elif isinstance(node, Table):
        for entry in node.entries.values():
            yield entry.key
            yield from _scalars(entry.value)


def _is_inside(span: Span, line: int, column: int, lines: list[str]) -> bool:
    """Whether a place is inside a text. A comment may follow the mark of a text in block form, in its line."""
    first = (span.line, span.column)
    if line == span.line and lines[line - 1][span.column - 1 : span.column] in ("|", ">"):
        return False
    return first <= (line, column) < (span.end_line, span.end_column)


def _stet(written: str, head: int, line: int, column: int, lines: list[str]) -> Stet:
    """The comment whose text after the sign is ``written``, ``head`` characters after its beginning."""
    names, _, reason = written.partition(":")
    at = column + head
    rules = tuple(
        (match[0], Span(line, at + match.start(), line, at + match.end())) for match in re.finditer(_NAME, names)
    )
    about = line if lines[line - 1][: column - 1].strip() else _next_line(lines, line)
    end = column + head + len(written.rstrip())
    enough = len(re.findall(r"\w+", reason)) >= FEWEST_WORDS
    return Stet(Span(line, column, line, end), about, rules, reason.strip() if enough else "", reason.strip())


def _next_line(lines: list[str], line: int) -> int:
    """The next line that has more than blanks and a comment; the last line where there is none."""
    for number, text in enumerate(lines[line:], line + 1):
        if text.strip() and not text.lstrip().startswith("#"):
            return number
    return len(lines)
