"""The header of a tree: what is said before any check, and what stands one key away at every step."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from faulttree.compare.changes import JUDGE, OTHER, WEAKER, Found, told
from faulttree.compare.gates import CLOSES, OPENS, ROLE, notices
from faulttree.compare.judges import (
    Judge,
    Sides,
    differences,
    judging,
    kinds_of,
    lines,
    named,
    reworded,
    table,
)
from faulttree.compare.pairs import matched, paired
from faulttree.model import Action, Case, Tree
from faulttree.value import replace


@judging("urgency")
def urgency(sides: Sides, before: str, after: str) -> Iterator[Found]:
    """How soon it has to be dealt with: the library has the most urgent first."""
    order = list(sides.new_library.urgencies)
    ranks = [order.index(name) if name in order else len(order) for name in (before, after)]
    weight = WEAKER if ranks[1] > ranks[0] else JUDGE
    yield Found(weight, "urgency", "the urgency changed", before=before, after=after)


@judging("status")
def status(sides: Sides, before: str, after: str) -> Iterator[Found]:
    """What the tree calls itself: one that was withdrawn and is offered again is weaker."""
    weight = WEAKER if before == "withdrawn" else JUDGE if after == "withdrawn" or before == "released" else OTHER
    yield Found(weight, "status", "the status changed", before=before, after=after)


ACTION: dict[str, Judge] = {
    "who": ROLE,
    "do": reworded("the words", "words", JUDGE),
    "notices": notices,
    "opens": OPENS,
    "closes": CLOSES,
}


SAME = (lambda action: action, lambda action: (action.who, action.do), lambda action: action.do)
"""By what one action is another, the surest first: else a notice less at one of two is told of both, or as a role."""


def actions(what: str, kind: str) -> Judge:
    """A judge of first actions, or of the lines of the fallback."""

    @judging("order", f"{kind}-dropped", f"{kind}-new", *kinds_of(*ACTION.values()))
    def judge(sides: Sides, before: Sequence[Action], after: Sequence[Action]) -> Iterator[Found]:
        same = matched(before, after, *SAME)
        places = list(same.values())
        if places != sorted(places):
            yield Found(JUDGE, "order", f"the order of {what}s changed")
        for at, place in same.items():
            yield from _action(sides, what, before[at], after[place])
        gone = [each for at, each in enumerate(before) if at not in same]
        taken = set(places)
        come = [each for place, each in enumerate(after) if place not in taken]
        for old, new in paired(gone, come):
            if old is not None and new is not None:
                yield from _action(sides, what, old, new)
            elif old is not None:
                yield Found(WEAKER, f"{kind}-dropped", f"a {what} is dropped", before=old.do)
            else:
                yield Found(JUDGE, f"{kind}-new", f"a {what} is new", after=new.do)

    return judge


def _action(sides: Sides, what: str, old: Action, new: Action) -> Iterator[Found]:
    for found in differences(sides, old, new, ACTION):
        before = found.before or (new.do if not found.after else "")
        yield found._replace(says=f"{what}: {found.says}", before=before)


@judging("case-dropped", "case-new", "case-changed", "case-renamed", "case-order")
def cases(sides: Sides, before: Sequence[Case], after: Sequence[Case]) -> Iterator[Found]:
    """The example walks, one by one: each is a test of the tree, so one that is gone held something back."""
    old, new = _by_name(before), _by_name(after)
    called = {replace(each, name=""): key for key, each in new.items() if key not in old}
    renamed = set()
    for key, case in old.items():
        to = called.get(replace(case, name=""))
        if key in new and new[key] != case:
            values = _walked(case), _walked(new[key])
            yield Found(JUDGE, "case-changed", "the example walk {} changed", (case.name,), *values)
        elif key not in new and to is not None:
            renamed.add(to)
            says = "the example walk {} is called {} now"
            yield Found(OTHER, "case-renamed", says, (case.name, new[to].name))
        elif key not in new:
            yield Found(WEAKER, "case-dropped", "the example walk {} is dropped", (case.name,), before=_walked(case))
    for key, case in new.items():
        if key not in old and key not in renamed:
            yield Found(OTHER, "case-new", "the example walk {} is new", (case.name,), after=_walked(case))
    if list(old) != list(new) and set(old) == set(new):
        yield Found(OTHER, "case-order", "the order of the example walks changed")


def _walked(case: Case) -> str:
    """An example walk in words, without its name."""
    return told(replace(case, name=""))


def _by_name(cases: Sequence[Case]) -> dict[tuple[str, int], Case]:
    """Walks by name; of several of one name by their number too."""
    found: dict[tuple[str, int], Case] = {}
    many: Counter[str] = Counter()
    for case in cases:
        many[case.name] += 1
        found[case.name, many[case.name]] = case
    return found


@judging()
def elsewhere(sides: Sides, before: object, after: object) -> Iterator[Found]:
    """What is not compared with the header: variants, model by model, and example walks, after them."""
    yield from ()


TREE: dict[str, Judge] = {
    "short": reworded("the short name, which read-back codes begin with,", "short-name", JUDGE),
    "symptom": reworded("the symptom", "symptom", JUDGE),
    "also": named("the wording", "also", OTHER, OTHER),
    "equipment": named("the equipment", "equipment", OTHER, OTHER),
    "urgency": urgency,
    "status": status,
    "written_against": table(
        "the revision of document that it was written against,", "written-against", JUDGE, JUDGE, JUDGE
    ),
    "before": lines("a line of what must be so before", "before", WEAKER),
    "first_actions": actions("first action", "first-action"),
    "fallback": actions("fallback line", "fallback-line"),
    "report": reworded("the defect report", "defect-report", OTHER, lost=JUDGE),
    "cases": elsewhere,
    "revision": reworded("the revision", "revision"),
    "date": reworded("the date", "date"),
    "author": reworded("the author", "author"),
    "figures": reworded("what the figures are worth", "figures"),
    "released": reworded("the release", "release"),
    "variants": elsewhere,
    "alike": elsewhere,
}


def header_differences(sides: Sides, old: Tree, new: Tree) -> Iterator[Found]:
    """What differs between the headers of two trees."""
    if old.id != new.id:
        yield Found(JUDGE, "renamed", "the tree has another id", before=old.id, after=new.id)
    yield from differences(sides, old, new, TREE)
    for model in old.models:
        if model not in new.models:
            yield Found(WEAKER, "model-dropped", "the tree is no longer for model {}", (model,))
    for model in new.models:
        if model not in old.models:
            yield Found(JUDGE, "model-new", "the tree is for model {} too", (model,))
    if old.models != new.models and set(old.models) == set(new.models):
        yield Found(JUDGE, "order", "the order of the models changed", before=told(old.models), after=told(new.models))
