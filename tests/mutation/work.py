"""Work broken: lines, approved data, torques, parts and tools."""

from __future__ import annotations

from .breaks import breaks
from .places import Ground, Places, each_in, less, put, swapped, without


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
