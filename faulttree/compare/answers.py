"""Where answers lead: the findings of a check, the other routes of a step, and how much the end of a way holds back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from faulttree.compare.changes import JUDGE, WEAKER, Found, told
from faulttree.compare.gates import CLOSES, OPENS
from faulttree.compare.judges import Judge, Sides, judging, kinds_of, reworded
from faulttree.graph import targets
from faulttree.model import End, Finding, Route, Variant

STRICTNESS = {
    "out of service": 3,
    "hand over": 2,
    "see document": 1,
    "see another tree": 1,
    "deferred": 0,
    "no fault found": 0,
}
"""How much an end holds back: from a hand-over on nobody goes on with the aircraft as if nothing were wrong."""

STOPS = 2
LETS_GO = 0
"""A deferral and no fault found: the equipment is used again without a fix that was proved."""

GOES_ON = -1
"""The strictness of what is no end."""


def strictness(variant: Variant | None, name: str) -> int:
    """How much the step of that name holds back."""
    step = variant.steps.get(name) if variant else None
    return STRICTNESS[step.kind] if isinstance(step, End) else GOES_ON


def route(answer: str) -> Judge:
    """A judge of where a step leads by ``answer``, with the reason why."""

    reason = reworded(f"the reason for {answer}", "reason")

    @judging("way", "way-opened", *reason.kinds)
    def judge(sides: Sides, before: Route | None, after: Route | None) -> Iterator[Found]:
        old, new = before.to if before else "", after.to if after else ""
        if old != new:
            yield rerouted(sides, answer, old, new)
        elif before and after:
            yield from reason(sides, before.why, after.why)

    return judge


def rerouted(sides: Sides, answer: str, old: str, new: str) -> Found:
    """A way that leads elsewhere: weaker where it led to an end that holds back more, or now lets the equipment go."""
    was, now = strictness(sides.old, old), strictness(sides.new, new)
    if now < was and (was >= STOPS or now > GOES_ON):
        says = f"{{}} no longer leads to {_kind(sides.old, old)}"
        return Found(WEAKER, "way-opened", says, (answer,), old or "nowhere", new or "nowhere")
    if was != LETS_GO and (end := sides.lets_go.get(new)):
        says = f"{{}} now leads to {_kind(sides.new, end)}"
        by = "" if end == new else f" > {end}"
        return Found(WEAKER, "way-opened", says, (answer,), old or "nowhere", f"{new}{by}")
    return Found(JUDGE, "way", "{} leads elsewhere", (answer,), old or "nowhere", new or "nowhere")


def letting_go(old: Variant, new: Variant) -> dict[str, str]:
    """The ends that let the equipment go, and the steps of ``new`` alone that lead to one, each with that end."""
    found = {name: name for name in new.steps if strictness(new, name) == LETS_GO}
    leading: dict[str, list[str]] = {}
    for name, step in new.steps.items():
        for to in targets(step) if name not in old.steps else ():
            leading.setdefault(to, []).append(name)
    waiting = list(found)
    for each in waiting:
        for name in leading.get(each, ()):
            if name not in found:
                found[name] = found[each]
                waiting.append(name)
    return found


def is_opened(was: int, now: int) -> bool:
    """Whether what holds back so much now held back more, or did not let the equipment go and does so now."""
    return (now < was and (was >= STOPS or now > GOES_ON)) or (now == LETS_GO != was)


def _kind(variant: Variant | None, name: str) -> str:
    step = variant.steps.get(name) if variant else None
    return step.kind if isinstance(step, End) else ""


@judging("finding-dropped", "finding-new", "order", "way", "way-opened", "wording", *kinds_of(OPENS, CLOSES))
def findings(sides: Sides, before: Sequence[Finding], after: Sequence[Finding]) -> Iterator[Found]:
    """Findings by label: dropped, new, in another order, and what each says, opens, closes and leads to."""
    old, new = ({each.label: each for each in side} for side in (before, after))
    for label, finding in old.items():
        if label not in new:
            guarded = finding.opens or strictness(sides.old, finding.goto) >= STOPS
            yield Found(WEAKER if guarded else JUDGE, "finding-dropped", "finding {} is dropped", (label,))
        else:
            yield from _finding(sides, finding, new[label])
    for label in new:
        if label not in old:
            says = "finding {} is new and leads to {}"
            weight = WEAKER if new[label].goto in sides.lets_go else JUDGE
            yield Found(weight, "finding-new", says, (label, new[label].goto or "nowhere"))
    if set(old) == set(new) and any(new[label].number != each.number for label, each in old.items()):
        says = "the order of the findings changed, and with it read-back codes"
        yield Found(JUDGE, "order", says, before=told(tuple(old)), after=told(tuple(new)))


def _finding(sides: Sides, old: Finding, new: Finding) -> Iterator[Found]:
    if old.goto != new.goto:
        yield rerouted(sides, old.label, old.goto, new.goto)
    if old.says != new.says:
        says = "what finding {} says changed"
        yield Found(JUDGE, "wording", says, (old.label,), told(old.says), told(new.says))
    for name, judge in (("opens", OPENS), ("closes", CLOSES)):
        if getattr(old, name) != getattr(new, name):
            for found in judge(sides, getattr(old, name), getattr(new, name)):
                yield found._replace(says=f"at finding {{}} {found.says}", names=(old.label, *found.names))
