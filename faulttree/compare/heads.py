"""The header of a tree: what is said before any check, and what stands one key away at every step."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from faulttree.compare.changes import JUDGE, OTHER, WEAKER, Found, told
from faulttree.compare.judges import (
    CLOSES,
    OPENS,
    Judge,
    Sides,
    differences,
    lines,
    named,
    notices,
    paired,
    reworded,
    role,
    table,
)
from faulttree.model import Action, Tree


def urgency(sides: Sides, before: str, after: str) -> Iterator[Found]:
    """How soon it has to be dealt with: the library has the most urgent first."""
    order = list(sides.new_library.urgencies)
    ranks = [order.index(name) if name in order else len(order) for name in (before, after)]
    weight = WEAKER if ranks[1] > ranks[0] else JUDGE
    yield Found(weight, "urgency", "the urgency changed", before=before, after=after)


def status(sides: Sides, before: str, after: str) -> Iterator[Found]:
    """What the tree calls itself: one that was withdrawn and is offered again is weaker."""
    weight = WEAKER if before == "withdrawn" else JUDGE if after == "withdrawn" or before == "released" else OTHER
    yield Found(weight, "status", "the status changed", before=before, after=after)


def actions(what: str) -> Judge:
    """A judge of first actions, or of the lines of the fallback."""

    def judge(sides: Sides, before: Sequence[Action], after: Sequence[Action]) -> Iterator[Found]:
        if sorted(each.do for each in before) == sorted(each.do for each in after):
            if [each.do for each in before] != [each.do for each in after]:
                yield Found(JUDGE, "order", f"the order of {what}s changed")
            for old in before:
                yield from _action(sides, what, old, next(each for each in after if each.do == old.do))
            return
        keys = [[(each.who, each.do) for each in side] for side in (before, after)]
        by_key = {(each.who, each.do): each for each in before}, {(each.who, each.do): each for each in after}
        for key in keys[0]:
            if key in by_key[1]:
                yield from _action(sides, what, by_key[0][key], by_key[1][key])
        for old_key, new_key in paired(keys[0], keys[1]):
            if new_key is None or old_key is None:
                yield _dropped_or_new(what, old_key, new_key)
            else:
                yield from _action(sides, what, by_key[0][old_key], by_key[1][new_key])

    return judge


def _dropped_or_new(what: str, old: tuple[str, str] | None, new: tuple[str, str] | None) -> Found:
    kind = what.replace(" ", "-")
    if old is not None:
        return Found(WEAKER, f"{kind}-dropped", f"a {what} is dropped", before=old[1])
    return Found(JUDGE, f"{kind}-new", f"a {what} is new", after=new[1] if new else "")


def _action(sides: Sides, what: str, old: Action, new: Action) -> Iterator[Found]:
    judges: dict[str, Judge] = {
        "who": role,
        "do": reworded("the words", JUDGE),
        "notices": notices,
        "opens": OPENS,
        "closes": CLOSES,
    }
    for found in differences(sides, old, new, judges):
        before = found.before or (new.do if not found.after else "")
        yield found._replace(says=f"{what}: {found.says}", before=before)


TREE: dict[str, Judge] = {
    "short": reworded("the short name, which read-back codes begin with,", JUDGE),
    "symptom": reworded("the symptom", JUDGE),
    "also": named("the wording", OTHER, OTHER),
    "equipment": named("the equipment", OTHER, OTHER),
    "urgency": urgency,
    "status": status,
    "written_against": table("the revision of document that it was written against,", JUDGE, JUDGE, JUDGE),
    "before": lines("a line of what must be so before", WEAKER),
    "first_actions": actions("first action"),
    "fallback": actions("fallback line"),
    "report": reworded("the defect report", OTHER, lost=JUDGE),
    "cases": reworded("the example walks"),
}
BY_MODEL = ("variants", "alike")
"""Fields that are compared model by model."""


def header_differences(sides: Sides, old: Tree, new: Tree) -> Iterator[Found]:
    """What differs between the headers of two trees."""
    if old.id != new.id:
        yield Found(JUDGE, "renamed", "the tree has another id", before=old.id, after=new.id)
    judges = {**TREE, **dict.fromkeys(BY_MODEL, _nothing)}
    yield from differences(sides, old, new, judges)
    for model in old.models:
        if model not in new.models:
            yield Found(WEAKER, "model-dropped", "the tree is no longer for model {}", (model,))
    for model in new.models:
        if model not in old.models:
            yield Found(JUDGE, "model-new", "the tree is for model {} too", (model,))
    if old.models != new.models and set(old.models) == set(new.models):
        yield Found(JUDGE, "order", "the order of the models changed", before=told(old.models), after=told(new.models))


def _nothing(sides: Sides, before: object, after: object) -> Iterator[Found]:
    yield from ()
