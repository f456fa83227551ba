"""``faulttree check --format github``: workflow commands, which GitHub shows at the lines of a change.

The form and what must be escaped are those of GitHub's documentation of workflow commands and of its own toolkit: in
messages the percent sign and line ends, in properties the colon and the comma too. So no text of a file can begin a
command of its own. Files are named from the top of the git repository.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.cli.checked import Found
from faulttree.cli.report import in_plain_lines, not_yet, total
from faulttree.cli.top import from_top
from faulttree.problems import ERROR, Problem


def lines(found: Found, strict: bool) -> Iterator[str]:
    """Errors before warnings, because GitHub shows only the first ones of a step; then the total in a plain line."""
    for problem in sorted(found.problems, key=lambda each: each.severity != ERROR):
        yield command(problem)
    yield total(found)
    yield from not_yet(found)


def command(problem: Problem) -> str:
    """A problem as a workflow command. Columns are given within one line only; others have no meaning to GitHub."""
    span = problem.span
    properties = {"file": from_top(problem.file), "line": span.line, "endLine": span.end_line}
    if span.line == span.end_line:
        properties |= {"col": span.column, "endColumn": span.end_column}
    properties["title"] = f"faulttree {problem.rule}"
    said = ",".join(f"{name}={_property(str(value))}" for name, value in properties.items())
    text = "\n".join(in_plain_lines(problem))
    return f"::{problem.severity} {said}::{_data(text)}"


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
