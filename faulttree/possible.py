"""What is still possible: the causes that the findings on the way and the failed fixes have not ruled out.

Only firm findings rule out; a check that is a matter of feel leaves a cause possible. A failed fix rules out what
it clears. Where nothing is left, one answer was misread, or the fault is none that the tree lists.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

from faulttree.keys import Kind, Move
from faulttree.model import Check, Fix, Variant
from faulttree.units import convert, parse_reading
from faulttree.value import Value
from faulttree.walk import Visit, Walk

FIRM, NEAR_AN_EDGE = 1.0, 5.0
"""How easily an answer is wrong, beside others: a reading within the gauge's resolution of an edge may as well belong
on the other side of it. Judged, no source; only that it is more matters where one answer is to be looked at first."""


class Misread(Value):
    """The answer that was most probably misread: its place on the way, and the causes that are left without it."""

    at: int
    left: tuple[str, ...]


def possible(walk: Walk) -> tuple[str, ...]:
    """The causes that the way of ``walk`` has not ruled out, in the tree's order."""
    ruled_out = {name for visit in walk.way for name in ruled_out_by(walk, visit)}
    return tuple(name for name in walk.site.variant.causes if name not in ruled_out)


def left_by_findings(walk: Walk) -> tuple[str, ...]:
    """The causes that no finding of the way has ruled out, whatever operational checks have failed."""
    checks = (visit for visit in walk.way if isinstance(walk.site.variant.steps[visit.step], Check))
    ruled_out = {name for visit in checks for name in ruled_out_by(walk, visit)}
    return tuple(name for name in walk.site.variant.causes if name not in ruled_out)


def misread(walk: Walk) -> Misread | None:
    """Where nothing is left, the answer to look at again first; None where something is, or no one answer explains it.

    An answer explains it where causes are left without it: those that it alone has ruled out. Of several the one with
    the greatest weight of such causes times how easily it is misread; of equals the latest on the way, for to
    go back to it costs least. What is a matter of feel has ruled out nothing, so it is never the one.
    """
    if possible(walk):
        return None
    against = [set(ruled_out_by(walk, visit)) for visit in walk.way]
    weights = weights_of(walk.site.variant)
    best, most = None, 0.0
    for at, visit in enumerate(walk.way):
        others = set().union(*against[:at], *against[at + 1 :])
        left = tuple(name for name in weights if name not in others)
        suspicion = sum(weights[name] for name in left) * _doubt(walk, visit)
        if left and suspicion >= most:
            best, most = Misread(at, left), suspicion
    return best


def ruled_out_by(walk: Walk, visit: Visit) -> Collection[str]:
    """The causes that an answer of the way rules out."""
    variant, answer = walk.site.variant, visit.answer
    step = variant.steps[visit.step]
    if answer is None:
        return ()
    if isinstance(step, Fix):
        return step.clears if answer.kind == Kind.FAILED else ()
    if not isinstance(step, Check) or step.sure < 1 or answer.kind not in (Kind.FINDING, Kind.READING):
        return ()
    return [name for name, cause in variant.causes.items() if answer.label not in variant.shown(step, cause)]


def weights_of(variant: Variant) -> Mapping[str, float]:
    """The weight of each cause, in the tree's order; one without a weight counts as much as the mean of the others."""
    given = [cause.weight for cause in variant.causes.values() if cause.weight is not None]
    mean = sum(given) / len(given) if given else 1.0
    return {name: mean if cause.weight is None else cause.weight for name, cause in variant.causes.items()}


def _doubt(walk: Walk, visit: Visit) -> float:
    """How easily the answer is wrong, beside others."""
    step, answer = walk.site.variant.steps[visit.step], visit.answer
    if not isinstance(step, Check) or answer is None or answer.kind != Kind.READING:
        return FIRM
    return NEAR_AN_EDGE if _is_near_an_edge(walk, step, answer) else FIRM


def _is_near_an_edge(walk: Walk, step: Check, answer: Move) -> bool:
    limit = walk.library.limits[step.measure]
    value = convert(parse_reading(answer.value), limit.unit)
    return bool(limit.scales[walk.key.model].edges_near(value, limit.resolution))
