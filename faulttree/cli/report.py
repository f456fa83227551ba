"""Reporters of problems: full text with frames, one line a problem, and one JSON document."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from faulttree.cells import broken, cells
from faulttree.cli.output import Bold, Line
from faulttree.problems import ERROR, Problem, Span
from faulttree.visible import one_line

if TYPE_CHECKING:
    from faulttree.cli.checked import Found

JSON_VERSION = 1
COUNTABLE = 10**15
"""From here on numbers are told by their power of ten: a tree may have more ways than a number has room for."""

LOG_2 = 0.30103
"""Logarithm of 2 to the base 10."""


def place(problem: Problem) -> str:
    """``path:line:column``, as editors and terminals follow it; columns count code points from 1."""
    return f"{one_line(problem.file)}:{problem.span.line}:{problem.span.column}"


def concise(problem: Problem) -> Line:
    """A problem in one line."""
    head = (f"{place(problem)}: ", _word(problem.severity), " ", Bold(problem.rule))
    return (*head, f": {one_line(problem.message)}")


def _word(severity: str) -> str:
    return Bold(severity) if severity == ERROR else severity


def full(problem: Problem, lines: Sequence[str], width: int) -> Iterator[Line]:
    """A problem at length: what and where, the frame of the file, what to do, and the way that fails."""
    from faulttree.cli.frame import frame, numbered

    head = f"{place(problem)}: {problem.severity} {problem.rule}:"
    first, *more = broken(one_line(problem.message), width, f"{head} ", "  ")
    if cells(first) > width:
        first, more = head, broken(one_line(problem.message), width, "  ", "  ")
    yield (*concise(problem)[:-1], first.removeprefix(head[:-1]))
    yield from ((line,) for line in more)
    yield from ((line,) for line in frame(lines, problem.span, width))
    if problem.help:
        first, *more = broken(one_line(problem.help), width, "  help: ", "        ")
        yield "  ", Bold("help"), first.removeprefix("  help")
        yield from ((line,) for line in more)
    if problem.way:
        yield from ((line,) for line in broken(_way_of(problem), width, "  ", "    "))
        yield from ((line,) for line in numbered([one_line(line) for line in problem.way], width, "    "))
    for also in elsewhere(problem):
        yield from ((line,) for line in broken(also, width, "  ", "    "))


def in_plain_lines(problem: Problem) -> list[str]:
    """Message, help and way, a line each: what a form of output shows that has one place for all of it."""
    way = [f"{at}  {one_line(line)}" for at, line in enumerate(problem.way, 1)]
    shown = [_way_of(problem), *way] if way else []
    return [one_line(problem.message), f"help: {one_line(problem.help)}", *shown, *elsewhere(problem)]


def _way_of(problem: Problem) -> str:
    """Whose way is shown, where several causes are told of."""
    several = len({each.cause for each in problem.causes}) > 1
    return f'the way of "{one_line(problem.causes[0].cause)}":' if several else "the way:"


def elsewhere(problem: Problem) -> list[str]:
    """The other places that a problem of several causes is about, a sentence each."""
    return [f"also at {span.line}:{span.column}, for {words}" for span, words in other_places(problem).items()]


def other_places(problem: Problem) -> dict[Span, str]:
    """By place, the causes that come there by another turn than the one that is shown."""
    found: dict[Span, dict[str, None]] = {}
    for each in problem.causes:
        if each.span != problem.span:
            found.setdefault(each.span, {})[f'"{one_line(each.cause)}"'] = None
    return {span: ", ".join(found[span]) for span in sorted(found)}


def total(found: Found) -> str:
    """What was found, in a sentence, and what is not told of."""
    what = f"{counted(len(found.trees), 'tree')} and {counted(len(found.shared), 'shared file')}"
    said = (
        f"{_kinds(found.problems)} in {counted(len({each.file for each in found.problems}), 'file')}; looked at {what}."
    )
    if not found.problems:
        said = f"No problems in {what}." if not found.left_out else f"No problems of these rules in {what}."
    if found.let_stand:
        said += f" {counted(len(found.let_stand), 'problem')} let stand."
    if found.left_out:
        names = ", ".join(sorted({each.rule for each in found.left_out}))
        said += f" Left out: {_kinds(found.left_out)} of {names}."
    return said


MOST_NAMES = 5
_NOT_JUDGED = "Not judged by the rules and the proof yet"


def not_yet(found: Found) -> list[str]:
    """Which trees neither rules nor proof have looked at yet, and what must be mended first; a sentence each.

    Else somebody would take the number of problems for that of all mistakes, and mend one batch after another.
    """
    wrong = {problem.file for problem in (*found.problems, *found.left_out) if problem.severity == ERROR}
    own = [name for name in found.unjudged if name in wrong]
    others = [name for name in found.unjudged if name not in wrong]
    said = []
    if own:
        said.append(f"{_NOT_JUDGED}, because {'it' if len(own) == 1 else 'they'} cannot be read: {_names(own)}.")
    if others:
        said.append(f"{_NOT_JUDGED}, because the shared files cannot be read: {_names(others)}.")
    by_reason: dict[tuple[str, ...], list[str]] = {}
    for name, because in found.unproved.items():
        by_reason.setdefault(because, []).append(name)
    for because, names in by_reason.items():
        said.append(f"Not proved yet, because of {' and '.join(because)}: {_names(names)}.")
    return said


def _names(files: Sequence[str]) -> str:
    """Some names of files, and how many more."""
    more = f" and {len(files) - MOST_NAMES} more" if len(files) > MOST_NAMES else ""
    return ", ".join(one_line(name) for name in files[:MOST_NAMES]) + more


def _kinds(problems: Sequence[Problem]) -> str:
    errors = sum(problem.severity == ERROR for problem in problems)
    kinds = [counted(errors, "error")] if errors else []
    kinds += [counted(len(problems) - errors, "warning")] if errors < len(problems) else []
    return " and ".join(kinds)


def counted(count: int, what: str) -> str:
    """``1 tree``, ``2 trees``; numbers that nobody can read by their power of ten."""
    if count >= COUNTABLE:
        return f"about 10^{int((count.bit_length() - 1) * LOG_2)} {what}s"
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def texts(problems: Sequence[Problem], sources: Callable[[str], Sequence[str]], width: int) -> Iterator[Line]:
    """All problems at length, a blank line after each. ``sources`` gives the lines of a file by its name."""
    for problem in problems:
        yield from full(problem, sources(problem.file), width)
        yield ("",)


def as_json(problem: Problem) -> Mapping[str, Any]:
    """A problem as it stands in JSON."""
    return {
        "rule": problem.rule,
        "severity": problem.severity,
        "message": problem.message,
        "help": problem.help,
        "file": problem.file,
        **_place(problem.span),
        "way": list(problem.way),
        "causes": [
            {"cause": each.cause, "models": list(each.models), **_place(each.span), "way": list(each.way)}
            for each in problem.causes
        ],
    }


def _place(span: Span) -> Mapping[str, int]:
    return {"line": span.line, "column": span.column, "end_line": span.end_line, "end_column": span.end_column}


def document(values: Mapping[str, Any]) -> str:
    """One JSON document in ASCII with the number of its version first."""
    import json

    text = json.dumps({"version": JSON_VERSION, **values}, indent=2, allow_nan=False)
    return text.replace("\x7f", "\\u007f")
