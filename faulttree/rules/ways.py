"""Ways in the words of a file, for the rules that show one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from faulttree.keys import Kind
from faulttree.model import End, Step, Variant
from faulttree.moves import routes
from faulttree.proof import Failure
from faulttree.rules.context import Context, Path

Way = Sequence[tuple[str, str]]

WAYS = (Kind.UNABLE, Kind.FAILED, Kind.CANNOT)
"""Answers that have a key of their own at the step; the others are labels of findings."""


def failing_path(way: Way, step: str) -> Path:
    """Where in the file the way takes its last turn; the step itself where it is the first."""
    if not way:
        return ("steps", step, "~")
    last, answer = way[-1]
    return answer_path(last, answer)


def answer_path(step: str, answer: str) -> Path:
    """Where in the file the key of an answer stands."""
    if answer in WAYS:
        return ("steps", step, answer, "~")
    return ("steps", step, "findings", answer, "~")


def shown_way(context: Context, way: Way, step: str) -> tuple[str, ...]:
    """The way as lines, a step and its answer each, and where it comes to."""
    steps = context.variant.steps
    lines = [f"{name}: {_text(steps, name)} -> {answer}" for name, answer in way]
    return (*lines, f"{step}: {_text(steps, step)}")


def _text(steps: Mapping[str, Step], name: str) -> str:
    step = steps[name]
    return step.kind if isinstance(step, End) else step.text


def answer_to(variant: Variant, step: str, to: str) -> str:
    """The first answer that leads from ``step`` to ``to``."""
    return next(answer for answer, each in routes(variant.steps[step]) if each == to)


def shortest_by_step(failures: Iterable[Failure], rule: str) -> list[Failure]:
    """Of the failures of a rule, for each step and other cause the one with the shortest way."""
    shortest: dict[tuple[str, str], Failure] = {}
    for failure in failures:
        if failure.rule == rule:
            place = failure.step, failure.other
            if place not in shortest or len(failure.way) < len(shortest[place].way):
                shortest[place] = failure
    return list(shortest.values())
