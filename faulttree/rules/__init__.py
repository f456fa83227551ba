"""The rules: one a file, whose docstring is its page. The tables here hold their order and severities."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from types import ModuleType

from faulttree.problems import ERROR, WARNING
from faulttree.rules import (
    accesses_exclude,
    bands_order,
    beyond_role,
    cause_detour,
    cause_lost,
    cause_on_feel_alone,
    cause_shadowed,
    cause_too_early,
    cause_without_fix,
    clears_unknown,
    consumable_unlisted,
    data_missing,
    date_wrong,
    disturbed_not_restored,
    fallback_missing,
    finding_judges,
    findings_alike,
    findings_few,
    findings_same,
    fix_names_another,
    fix_unproved,
    header_incomplete,
    header_late,
    id_differs,
    imperative_missing,
    instructions_many,
    label_unclear,
    lift_heavy,
    limit_missing,
    name_like_model,
    name_unknown,
    no_fault_found_too_low,
    notice_empty,
    notice_missing,
    notices_out_of_order,
    noun_cluster,
    number_in_prose,
    occupant_misfit,
    occupied_tool,
    open_at_proof,
    opened_for_good,
    release_unsigned,
    released_changed,
    roles_in_a_circle,
    section_unknown,
    sentence_long,
    short_taken,
    shows_unknown,
    signal_misfit,
    step_unreachable,
    steps_in_a_circle,
    target_missing,
    tree_withdrawn,
    trees_in_a_circle,
    unable_passes,
    unit_missing,
    unit_unknown,
    vague_word,
    wait_missing,
    warnings_many,
    way_missing,
    work_repeated,
    written_against_old,
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
    _rule(released_changed, ERROR),
    _rule(release_unsigned, ERROR),
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
    _rule(header_incomplete, WARNING),
    _rule(written_against_old, WARNING),
    _rule(beyond_role, ERROR),
    _rule(occupied_tool, ERROR),
    _rule(data_missing, ERROR),
    _rule(lift_heavy, ERROR),
    _rule(wait_missing, ERROR),
    _rule(limit_missing, ERROR),
    _rule(notice_missing, WARNING),
    _rule(notices_out_of_order, WARNING),
    _rule(warnings_many, WARNING),
    _rule(unable_passes, WARNING),
    _rule(opened_for_good, WARNING),
    _rule(disturbed_not_restored, WARNING),
    _rule(consumable_unlisted, WARNING),
    _rule(fix_names_another, WARNING),
    _rule(number_in_prose, WARNING),
    _rule(unit_missing, WARNING),
    _rule(finding_judges, WARNING),
    _rule(findings_alike, WARNING),
    _rule(sentence_long, WARNING),
    _rule(instructions_many, WARNING),
    _rule(imperative_missing, WARNING),
    _rule(noun_cluster, WARNING),
    _rule(vague_word, WARNING),
    _rule(cause_without_fix, ERROR),
    _rule(cause_lost, ERROR),
    _rule(cause_shadowed, ERROR),
    _rule(cause_on_feel_alone, ERROR),
    _rule(cause_too_early, ERROR),
    _rule(cause_detour, WARNING),
)
"""Rules on trees: names and shape, safety, wording, the proof last."""

LIBRARY_RULES: tuple[LibraryRule, ...] = (
    _library_rule(date_wrong, ERROR),
    _library_rule(name_unknown, ERROR),
    _library_rule(section_unknown, ERROR),
    _library_rule(name_like_model, ERROR),
    _library_rule(bands_order, ERROR),
    _library_rule(unit_unknown, ERROR),
    _library_rule(roles_in_a_circle, ERROR),
    _library_rule(beyond_role, ERROR),
    _library_rule(occupied_tool, ERROR),
    _library_rule(notice_empty, ERROR),
    _library_rule(limit_missing, ERROR),
    _library_rule(signal_misfit, WARNING),
    _library_rule(notice_missing, WARNING),
    _library_rule(notices_out_of_order, WARNING),
    _library_rule(unit_missing, WARNING),
    _library_rule(sentence_long, WARNING),
    _library_rule(instructions_many, WARNING),
    _library_rule(imperative_missing, WARNING),
    _library_rule(noun_cluster, WARNING),
    _library_rule(vague_word, WARNING),
)
"""Rules on the shared entries."""
