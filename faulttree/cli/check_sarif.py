"""``faulttree check --format sarif``: one document after SARIF 2.1.0 (OASIS), for code scanning and its viewers.

Columns count code points, and the document says so. Files below the top of the git repository (without one, below the
current folder) are named from there, others by an absolute address. What is let stand is there with its reason, as
suppressed in the source.
"""

from __future__ import annotations

import json
import os
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any
from urllib.parse import quote

from faulttree import __version__
from faulttree.cli.checked import Found
from faulttree.cli.in_use import here
from faulttree.cli.report import in_plain_lines, other_places
from faulttree.cli.top import from_top
from faulttree.problems import LetStand, Problem, Span
from faulttree.rules.pages import page

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"


def lines(found: Found, strict: bool) -> Iterator[str]:
    """The document in ASCII."""
    text = json.dumps(document(found), indent=2, allow_nan=False)
    yield text.replace("\x7f", "\\u007f")


def document(found: Found) -> Mapping[str, Any]:
    """The document as plain data."""
    told: list[tuple[Problem, LetStand | None]] = [(each, None) for each in found.problems]
    told += [(each.problem, each) for each in found.let_stand]
    told.sort(key=lambda each: each[0].order())
    rules = sorted({problem.rule for problem, _ in told})
    prints = _fingerprints([problem for problem, _ in told], found)
    results = [_result(problem, let, rules, mark) for (problem, let), mark in zip(told, prints, strict=True)]
    driver = {"name": "faulttree", "version": __version__, "rules": [_rule(name) for name in rules]}
    run = {
        "tool": {"driver": driver},
        "columnKind": "unicodeCodePoints",
        "invocations": [{"executionSuccessful": True}],
        "results": results,
    }
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def _rule(name: str) -> Mapping[str, Any]:
    each = page(name)
    return {
        "id": name,
        "name": "".join(word.capitalize() for word in name.split("-")),
        "shortDescription": {"text": each.summary},
        "fullDescription": {"text": each.meaning},
        "help": {"text": each.text},
        "defaultConfiguration": {"level": each.severity},
    }


def _result(problem: Problem, let: LetStand | None, rules: Sequence[str], mark: str) -> Mapping[str, Any]:
    region = _region(problem.span)
    result: dict[str, Any] = {
        "ruleId": problem.rule,
        "ruleIndex": rules.index(problem.rule),
        "level": problem.severity,
        "message": {"text": "\n".join(in_plain_lines(problem))},
        "locations": [{"physicalLocation": {"artifactLocation": _artifact(problem.file), "region": region}}],
        "partialFingerprints": {"primaryLocationLineHash": mark},
    }
    related = [
        {
            "physicalLocation": {"artifactLocation": _artifact(problem.file), "region": _region(place)},
            "message": {"text": f"also here, for {words}"},
        }
        for place, words in other_places(problem).items()
    ]
    if related:
        result["relatedLocations"] = related
    if let is not None:
        result["suppressions"] = [{"kind": "inSource", "justification": let.reason}]
    return result


def _region(span: Span) -> Mapping[str, int]:
    return {
        "startLine": span.line,
        "startColumn": span.column,
        "endLine": span.end_line,
        "endColumn": span.end_column,
    }


def _artifact(file: str) -> Mapping[str, str]:
    file = from_top(file)
    if Path(file).is_absolute() or file.startswith("../"):
        # Links are not followed: they may lead round in a circle.
        path = Path(os.path.normpath(here() / file)).as_posix()
        return {"uri": f"file://{'' if path.startswith('/') else '/'}{_quoted(path)}"}
    return {"uri": _quoted(file), "uriBaseId": "%SRCROOT%"}


def _quoted(path: str) -> str:
    return quote(path.encode(errors="surrogateescape"), safe="/")


def _fingerprints(problems: Sequence[Problem], found: Found) -> Iterator[str]:
    """What stays the same while lines move: rule, file and text of the line, and which of several such it is."""
    seen: Counter[str] = Counter()
    texts = {file: found.lines(file) for file in {problem.file for problem in problems}}
    for problem in problems:
        lines = texts[problem.file]
        line = lines[problem.span.line - 1].strip() if problem.span.line <= len(lines) else ""
        said = "\0".join((problem.rule, from_top(problem.file), line)).encode(errors="surrogatepass")
        mark = sha256(said).hexdigest()[:16]
        seen[mark] += 1
        yield f"{mark}:{seen[mark]}"
