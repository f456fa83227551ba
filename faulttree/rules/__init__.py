"""The rules: one a file, whose docstring is its page. The tables here hold their order and severities."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from types import ModuleType

from faulttree.problems import ERROR, WARNING
from faulttree.rules import (
    accesses_exclude,
    bands_order,
    blank_left,
    case_fails,
    cause_detour,
    cause_lost,
    cause_on_feel_alone,
    cause_shadowed,
    cause_too_early,
    cause_without_fix,
    clears_unknown,
    date_wrong,
    fallback_missing,
    findings_few,
    findings_same,
    fix_unproved,
    header_late,
    id_differs,
    label_unclear,
    name_like_model,
    name_unknown,
    no_fault_found_too_low,
    occupant_misfit,
    open_at_proof,
    released_changed,
    roles_in_a_circle,
    section_unknown,
    short_taken,
    shows_unknown,
    step_unreachable,
    steps_in_a_circle,
    target_missing,
    tree_withdrawn,
    trees_in_a_circle,
    unit_unknown,
    way_missing,
    work_repeated,
)
from faulttree.rules.context import Context, Hit, Shared
from faulttree.value import Value


class Rule(Value):
    """A rule about a tree on one model."""

    name: str
    severity: str
    check: Callable[[Context], Iterator[Hit]]
    page: str


class LibraryRule(Value):
    """A rule about the shared entries."""

    name: str
    severity: str
    check: Callable[[Shared], Iterator[Hit]]
    page: str


def _rule(module: ModuleType, severity: str) -> Rule:
    return Rule(_name(module), severity, module.check, module.__doc__ or "")


def _library_rule(module: ModuleType, severity: str) -> LibraryRule:
    return LibraryRule(_name(module), severity, module.check_library, module.__doc__ or "")


def _name(module: ModuleType) -> str:
    return module.__name__.rpartition(".")[2].replace("_", "-")


RULES: tuple[Rule, ...] = (
    _rule(id_differs, ERROR),
    _rule(short_taken, ERROR),
    _rule(header_late, ERROR),
    _rule(blank_left, ERROR),
    _rule(released_changed, ERROR),
    _rule(fallback_missing, ERROR),
    _rule(name_unknown, ERROR),
    _rule(section_unknown, ERROR),
    _rule(name_like_model, ERROR),
    _rule(label_unclear, ERROR),
    _rule(shows_unknown, ERROR),
    _rule(clears_unknown, ERROR),
    _rule(accesses_exclude, ERROR),
    _rule(target_missing, ERROR),
    _rule(steps_in_a_circle, ERROR),
    _rule(step_unreachable, ERROR),
    _rule(trees_in_a_circle, ERROR),
    _rule(tree_withdrawn, ERROR),
    _rule(findings_few, ERROR),
    _rule(findings_same, WARNING),
    _rule(way_missing, ERROR),
    _rule(fix_unproved, ERROR),
    _rule(work_repeated, ERROR),
    _rule(open_at_proof, ERROR),
    _rule(no_fault_found_too_low, ERROR),
    _rule(occupant_misfit, WARNING),
    _rule(cause_without_fix, ERROR),
    _rule(cause_lost, ERROR),
    _rule(cause_shadowed, ERROR),
    _rule(cause_on_feel_alone, ERROR),
    _rule(cause_too_early, ERROR),
    _rule(cause_detour, WARNING),
    _rule(case_fails, ERROR),
)
"""Rules on trees, those about names and shape first, the proof last."""

LIBRARY_RULES: tuple[LibraryRule, ...] = (
    _library_rule(date_wrong, ERROR),
    _library_rule(blank_left, ERROR),
    _library_rule(name_unknown, ERROR),
    _library_rule(section_unknown, ERROR),
    _library_rule(name_like_model, ERROR),
    _library_rule(bands_order, ERROR),
    _library_rule(unit_unknown, ERROR),
    _library_rule(roles_in_a_circle, ERROR),
)
"""Rules on the shared entries."""
