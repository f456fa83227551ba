"""Ways and ends broken: answers that lead elsewhere, stops that are passed by, deferrals that take in more."""

from __future__ import annotations

from .breaks import breaks
from .places import Ground, Places, Way, each_in, later, less, longer, put, swapped, ways

# -- ways


@breaks("swap two findings of a check")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check"):
        findings = step.get("findings")
        if isinstance(findings, dict):
            labels = list(findings)
            yield f"{name}, {labels[0]} and {labels[-1]}", swapped(findings, labels[0], labels[-1])


@breaks("a finding leads to a later step")
def _(ground: Ground) -> Places:
    for way in ways(ground):
        others = [to for to in later(ground, way.to)[:1] if way.answer not in ("unable", "failed", "cannot")]
        for to in others:
            yield f"{way.step}, {way.answer} to {to}", lambda way=way, to=to: way.lead(to)


@breaks("a failed fix leads to a later step")
def _(ground: Ground) -> Places:
    for way in ways(ground):
        for to in later(ground, way.to)[:1] if way.answer == "failed" else ():
            yield f"{way.step} to {to}", lambda way=way, to=to: way.lead(to)


@breaks("unable leads straight to a fix")
def _(ground: Ground) -> Places:
    for way in ways(ground):
        fixes = [to for to in later(ground, way.step) if "fix" in ground.root["steps"].get(to, ()) and to != way.to]
        for to in fixes[:1] if way.answer == "unable" else ():
            yield f"{way.step} to {to}", lambda way=way, to=to: way.lead(to)


def a_deferral(ground: Ground, otherwise: str) -> dict[str, object]:
    """A deferral as somebody would write it in a hurry."""
    document = next(iter(ground.library.documents))
    section = next(iter(ground.library.documents[document].sections), "1")
    end = {"end": "deferred", "under": {document: section}, "until": "the next inspection", "when": ["It is whole."]}
    return {**end, "cannot": otherwise}


@breaks("what led to out of service goes on with a deferral", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("end"):
        if ground.is_stop(name):
            keep = {key: step[key] for key in ("who", "do") if key in step}
            yield name, put(ground.root["steps"], name, {**a_deferral(ground, name), **keep})
            yield name, put(ground.root["steps"], name, {"end": "no fault found", "who": step.get("who", "mechanic")})


@breaks("a way leads to a deferral", weakens=True)
def _(ground: Ground) -> Places:
    steps = ground.root["steps"]
    for way in ways(ground):
        for to in later(ground, way.step) if not lets_go(steps[way.to]) else ():
            if lets_go(steps[to]):
                yield f"{way.step}, {way.answer} to {to}", lambda way=way, to=to: way.lead(to)
        if not lets_go(steps[way.to]):
            add = put(steps, "put-off", a_deferral(ground, way.to))
            yield f"{way.step}, {way.answer} to a new one", lambda way=way, add=add: (add(), way.lead("put-off"))


@breaks("a way ends with no fault found", weakens=True)
def _(ground: Ground) -> Places:
    for way in ways(ground):
        if not lets_go(ground.root["steps"][way.to]):
            add = put(
                ground.root["steps"], "nothing-found", {"end": "no fault found", "who": list(ground.library.roles)[1]}
            )
            yield f"{way.step}, {way.answer}", lambda way=way, add=add: (add(), way.lead("nothing-found"))


@breaks("a check is left out, and what led to it leads to a deferral", weakens=True)
def _(ground: Ground) -> Places:
    steps = ground.root["steps"]
    again = {step.get("again") for step in steps.values()}
    for name, step in ground.steps("check"):
        before = [way for way in ways(ground) if way.to == name]
        after = [way.to for way in ways(ground) if way.step == name]
        if before and after and name not in again and isinstance(step.get("findings"), dict):
            yield name, lambda name=name, before=before, to=after[0]: _put_off(ground, name, before, to)


def _put_off(ground: Ground, check: str, before: list[Way], to: str) -> None:
    ground.root["steps"]["put-off"] = a_deferral(ground, to)
    for way in before:
        way.lead("put-off")
    del ground.root["steps"][check]


def lets_go(step: dict[str, object]) -> bool:
    """Whether it is an end after which the equipment is used without a fix that was proved."""
    return step.get("end") in ("deferred", "no fault found")


@breaks("a stop is passed by: the way leads to another step", weakens=True)
def _(ground: Ground) -> Places:
    for way in ways(ground):
        others = [to for to in later(ground, way.step) if not ground.is_stop(to)]
        for to in others[-1:] if ground.is_stop(way.to) else ():
            yield f"{way.step}, {way.answer} to {to}", lambda way=way, to=to: way.lead(to)


@breaks("the first check is left out")
def _(ground: Ground) -> Places:
    for to in later(ground, ground.root["start"])[:3]:
        if "end" not in ground.root["steps"][to]:
            yield to, put(ground.root, "start", to)


# -- ends


@breaks("drop a condition of a deferral", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("end"):
        for at in each_in(step, "when"):
            yield name, less(step, "when", at)


@breaks("an end answers for one more cause")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("end"):
        for key in ("accepts", "for"):
            others = [cause for cause, _ in ground.causes() if cause not in step.get(key, ())]
            if isinstance(step.get(key), list) and others:
                yield f"{name}, {others[0]}", put(step, key, [*step[key], others[0]])


@breaks("an end no longer answers for a cause")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("end"):
        for key in ("accepts", "for"):
            for at in each_in(step, key):
                yield f"{name}, {at}", less(step, key, at)


@breaks("drop a line of an end")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("end"):
        for at in each_in(step, "do"):
            if isinstance(step["do"], list):
                yield name, less(step, "do", at)


@breaks("hand over to a lower role", weakens=True)
def _(ground: Ground) -> Places:
    roles = list(ground.library.roles)
    for name, step in ground.steps("end"):
        if step.get("end") == "hand over" and step["to"] != roles[0]:
            yield f"{name}, {roles[0]}", put(step, "to", roles[0])
            yield f"{name}, {roles[roles.index(step['to']) - 1]}", put(step, "to", roles[roles.index(step["to"]) - 1])


@breaks("a deferral lasts longer", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("end"):
        if "until" in step:
            yield name, put(step, "until", longer(step["until"]))
