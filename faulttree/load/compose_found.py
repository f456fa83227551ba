"""What the careful reading finds wrong in a text, and how it tells of what it cannot read beyond."""

from __future__ import annotations

import re

from yaml.error import MarkedYAMLError

from faulttree.load.text import Places, short
from faulttree.load.yaml_messages import own_problem, syntax_problem
from faulttree.problems import Problem, Span

MOST_PROBLEMS = 1000
"""After so many problems a text is read no further."""

ESCAPE = re.compile(r"\\(?:x([0-9a-fA-F]{2})|u([0-9a-fA-F]{4})|U([0-9a-fA-F]{8})|(.))", re.DOTALL)
"""An escape of a text in double quotes."""

_TAB_INDENT = re.compile(r"^ *\t", re.MULTILINE)
_DIRECTIVE = re.compile(r"^%.*", re.MULTILINE)


class Stop(Exception):
    """Nothing can be read on; the problem has been reported."""


class Found:
    """One text, with the problems found in it."""

    def __init__(self, text: str, file: str) -> None:
        self.text = text
        self.file = file
        self.problems: list[Problem] = []
        self._span = Places(text).span
        self._begun = False
        """Whether a document has begun."""

    def _report(self, rule: str, span: Span, **words: str) -> None:
        self._add(own_problem(rule, span, self.file, **words))

    def _add(self, problem: Problem) -> None:
        if len(self.problems) == MOST_PROBLEMS - 1:
            problem = problem._replace(message=f"{problem.message}; after {MOST_PROBLEMS} problems reading stops here")
        self.problems.append(problem)
        if len(self.problems) == MOST_PROBLEMS:
            raise Stop

    def _directives(self, start: int, end: int) -> None:
        """Reports the directives that start in a part of the text."""
        for match in _DIRECTIVE.finditer(self.text, start, end):
            line = match[0].rstrip()
            self._report("yaml-directive", self._span(match.start(), len(line)), found=short(line))

    def _syntax(self, error: MarkedYAMLError) -> None:
        problem = syntax_problem(error, self.text, self._span, self.file)
        mark = error.problem_mark
        index = mark.index if mark else 0
        if problem.rule == "yaml-directive" or (not self._begun and "<document start>" in str(error.problem)):
            self._broken_directives(index)
            return
        self._add(problem)
        if problem.rule == "yaml-tab" and not self._line_to(index).strip():
            for match in _TAB_INDENT.finditer(self.text, index + 1):
                self._add(problem._replace(span=self._span(match.end() - 1)))

    def _broken_directives(self, index: int) -> None:
        """Reports the directive at ``index``, and all before it where no document has begun."""
        line_end = self.text.find("\n", index)
        start = index - len(self._line_to(index)) if self._begun else 0
        self._directives(start, line_end if line_end >= 0 else len(self.text))

    def _line_to(self, index: int) -> str:
        return self.text[self.text.rfind("\n", 0, index) + 1 : index]

    def _no_such_character(self, index: int) -> None:
        """An escape beyond the last character, or a version number beyond all numbers."""
        escape = ESCAPE.match(self.text, index - 2)
        if escape:
            self._report("yaml-control-character", self._span(index - 2, len(escape[0])), found=escape[0])
        else:
            self._broken_directives(index)
