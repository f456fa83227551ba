"""One tree: its header, and for each model its steps and causes with what follows from them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from faulttree.compare.answers import letting_go, rerouted
from faulttree.compare.changes import JUDGE, OTHER, WEAKER, Change, Found, at, joined, told
from faulttree.compare.figures import Longest, consequences, longest_minutes
from faulttree.compare.gates import signal_of
from faulttree.compare.heads import cases, header_differences
from faulttree.compare.judges import Sides, differences
from faulttree.compare.left_out import checks_left_out
from faulttree.compare.names import STEPS, Names, with_names
from faulttree.compare.renaming import renamed_labels, renamed_parts, with_labels
from faulttree.compare.steps import CAUSE, step_differences, summary
from faulttree.graph import graph_of
from faulttree.model import Case, Fix, Library, Tree, Variant, Work


def tree_changes(old_library: Library, new_library: Library, old: Tree | None, new: Tree | None) -> Iterator[Change]:
    """What differs between two trees; None where one of them is not there."""
    if new is None or old is None:
        if old is not None:
            found = Found(WEAKER, "tree-dropped", "the tree is dropped", before=old.symptom)
            yield from at(old.id, "tree", old.id, [found])
        elif new is not None:
            yield from at(new.id, "tree", new.id, [Found(JUDGE, "tree-new", "the tree is new", after=new.symptom)])
        return
    sides = Sides(old_library, new_library)
    # What does not depend on the model is compared once, under the name that both have.
    models = [model for model in old.models if model in new.models]
    models = models[:1] if old.alike and new.alike else models
    names = {model: renamed_parts(old.variants[model], new.variants[model]) for model in models}
    yield from at(new.id, "tree", new.id, header_differences(sides, old, new))
    changes: list[Change] = []
    for model in models:
        variants = old.variants[model], new.variants[model]
        changes += _variant(new.id, old_library, new_library, *variants, names[model])
    yield from joined(changes, models)
    # Last, for what they tell follows from what stands before them.
    walks = _by_new_names(old.cases, names)
    if walks != new.cases:
        yield from at(new.id, "tree", new.id, cases(sides, walks, new.cases))


def _by_new_names(walks: Sequence[Case], names: Mapping[str, Names]) -> tuple[Case, ...]:
    """Example walks by the new names of the steps and causes of their models."""
    first = next(iter(names.values()), {})
    return tuple(with_names(each, names.get(each.model, first)) for each in walks)


def _variant(
    tree: str, old_library: Library, new_library: Library, old: Variant, new: Variant, names: Names
) -> Iterator[Change]:
    # The libraries count too: an operational check or an access may have changed what a way leaves open.
    if old == new and old_library == new_library:
        return
    for sort, pairs in names.items():
        for before, after in pairs.items():
            found = Found(OTHER, "renamed", "was called {} before", (before,))
            yield from at(tree, "step" if sort == STEPS else "cause", after, [found], new.model)
    read = with_names(old, names) if any(names.values()) else old
    labels = renamed_labels(read, new)
    for check, pairs in labels.items():
        for label, other in pairs.items():
            found = Found(JUDGE, "finding-renamed", "finding {} is called {} now", (label, other))
            yield from at(tree, "step", check, [found], new.model)
    read = with_labels(read, labels)
    sides = Sides(old_library, new_library, read, new, _later(read, new), letting_go(read, new))
    yield from _steps(tree, sides, read, new)
    yield from _causes(tree, sides, read, new)
    yield from _anywhere(tree, sides, read, new)
    graphs = graph_of(read), graph_of(new)
    yield from checks_left_out(tree, read, new, graphs)
    yield from consequences(tree, old_library, new_library, read, new, graphs)


def _steps(tree: str, sides: Sides, old: Variant, new: Variant) -> Iterator[Change]:
    if old.start != new.start:
        yield from at(tree, "tree", tree, [rerouted(sides, "start", old.start, new.start)], new.model)
    for name, step in old.steps.items():
        if name not in new.steps:
            kind = type(step).__name__.lower()
            found = Found(JUDGE, "step-dropped", f"the {kind} is dropped", before=summary(step))
            yield from at(tree, "step", name, [found], new.model)
        elif step != new.steps[name]:
            yield from at(tree, "step", name, step_differences(sides, step, new.steps[name]), new.model)
    for name, step in new.steps.items():
        if name not in old.steps:
            kind = type(step).__name__.lower()
            found = Found(JUDGE, "step-new", f"the {kind} is new", after=summary(step))
            yield from at(tree, "step", name, [found], new.model)
    for name in dict.fromkeys((*old.passed_over, *new.passed_over)):
        before, after = old.passed_over.get(name, ""), new.passed_over.get(name, "")
        if before != after:
            found = Found(JUDGE, "passed-over", "is passed over to another step", (), told(before), told(after))
            yield from at(tree, "step", name, [found], new.model)
    yield from _order(tree, "steps", tuple(old.steps), tuple(new.steps), new.model)


def _causes(tree: str, sides: Sides, old: Variant, new: Variant) -> Iterator[Change]:
    for name, cause in old.causes.items():
        if name not in new.causes:
            found = Found(WEAKER, "cause-dropped", "is dropped, so nothing leads to its fix", before=cause.text)
            yield from at(tree, "cause", name, [found], new.model)
        elif cause != new.causes[name]:
            yield from at(tree, "cause", name, differences(sides, cause, new.causes[name], CAUSE), new.model)
    for name, cause in new.causes.items():
        if name not in old.causes:
            yield from at(tree, "cause", name, [Found(JUDGE, "cause-new", "is new", after=cause.text)], new.model)
    yield from _order(tree, "causes", tuple(old.causes), tuple(new.causes), new.model)


def _order(tree: str, what: str, old: tuple[str, ...], new: tuple[str, ...], model: str) -> Iterator[Change]:
    if [name for name in old if name in new] != [name for name in new if name in old]:
        found = Found(OTHER, "order", f"the order of the {what} changed")
        yield from at(tree, "tree", tree, [found], model)


def _later(old: Variant, new: Variant) -> dict[tuple[str, str], str]:
    """Step and notice to the nearest later step that has the notice now and had it not before."""
    moved: dict[tuple[str, str], str] = {}
    graph = graph_of(new)
    for name, step in old.steps.items():
        other = new.steps.get(name)
        if not isinstance(step, Work) or not isinstance(other, Work):
            continue
        for notice in set(step.notices) - set(other.notices):
            got = {to for to, each in new.steps.items() if _has(each, notice) and not _has(old.steps.get(to), notice)}
            if got and (to := _first_after(graph.successors, name, got)):
                moved[name, notice] = to
    return moved


def _has(step: object, notice: str) -> bool:
    return isinstance(step, Work) and notice in step.notices


def _first_after(successors: Mapping[str, Sequence[str]], start: str, goals: set[str]) -> str:
    seen, waiting = {start}, [start]
    for name in waiting:
        for to in successors.get(name, ()):
            if to in goals:
                return to
            if to not in seen:
                seen.add(to)
                waiting.append(to)
    return ""


# -- what stands nowhere any more, whatever happened to the steps


def _anywhere(tree: str, sides: Sides, old: Variant, new: Variant) -> Iterator[Change]:
    """Warnings and operational checks of steps that are gone, where no other step of the tree has them."""
    gone = [step for name, step in old.steps.items() if type(new.steps.get(name)) is not type(step)]
    have = {notice for step in new.steps.values() if isinstance(step, Work) for notice in step.notices}
    lost = [notice for step in gone if isinstance(step, Work) for notice in step.notices if notice not in have]
    for notice in dict.fromkeys(lost):
        signal = signal_of(sides.old_library, notice)
        if signal != "note":
            found = Found(WEAKER, "warning-removed", f"{signal} {{}} stands nowhere any more", (notice,))
            yield from at(tree, "tree", tree, [found], new.model)
    asked = {step.operational_check for step in new.steps.values() if isinstance(step, Fix)}
    for check in dict.fromkeys(step.operational_check for step in gone if isinstance(step, Fix)):
        if check and check not in asked:
            found = Found(WEAKER, "operational-check-dropped", "operational check {} is asked nowhere now", (check,))
            yield from at(tree, "tree", tree, [found], new.model)


def longest_ways(old_library: Library, new_library: Library, old: Tree, new: Tree) -> Iterator[Longest]:
    """The longest way on each model that both are for."""
    for model in old.models:
        if model in new.models:
            before = longest_minutes(old_library, old.variants[model], graph_of(old.variants[model]))
            after = longest_minutes(new_library, new.variants[model], graph_of(new.variants[model]))
            yield Longest(new.id, model, before, after)
