"""From a tree's variant to a figure, as one role can reach it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from faulttree.digest import standing
from faulttree.draw.figure import Border, Box, Figure, Line, RouteKind, Row, Shape
from faulttree.draw.shares import shares_of
from faulttree.draw.words import (
    border_of,
    details_of,
    edge_notes,
    facts_of,
    head_of,
    needs_of,
    notice_rows,
    notice_texts,
    rows_of,
)
from faulttree.graph import depth_first
from faulttree.model import Action, Check, End, Fix, Library, Route, Step, Tree, Variant
from faulttree.moves import routes
from faulttree.present.blocks import sentence
from faulttree.reach import for_other, onward, prover
from faulttree.value import Value

WORTH = {
    "guessed": "Minutes and shares are guessed.",
    "counted": "Minutes and shares are counted from records.",
}


class Wish(Value):
    """What is to be drawn: for which role, and whether with minutes and shares."""

    role: str
    figures: bool = True
    facts: bool = False
    """Whether it will be compared with another."""


def figure_of(library: Library, tree: Tree, variant: Variant, wish: Wish) -> Figure:
    """The figure of ``variant``; its steps must not run in a circle."""
    numbers = numbers_of(variant)
    ahead = _ahead(library, variant, wish.role)
    reached = frozenset(ahead)
    shares = shares_of(variant)
    boxes = {}
    lines: list[Line] = []
    for name in (each for each in numbers if each in reached):
        step = variant.steps[name]
        boxes[name] = _box(library, variant, step, numbers[name], wish)
        lines += _lines(library, variant, step, ahead[name], wish, shares)
    return Figure(
        tree=tree.id,
        symptom=tree.symptom,
        about=_about(library, tree, variant, wish),
        opening=tuple(_opening(library, tree)),
        start=variant.start,
        boxes=boxes,
        lines=anchored(lines, variant.start),
        roles=_roles(library, variant, reached),
        figures=WORTH.get(tree.figures, "What minutes and shares are worth is not said.") if wish.figures else "",
    )


def numbers_of(variant: Variant) -> dict[str, int]:
    """A number for each step that a way from the start comes to: the same for every role, each after what leads to it.

    What follows the first finding of a check comes before what follows the next: a depth-first search finishes the
    branch last that comes first in the topological order, so it is given the answers from the last to the first.
    """
    steps = variant.steps
    successors = {name: [to for _, to in routes(step) if to in steps][::-1] for name, step in steps.items()}
    order, _ = depth_first(successors, variant.start)
    return {name: number for number, name in enumerate(order, 1)}


def reached_by(library: Library, variant: Variant, role: str) -> frozenset[str]:
    """The steps that ``role`` comes to, those where it hands over included."""
    return frozenset(_ahead(library, variant, role))


def _ahead(library: Library, variant: Variant, role: str) -> dict[str, list[tuple[str, str]]]:
    """By each step that ``role`` comes to, where it goes on from there; nowhere where it hands over."""
    found: dict[str, list[tuple[str, str]]] = {}
    waiting = [variant.start]
    while waiting:
        name = waiting.pop()
        if name not in found:
            step = variant.steps[name]
            found[name] = [] if for_other(library, step, role) else onward(library, variant, step, role)
            waiting += [to for _, to in found[name]]
    return found


def anchored(lines: Sequence[Line], start: str) -> tuple[Line, ...]:
    """The lines with the first route to a step drawn, where no route that is always drawn leads there."""
    led_to = {line.target for line in lines if line.drawn} | {start}
    done = []
    for line in lines:
        if line.target not in led_to:
            led_to.add(line.target)
            line = line._replace(drawn=True)
        done.append(line)
    return tuple(done)


def _about(library: Library, tree: Tree, variant: Variant, wish: Wish) -> tuple[str, ...]:
    model = "all models" if tree.alike and len(tree.models) > 1 else f"model {variant.model}"
    status = standing(tree, library)
    drawn = f"as {wish.role} can reach it"
    return (
        f"{tree.id} ({tree.short}) · revision {tree.revision} of {tree.date} · {status} · {model} · {drawn}",
        f"{library.operator} · not approved data: the manual and local rules win",
    )


def _roles(library: Library, variant: Variant, reached: frozenset[str]) -> tuple[tuple[str, Border], ...]:
    """The roles that the legend explains: those of the steps that are drawn, in the library's order."""
    there = {variant.steps[name].who for name in reached}
    return tuple((role, border_of(library, role)) for role in library.roles if role in there)


def _opening(library: Library, tree: Tree) -> Iterator[tuple[Row, ...]]:
    """The columns: what to do when it cannot wait; what holds before the first step, and what is done at once."""
    if tree.fallback:
        yield tuple(_actions(library, "IT CANNOT WAIT (fallback)", tree.fallback))
    first = list(_actions(library, "FIRST ACTIONS", tree.first_actions)) if tree.first_actions else []
    if tree.before:
        before = (Row("text", f"{at}. {sentence(text)}") for at, text in enumerate(tree.before, 1))
        first = [Row("head", "BEFORE THE FIRST STEP"), *before, *([Row("rule")] if first else []), *first]
    if first:
        yield tuple(first)


def _actions(library: Library, title: str, actions: Sequence[Action]) -> Iterator[Row]:
    yield Row("head", title)
    for at, action in enumerate(actions, 1):
        yield from notice_rows(library, action.notices)
        yield Row("text", f"{at}. {action.who}: {sentence(action.do)}")


def _box(library: Library, variant: Variant, step: Step, number: int, wish: Wish) -> Box:
    other = for_other(library, step, wish.role)
    title = step.title
    if other:
        return Box(
            name=step.id,
            number=number,
            shape="hand over",
            border=border_of(library, other),
            head=f"HAND OVER to {other}",
            needs="",
            rows_before=(),
            rows=(Row("text", f"goes on with: {title}"),),
            title=f"HAND OVER to {other}: {title}",
            facts={"role": other, "wording": title} if wish.facts else {},
        )
    names = () if isinstance(step, End) else step.notices
    return Box(
        name=step.id,
        number=number,
        shape=_shape(step),
        border=border_of(library, step.who),
        head=head_of(step, wish.figures),
        needs=needs_of(library, step),
        rows_before=notice_rows(library, names),
        rows=tuple(rows_of(library, variant, step, wish.figures, prover(library, step, wish.role))),
        title=title,
        do=(*step.do, *(step.when if isinstance(step, End) else ())),
        details=tuple(details_of(library, variant, step)),
        notices=notice_texts(library, names),
        facts=facts_of(library, variant, step) if wish.facts else {},
    )


def _shape(step: Step) -> Shape:
    return "check" if isinstance(step, Check) else "fix" if isinstance(step, Fix) else "end"


def _lines(
    library: Library,
    variant: Variant,
    step: Step,
    ahead: Sequence[tuple[str, str]],
    wish: Wish,
    shares: Mapping[tuple[str, str], float],
) -> Iterator[Line]:
    """The routes by which the role goes on from a step, ``ahead``."""
    notes = edge_notes(library, variant, step) if isinstance(step, Check) else {}
    findings = {each.label: each for each in step.findings} if isinstance(step, Check) else {}
    for answer, to in ahead:
        finding = findings.get(answer)
        share = shares.get((step.id, answer), 0.0 if finding else None)
        shown, weight = share if wish.figures else None, share or 0.0
        if finding:
            note, says = notes.get(answer, ""), finding.says
            yield Line(step.id, answer, "finding", to, answer, note, says, shown, weight, drawn=True)
        else:
            yield Line(step.id, answer, _KINDS[answer], to, answer, _why(step, answer), "", shown, weight, bool(share))


_KINDS: Mapping[str, RouteKind] = {"failed": "failed", "unable": "unable", "cannot": "cannot"}


def _why(step: Step, answer: str) -> str:
    route: Route | None = getattr(step, answer, None)
    return route.why if route else ""
