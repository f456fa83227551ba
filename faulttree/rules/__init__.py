"""The rules: one a file, whose docstring is its page. The tables here hold their order and severities."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from importlib import import_module
from types import ModuleType

from faulttree.problems import ERROR, WARNING
from faulttree.rules import (
    bands_order,
    beyond_role,
    blank_left,
    cause_without_fix,
    clears_unknown,
    date_wrong,
    fallback_missing,
    finding_judges,
    findings_alike,
    findings_few,
    findings_same,
    fix_unproved,
    header_late,
    id_differs,
    label_unclear,
    name_like_model,
    name_unknown,
    notice_empty,
    notice_missing,
    notices_out_of_order,
    occupant_misfit,
    opened_for_good,
    roles_in_a_circle,
    section_unknown,
    short_taken,
    shows_unknown,
    signal_misfit,
    step_unreachable,
    target_missing,
    unit_unknown,
    way_missing,
)
from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.gates import open_for_library, open_for_tree
from faulttree.value import Value


class _Paged(Value):
    """What both kinds of rule have: a name, a severity, and the module whose docstring is the page."""

    name: str
    severity: str
    module: str

    @property
    def page(self) -> str:
        """The page as it stands in the module."""
        return import_module(self.module).__doc__ or ""


class Rule(_Paged):
    """A rule about a tree on one model."""

    check: Callable[[Context], Iterator[Hit]]


class LibraryRule(_Paged):
    """A rule about the shared entries."""

    check: Callable[[Shared], Iterator[Hit]]


def _rule(module: ModuleType, severity: str) -> Rule:
    return Rule(_name(module), severity, module.__name__, module.check)


def _library_rule(module: ModuleType, severity: str) -> LibraryRule:
    return LibraryRule(_name(module), severity, module.__name__, module.check_library)


def _later(name: str, severity: str) -> Rule:
    """A rule whose module is loaded only where its gate is open."""
    module = _module(name)

    def check(context: Context) -> Iterator[Hit]:
        return import_module(module).check(context) if open_for_tree(name, context) else iter(())

    return Rule(name, severity, module, check)


def _library_later(name: str, severity: str) -> LibraryRule:
    """The same about the shared entries."""
    module = _module(name)

    def check(shared: Shared) -> Iterator[Hit]:
        return import_module(module).check_library(shared) if open_for_library(name, shared) else iter(())

    return LibraryRule(name, severity, module, check)


def _name(module: ModuleType) -> str:
    return module.__name__.rpartition(".")[2].replace("_", "-")


def _module(name: str) -> str:
    return f"{__name__}.{name.replace('-', '_')}"


RULES: tuple[Rule, ...] = (
    _rule(id_differs, ERROR),
    _rule(short_taken, ERROR),
    _rule(header_late, ERROR),
    _rule(blank_left, ERROR),
    _later("released-changed", ERROR),
    _later("release-unsigned", ERROR),
    _rule(fallback_missing, ERROR),
    _rule(name_unknown, ERROR),
    _rule(section_unknown, ERROR),
    _rule(name_like_model, ERROR),
    _rule(label_unclear, ERROR),
    _rule(shows_unknown, ERROR),
    _rule(clears_unknown, ERROR),
    _later("accesses-exclude", ERROR),
    _rule(target_missing, ERROR),
    _later("steps-in-a-circle", ERROR),
    _rule(step_unreachable, ERROR),
    _later("trees-in-a-circle", ERROR),
    _later("tree-withdrawn", ERROR),
    _rule(findings_few, ERROR),
    _rule(findings_same, WARNING),
    _rule(way_missing, ERROR),
    _rule(fix_unproved, ERROR),
    _later("work-repeated", ERROR),
    _later("open-at-proof", ERROR),
    _later("no-fault-found-too-low", ERROR),
    _rule(occupant_misfit, WARNING),
    _later("header-incomplete", WARNING),
    _later("written-against-old", WARNING),
    _later("written-against-missing", ERROR),
    _rule(beyond_role, ERROR),
    _later("occupied-tool", ERROR),
    _later("data-missing", ERROR),
    _later("lift-heavy", ERROR),
    _later("wait-missing", ERROR),
    _later("limit-missing", ERROR),
    _later("notices-none", ERROR),
    _rule(notice_missing, WARNING),
    _later("notice-left-out", WARNING),
    _later("notice-never-shown", WARNING),
    _rule(notices_out_of_order, WARNING),
    _later("warnings-many", WARNING),
    _later("unable-passes", WARNING),
    _later("failed-then-used", WARNING),
    _rule(opened_for_good, WARNING),
    _later("duty-left-out", WARNING),
    _later("disturbed-not-restored", WARNING),
    _later("consumable-unlisted", WARNING),
    _later("fix-names-another", WARNING),
    _later("number-in-prose", WARNING),
    _later("set-unusual", WARNING),
    _later("unit-missing", WARNING),
    _rule(finding_judges, WARNING),
    _rule(findings_alike, WARNING),
    _later("sentence-long", WARNING),
    _later("instructions-many", WARNING),
    _later("imperative-missing", WARNING),
    _later("noun-cluster", WARNING),
    _later("vague-word", WARNING),
    _rule(cause_without_fix, ERROR),
    _later("cause-lost", ERROR),
    _later("cause-shadowed", ERROR),
    _later("cause-on-feel-alone", ERROR),
    _later("cause-too-early", ERROR),
    _later("cause-detour", WARNING),
    _later("case-fails", ERROR),
)
"""Rules on trees: names and shape, safety, wording, the proof last."""

BEFORE_PROOF = frozenset({"shows-unknown", "clears-unknown", "target-missing", "steps-in-a-circle"})
"""Rules about what the proof goes by: where one finds anything, causes are lost only because a name is misspelt."""


def must_wait(rule: str, found: Collection[str]) -> bool:
    """Whether a rule has nothing true to say before what other rules have ``found`` in the tree is mended."""
    if rule == "step-unreachable":
        return "target-missing" in found
    follows = rule.startswith("cause-") or rule in ("case-fails", "unable-passes")
    return follows and not BEFORE_PROOF.isdisjoint(found)


LIBRARY_RULES: tuple[LibraryRule, ...] = (
    _library_rule(date_wrong, ERROR),
    _library_rule(blank_left, ERROR),
    _library_rule(name_unknown, ERROR),
    _library_rule(section_unknown, ERROR),
    _library_rule(name_like_model, ERROR),
    _library_rule(bands_order, ERROR),
    _library_rule(unit_unknown, ERROR),
    _library_rule(roles_in_a_circle, ERROR),
    _library_rule(beyond_role, ERROR),
    _library_later("occupied-tool", ERROR),
    _library_rule(notice_empty, ERROR),
    _library_later("limit-missing", ERROR),
    _library_later("notices-none", ERROR),
    _library_later("notice-never-shown", WARNING),
    _library_rule(signal_misfit, WARNING),
    _library_rule(notice_missing, WARNING),
    _library_rule(notices_out_of_order, WARNING),
    _library_later("number-in-prose", WARNING),
    _library_later("unit-missing", WARNING),
    _library_later("sentence-long", WARNING),
    _library_later("instructions-many", WARNING),
    _library_later("imperative-missing", WARNING),
    _library_later("noun-cluster", WARNING),
    _library_later("vague-word", WARNING),
)
"""Rules on the shared entries."""
