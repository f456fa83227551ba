"""What guards a step broken: warnings, roles, people, occupant, second looks, and what is left open."""

from __future__ import annotations

from typing import Any

from .breaks import breaks
from .places import Ground, Places, each_in, later, less, longer, put, without


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


@breaks("another operational check that asks less of who does it", weakens=True)
def _(ground: Ground) -> Places:
    checks = ground.library.operational_checks
    for name, step in ground.steps("fix"):
        old = checks.get(step["operational_check"]) if isinstance(step.get("operational_check"), str) else None
        for other, new in checks.items() if old else ():
            warned = {each for each in old.notices if full(ground, each)}
            if warned - set(new.notices) or new.people < old.people or (new.occupied and not old.occupied):
                yield f"{name}, {other}", put(step, "operational_check", other)


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


@breaks("a recheck comes later", weakens=True)
def _(ground: Ground) -> Places:
    for name, step in ground.steps("fix", "end"):
        if "recheck" in step:
            yield name, put(step["recheck"], "after", longer(step["recheck"]["after"]))


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
