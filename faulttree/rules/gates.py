"""Cheap questions that tell whether a rule can have anything to say about a file; else its module is not even loaded.

Loading a module takes as long as checking several steps, and most rules have nothing to say about most files. A gate
may be open where its rule then finds nothing; it is never shut where the rule would find something. A test compares
each rule with and without its gate on all cases, on the shipped trees and on random ones.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from faulttree.rules.context import Context, Shared
from faulttree.rules.prose import LONG, Prose, rows_of_nouns, told_more
from faulttree.rules.words import DISTURB_WORDS, MODAL_PIECES, VAGUE_PHRASES, VAGUE_WORDS

Gate = Callable[[Context], bool]


def _header(context: Context) -> bool:
    tree = context.tree
    return not (tree.before and tree.first_actions and tree.report)


def _released(context: Context) -> bool:
    return context.tree.status == "released"


def _data(context: Context) -> bool:
    return any(not fix.data for fix in context.fixes)


def _occupied(context: Context) -> bool:
    return any(step.occupied for step in context.own_work)


def _lift(context: Context) -> bool:
    return any(step.lift or step.notices for step in context.own_work)


def _hazard(context: Context) -> bool:
    return any(step.occupied or step.lift for step in context.own_work)


def _wait(context: Context) -> bool:
    return any(step.consumables for step in context.checks)


def _consumable(context: Context) -> bool:
    return any(each.service > 0 for each in context.library.consumables.values())


def _set_value(context: Context) -> bool:
    return "set value" in context.prose.lowered


def _many(context: Context) -> bool:
    checks = context.library.operational_checks.values()
    return any(len(step.notices) > 3 for step in context.own_work) or any(len(each.notices) > 3 for each in checks)


def _together(context: Context) -> bool:
    return sum(1 for step in context.own_work if step.accesses) > 3


def _disturbs(context: Context) -> bool:
    return not context.prose.words.isdisjoint(DISTURB_WORDS) and any(step.do for step in context.checks)


def _another_fix(context: Context) -> bool:
    every = "\n".join([line for fix in context.fixes for line in (*fix.do, fix.did)]).lower()
    return any(fix.text.lower() in every or fix.id.lower() in every for fix in context.fixes)


def _grave(context: Context) -> bool:
    cleared = {name for fix in context.fixes for name in fix.clears}
    return any(cause.reportable or cause.id not in cleared for cause in context.variant.causes.values())


def _measured(context: Context) -> bool:
    return context.prose.has_digit


def _set_and_usual(context: Context) -> bool:
    limits = context.library.limits
    return any(
        check.measure and check.usual and check.measure in limits and limits[check.measure].settings
        for check in context.checks
    )


def _failures(context: Context) -> bool:
    return bool(context.failures)


def _circle(context: Context) -> bool:
    return bool(context.graph.cycle)


def _again(context: Context) -> bool:
    return len(context.own_work) < len(context.checks) + len(context.fixes)


def _other_tree(context: Context) -> bool:
    return any(end.tree for end in context.ends) or any(fix.then for fix in context.fixes)


def _no_fault_found(context: Context) -> bool:
    return any(end.kind == "no fault found" for end in context.ends)


def _goes_on(context: Context) -> bool:
    return any(end.kind in ("deferred", "no fault found") for end in context.ends)


def _out_of_service(context: Context) -> bool:
    return any(end.kind == "out of service" for end in context.ends)


def _occupied_only(where: Context | Shared) -> bool:
    return any(notice.occupied_only for notice in where.library.notices.values())


def _accesses(context: Context) -> bool:
    return any(len(step.accesses) > 1 for step in context.own_work)


def _left_open(context: Context) -> bool:
    return bool(context.left_open)


def _written(context: Context) -> bool:
    """Whether a revision is not the one in force, or a document is referred to and none is stated."""
    written, documents = context.tree.written_against, context.library.documents
    if any(name in documents and documents[name].revision != revision for name, revision in written.items()):
        return True
    cited = [name for step in context.variant.steps.values() if step.data for name in step.data]
    return not written.keys() >= {*cited, *[name for end in context.ends for name in end.under]}


def _released_unwritten(context: Context) -> bool:
    return context.tree.status == "released" and _written(context)


GATES: Mapping[str, Gate] = {
    "header-incomplete": _header,
    "release-unsigned": _released,
    "released-changed": _released,
    "written-against-old": _written,
    "written-against-missing": _released_unwritten,
    "data-missing": _data,
    "occupied-tool": _occupied,
    "lift-heavy": _lift,
    "notices-none": _hazard,
    "notice-never-shown": _occupied_only,
    "wait-missing": _wait,
    "consumable-unlisted": _consumable,
    "limit-missing": _set_value,
    "set-unusual": _set_and_usual,
    "warnings-many": _many,
    "notice-left-out": _together,
    "disturbed-not-restored": _disturbs,
    "fix-names-another": _another_fix,
    "unable-passes": _grave,
    "number-in-prose": _measured,
    "steps-in-a-circle": _circle,
    "work-repeated": _again,
    "trees-in-a-circle": _other_tree,
    "tree-withdrawn": _other_tree,
    "no-fault-found-too-low": _no_fault_found,
    "duty-left-out": _out_of_service,
    "failed-then-used": _goes_on,
    "accesses-exclude": _accesses,
    "open-at-proof": _left_open,
    "case-fails": lambda context: bool(context.tree.cases),
    "cause-lost": _failures,
    "cause-shadowed": _failures,
    "cause-on-feel-alone": _failures,
    "cause-too-early": _failures,
    "cause-detour": _failures,
}
"""Rule to its gate on a tree."""

PROSE_GATES: Mapping[str, Callable[[Prose], bool]] = {
    "unit-missing": lambda prose: prose.has_digit,
    "sentence-long": lambda prose: prose.blanks >= LONG,
    "instructions-many": told_more,
    "imperative-missing": lambda prose: any(piece in prose.lowered for piece in MODAL_PIECES),
    "noun-cluster": rows_of_nouns,
    "vague-word": lambda prose: (
        not prose.words.isdisjoint(VAGUE_WORDS) or any(phrase in prose.lowered for phrase in VAGUE_PHRASES)
    ),
}
"""Rule to its gate on prose, of a tree or of the shared entries."""


def _occupied_checks(shared: Shared) -> bool:
    return any(proof.occupied for proof in shared.library.operational_checks.values())


def _limits_of_items(shared: Shared) -> bool:
    return any(item.limit for item in shared.library.inspection.values())


def _limits_and_checks(shared: Shared) -> bool:
    return bool(shared.library.limits and shared.library.operational_checks)


LIBRARY_GATES: Mapping[str, Callable[[Shared], bool]] = {
    "occupied-tool": _occupied_checks,
    "notices-none": _occupied_checks,
    "notice-never-shown": _occupied_only,
    "limit-missing": _limits_of_items,
    "number-in-prose": _limits_and_checks,
}
"""Rule to its gate on the shared entries."""


def open_for_tree(name: str, context: Context) -> bool:
    """Whether the rule may have something to say about a tree."""
    gate = GATES.get(name)
    return gate(context) if gate else PROSE_GATES[name](context.prose)


def open_for_library(name: str, shared: Shared) -> bool:
    """Whether the rule may have something to say about the shared entries."""
    gate = LIBRARY_GATES.get(name)
    return gate(shared) if gate else PROSE_GATES[name](shared.prose)
