"""The rules: one a file, whose docstring is its page. This table holds their order and severities."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from faulttree.model import Library
from faulttree.problems import ERROR
from faulttree.rules import cause_lost
from faulttree.rules.context import Context, Hit


class Rule(NamedTuple):
    """A rule about a tree on one model."""

    name: str
    severity: str
    check: Callable[[Context], Iterator[Hit]]
    page: str


class LibraryRule(NamedTuple):
    """A rule about the shared entries."""

    name: str
    severity: str
    check: Callable[[Library], Iterator[Hit]]
    page: str


RULES: tuple[Rule, ...] = (Rule("cause-lost", ERROR, cause_lost.check, cause_lost.__doc__ or ""),)

LIBRARY_RULES: tuple[LibraryRule, ...] = ()
