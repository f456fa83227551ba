"""Causes and findings broken: what is shown, what clears what, what is read and how surely."""

from __future__ import annotations

from .breaks import breaks
from .places import Ground, Places, each_in, less, put, without


@breaks("drop a cause", weakens=True)
def _(ground: Ground) -> Places:
    for name, _cause in ground.causes():
        yield name, without(ground.root["causes"], name)


@breaks("drop what a cause shows at a check")
def _(ground: Ground) -> Places:
    for name, cause in ground.causes():
        for check in each_in(cause, "shows"):
            yield f"{name}, {check}", less(cause, "shows", check)


@breaks("a cause shows another finding")
def _(ground: Ground) -> Places:
    for name, cause in ground.causes():
        for check in each_in(cause, "shows"):
            have = list(ground.root["steps"].get(check, {}).get("findings", ()))
            others = [label for label in have if label not in _listed(cause["shows"][check])]
            for label in others[:1]:
                yield f"{name}, {check}: {label}", put(cause["shows"], check, label)


def _listed(value):
    return [value] if isinstance(value, str) else list(value)


@breaks("drop a finding of a check")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check"):
        for label in each_in(step, "findings"):
            yield f"{name}, {label}", less(step, "findings", label)


@breaks("another usual finding")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check"):
        others = [label for label in step["findings"] if label not in _listed(step.get("usual", ()))]
        if "usual" in step and others:
            yield f"{name}, {others[0]}", put(step, "usual", others[0])


@breaks("a matter of feel counts as sure", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check"):
        if "sure" in step:
            yield name, without(step, "sure")


@breaks("a reading is no longer measured", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check"):
        if "measure" in step:
            yield name, without(step, "measure")


@breaks("a fix no longer clears its cause")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("fix"):
        for at in each_in(step, "clears"):
            if len(step["clears"]) > 1:
                yield f"{name}, {step['clears'][at]}", less(step, "clears", at)
        other = [cause for cause, _ in ground.causes() if cause not in step.get("clears", ())]
        if other:
            yield f"{name}, {other[0]} instead", put(step, "clears", [other[0]])


@breaks("a fix is said to clear one more cause")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("fix"):
        others = [cause for cause, _ in ground.causes() if cause not in step["clears"]]
        for cause in others[:1]:
            yield f"{name}, {cause}", put(step, "clears", [*step["clears"], cause])


@breaks("what an operational check misses is not said", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("fix"):
        if "misses" in step:
            yield name, without(step, "misses")


@breaks("a cause by elimination may come first", weakens=True)
def _(ground: Ground) -> Places:
    for name, cause in ground.causes():
        if "by_elimination" in cause:
            yield name, without(cause, "by_elimination")


@breaks("other equipment is no longer looked at", weakens=True)
def _(ground: Ground) -> Places:
    for name, cause in ground.causes():
        for at in each_in(cause, "also_look"):
            yield name, less(cause, "also_look", at)


@breaks("no longer reportable", weakens=True)
def _(ground: Ground) -> Places:
    for name, owner in (*ground.causes(), *ground.steps("end")):
        if "reportable" in owner:
            yield name, without(owner, "reportable")
