"""``faulttree check --format junit``: an XML document that test reports of build servers show.

There is no standard of it; this is the part that readers agree on: a suite for each file, a failing test for each
error, a skipped one with its reason for what is let stand, and a passing one where a file has neither. A warning is a
passing test that says something, with ``--strict`` a failing one.
"""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree import ElementTree
from xml.etree.ElementTree import Element, SubElement

from faulttree.cli.checked import Found
from faulttree.cli.report import in_plain_lines
from faulttree.problems import ERROR, Problem
from faulttree.visible import visible


def lines(found: Found, strict: bool) -> Iterator[str]:
    """The document in ASCII, which every encoding of a stream carries."""
    root = Element("testsuites", name="faulttree check")
    for file in found.files:
        _suite(root, file, found, strict)
    _count(root, root.iter("testcase"))
    ElementTree.indent(root)
    yield '<?xml version="1.0" encoding="us-ascii"?>'
    yield ElementTree.tostring(root, encoding="us-ascii", xml_declaration=False).decode("ascii")


def _suite(root: Element, file: str, found: Found, strict: bool) -> None:
    suite = SubElement(root, "testsuite", name=_text(file))
    for problem in found.problems:
        if problem.file == file:
            _problem(suite, problem, strict)
    for let in found.let_stand:
        if let.problem.file == file:
            SubElement(_case(suite, let.problem), "skipped", message=_text(f"let stand: {let.reason}"))
    if not len(suite):
        SubElement(suite, "testcase", name="no problems", classname=_text(file))
    _count(suite, suite.iter("testcase"))


def _problem(suite: Element, problem: Problem, strict: bool) -> None:
    case = _case(suite, problem)
    if strict or problem.severity == ERROR:
        SubElement(case, "failure", type=problem.severity, message=_text(problem.message)).text = _body(problem)
    else:
        SubElement(case, "system-out").text = _body(problem)


def _case(suite: Element, problem: Problem) -> Element:
    span = problem.span
    name = f"{problem.rule} at {span.line}:{span.column}"
    file = _text(problem.file)
    return SubElement(suite, "testcase", name=name, classname=file, file=file, line=str(span.line))


def _body(problem: Problem) -> str:
    head = f"{problem.file}:{problem.span.line}:{problem.span.column}: {problem.severity}: {problem.message}"
    return _text("\n".join((head, *in_plain_lines(problem)[1:])))


def _text(text: str) -> str:
    """XML 1.0 has no place for control characters, not even escaped; they are made visible."""
    return "".join(each if each.isprintable() or each == "\n" else ascii(each)[1:-1] for each in visible(text))


def _count(element: Element, cases: Iterator[Element]) -> None:
    listed = list(cases)
    element.set("tests", str(len(listed)))
    for name, tag in (("failures", "failure"), ("skipped", "skipped")):
        element.set(name, str(sum(case.find(tag) is not None for case in listed)))
    element.set("errors", "0")
