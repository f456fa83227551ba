"""Breaks of a tree's own file. Each yields the places where it can be made; those that weaken say so."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from .places import Ground, Places, each_in, later, less, put, swapped, ways, without


class Break(NamedTuple):
    """A way to break a tree. Where it ``weakens``, the comparison alone has to tell that something became weaker."""

    name: str
    weakens: bool
    places: Callable[[Ground], Places]


BREAKS: list[Break] = []


def breaks(name: str, weakens: bool = False) -> Callable[[Callable[[Ground], Places]], Callable[[Ground], Places]]:
    """Enters a break into the list."""

    def enter(places: Callable[[Ground], Places]) -> Callable[[Ground], Places]:
        BREAKS.append(Break(name, weakens, places))
        return places

    return enter


def full(ground: Ground, name: object) -> bool:
    """Whether a notice is a warning or caution."""
    return name in ground.library.notices and ground.library.notices[str(name)].signal != "note"


def protects(ground: Ground, step: dict[str, Any], notice: str) -> bool:
    """Whether a notice is a warning or caution that stands before a step by the step itself, not by an access of it."""
    by_access = [each for name in step.get("access", ()) for each in ground.library.accesses[name].notices]
    return full(ground, notice) and notice not in by_access


# -- warnings


@breaks("drop a warning of a step", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        for at in each_in(step, "notices"):
            if protects(ground, step, step["notices"][at]):
                yield f"{name}, {step['notices'][at]}", less(step, "notices", at)


@breaks("drop all notices of a step", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        if any(protects(ground, step, each) for each in step.get("notices", ())):
            yield name, without(step, "notices")


@breaks("a warning comes only at a later step", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        for at in each_in(step, "notices"):
            notice = step["notices"][at]
            for to in later(ground, name) if protects(ground, step, notice) else ():
                other = ground.root["steps"][to]
                if ("check" in other or "fix" in other) and notice not in other.get("notices", ()):
                    drop = less(step, "notices", at)
                    add = put(other, "notices", [*other.get("notices", ()), notice])
                    yield f"{notice} from {name} to {to}", lambda drop=drop, add=add: (add(), drop())
                    break


@breaks("drop a warning of a first action or fallback line", weakens=True)
def _(ground: Ground) -> Places:
    for key in ("first_actions", "fallback"):
        for line in ground.root.get(key, ()):
            for at in each_in(line, "notices"):
                if full(ground, line["notices"][at]):
                    yield f"{key}, {line['notices'][at]}", less(line, "notices", at)


# -- roles and gates


@breaks("lower the role of a step", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        if step["who"] != ground.first:
            yield name, put(step, "who", ground.first)


@breaks("open the occupant gate", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        if "occupied" not in step and ground.library.occupant:
            yield name, put(step, "occupied", "allowed")


@breaks("fewer people at a step", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        if step.get("people", "1") != "1":
            yield name, put(step, "people", str(int(step["people"]) - 1))


@breaks("a lift for fewer people", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        if "lift" in step:
            yield name, without(step, "lift")


@breaks("drop an access of a step")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        for at in each_in(step, "access"):
            yield name, less(step, "access", at)


@breaks("drop a second inspection", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("fix"):
        if "second_inspection" in step:
            yield name, without(step, "second_inspection")


@breaks("drop an operational check", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("fix"):
        if "operational_check" in step:
            yield name, without(step, "operational_check")


@breaks("another operational check")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("fix"):
        for other in ground.library.operational_checks:
            if isinstance(step.get("operational_check"), str) and other != step["operational_check"]:
                yield f"{name}, {other}", put(step, "operational_check", other)
                break


@breaks("drop a consumable and its wait")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        for at in each_in(step, "consumables"):
            yield f"{name}, {step['consumables'][at]}", less(step, "consumables", at)


@breaks("drop a recheck", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("fix", "end"):
        if "recheck" in step:
            yield name, without(step, "recheck")


# -- open items


@breaks("leave an item open: drop closes")
def _(ground: Ground) -> Places:
    for name, step in ground.steps():
        owners = [step, *(each for each in _findings(step) if isinstance(each, dict))]
        for owner in owners:
            for at in each_in(owner, "closes"):
                yield f"{name}, {owner['closes'][at]}", less(owner, "closes", at)


@breaks("a hazard is no longer opened", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps():
        owners = [step, *(each for each in _findings(step) if isinstance(each, dict))]
        for owner in owners:
            for at in each_in(owner, "opens"):
                yield f"{name}, {owner['opens'][at]}", less(owner, "opens", at)


@breaks("an item counts as closed too early", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        for item in ground.library.open_items:
            if item in ground.used.get("open_items", ()) and item not in step.get("closes", ()):
                yield f"{name}, {item}", put(step, "closes", [*step.get("closes", ()), item])
                break


def _findings(step):
    findings = step.get("findings")
    return findings.values() if isinstance(findings, dict) else ()


# -- header


@breaks("drop a first action", weakens=True)
def _(ground: Ground) -> Places:
    for at in each_in(ground.root, "first_actions"):
        yield str(at + 1), less(ground.root, "first_actions", at)


@breaks("drop a fallback line", weakens=True)
def _(ground: Ground) -> Places:
    for at in each_in(ground.root, "fallback"):
        yield str(at + 1), less(ground.root, "fallback", at)


@breaks("a fallback line no longer opens its duty", weakens=True)
def _(ground: Ground) -> Places:
    for line in ground.root.get("fallback", ()):
        for at in each_in(line, "opens"):
            yield line["opens"][at], less(line, "opens", at)


@breaks("drop a line of what must be so before", weakens=True)
def _(ground: Ground) -> Places:
    for at in each_in(ground.root, "before"):
        yield str(at + 1), less(ground.root, "before", at)


@breaks("a lower urgency", weakens=True)
def _(ground: Ground) -> Places:
    order = list(ground.library.urgencies)
    for name in order[order.index(ground.tree.urgency) + 1 :][-1:]:
        yield name, put(ground.root, "urgency", name)


@breaks("drop a model", weakens=True)
def _(ground: Ground) -> Places:
    for at in each_in(ground.root, "models"):
        if len(ground.root["models"]) > 1:
            yield ground.root["models"][at], less(ground.root, "models", at)


@breaks("drop the report")
def _(ground: Ground) -> Places:
    if "report" in ground.root:
        yield "report", without(ground.root, "report")


@breaks("stale document: written against another revision")
def _(ground: Ground) -> Places:
    for name in each_in(ground.root, "written_against"):
        yield name, put(ground.root["written_against"], name, "0")


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


@breaks("what led to out of service goes on with a deferral", weakens=True)
def _(ground: Ground) -> Places:
    document = next(iter(ground.library.documents))
    section = next(iter(ground.library.documents[document].sections), "1")
    end = {"end": "deferred", "under": {document: section}, "until": "the next inspection", "when": ["It is whole."]}
    for name, step in ground.steps("end"):
        if ground.is_stop(name):
            keep = {key: step[key] for key in ("who", "do") if key in step}
            yield name, put(ground.root["steps"], name, {**end, **keep, "cannot": name})
            yield name, put(ground.root["steps"], name, {"end": "no fault found", "who": step.get("who", "mechanic")})


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


# -- causes and findings


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


# -- work


@breaks("drop a line of what to do")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        for at in each_in(step, "do"):
            if isinstance(step["do"], list) and len(step["do"]) > 1:
                yield f"{name}, line {at + 1}", less(step, "do", at)


@breaks("lines of work in another order")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        if isinstance(step.get("do"), list) and len(step["do"]) > 1:
            yield name, swapped(step["do"], 0, -1)


@breaks("drop the approved data of a step", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        if "data" in step:
            yield name, without(step, "data")


@breaks("other approved data")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        for document, section in step.get("data", {}).items():
            sections = ground.library.documents[document].sections if document in ground.library.documents else {}
            others = [each for each in sections if each != section]
            for other in others[:1]:
                yield f"{name}, {document} {other}", put(step["data"], document, other)


@breaks("drop a torque", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("fix"):
        for at in each_in(step, "torque"):
            yield name, less(step, "torque", at)


@breaks("another torque")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("fix"):
        for each in step.get("torque", ()) if isinstance(step.get("torque"), list) else ():
            if isinstance(each.get("value"), str):
                yield name, put(each, "value", str(float(each["value"]) * 2))


@breaks("drop a part")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("fix"):
        for part in each_in(step, "parts"):
            yield f"{name}, {part}", less(step, "parts", part)


@breaks("drop a tool")
def _(ground: Ground) -> Places:
    for name, step in ground.steps("check", "fix"):
        for at in each_in(step, "tools"):
            yield f"{name}, {step['tools'][at]}", less(step, "tools", at)
