"""Problems of a library's files, and the errors of the program.

A *problem* is data: which rule, how severe, what is wrong, where, and what to do. Whatever is wrong with
a file becomes a problem, so that one run reports all of them. An *error* is raised where a command cannot go on::

    FaulttreeError            shown as one sentence and what to do; never as a traceback
    ├── UsageError            the command's words do not fit                       exit 2
    ├── UnreadableError       a file or folder cannot be read or written           exit 2
    ├── LibraryError          the library has problems that stop this command      exit 1
    ├── MoveError             a move that is not allowed in the state of the walk
    ├── CodeError             a read-back code that is not one, or of another tree
    └── JournalError          a journal that cannot be written or is damaged       exit 2
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple


class Span(NamedTuple):
    """A place in a file: line and column from 1, columns in code points, the end column exclusive."""

    line: int
    column: int
    end_line: int
    end_column: int


class Concerned(NamedTuple):
    """One of the causes that a problem of the proof is about: on which models, at which place, and its way."""

    cause: str
    models: tuple[str, ...]
    span: Span
    way: tuple[str, ...]


class Problem(NamedTuple):
    """One problem. ``message`` says what is wrong, in lower case with the culprit in quotes; ``help`` what to do."""

    rule: str
    severity: str
    message: str
    help: str
    file: str
    span: Span
    way: tuple[str, ...] = ()
    """Lines that show the failing way, in order; empty where the problem is not about a way."""
    causes: tuple[Concerned, ...] = ()
    """What the proof found that is gathered here; ``span`` and ``way`` are those of the first."""

    def order(self) -> tuple[str, int, int, str, str]:
        """Key of the stable order: file, line, column, rule, message."""
        return (self.file, self.span.line, self.span.column, self.rule, self.message)


ERROR = "error"
WARNING = "warning"

START_OF_FILE = Span(1, 1, 1, 1)


def in_order(problems: Sequence[Problem]) -> list[Problem]:
    """The problems without repeats, by file, line, column, rule and message."""
    return sorted(set(problems), key=Problem.order)


class LetStand(NamedTuple):
    """A problem that its author lets stand, and why."""

    problem: Problem
    reason: str


class Settled(NamedTuple):
    """The problems that are left, in order, and what is let stand."""

    problems: list[Problem]
    let_stand: list[LetStand]
    unproved: Mapping[str, tuple[str, ...]] = MappingProxyType({})
    """Files of trees that the proof has not looked at, with the rules that must be content before it can."""


class FaulttreeError(Exception):
    """An expected failure: ``what`` is wrong in one sentence, ``advice`` is what to do."""

    def __init__(self, what: str, advice: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.advice = advice


class UsageError(FaulttreeError):
    """The command's words do not fit."""


class UnreadableError(FaulttreeError):
    """A file or folder cannot be read or written."""


class LibraryError(FaulttreeError):
    """The library has problems that stop this command."""

    def __init__(self, what: str, advice: str = "", problems: Sequence[Problem] = ()) -> None:
        super().__init__(what, advice)
        self.problems = tuple(problems)


class MoveError(FaulttreeError):
    """A move that is not allowed in the state of the walk."""


class CodeError(FaulttreeError):
    """A read-back code that is not one, or of another tree."""


class JournalError(FaulttreeError):
    """A journal that cannot be written or is damaged."""
