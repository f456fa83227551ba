"""What a tree says before any check, broken: first actions, fallback, urgency, models, documents, examples."""

from __future__ import annotations

from .breaks import breaks
from .places import Ground, Places, each_in, less, put, without


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


@breaks("nothing says what it was written against")
def _(ground: Ground) -> Places:
    if "written_against" in ground.root:
        yield "written_against", without(ground.root, "written_against")


@breaks("drop all cases", weakens=True)
def _(ground: Ground) -> Places:
    if "cases" in ground.root:
        yield "cases", without(ground.root, "cases")


@breaks("drop a case", weakens=True)
def _(ground: Ground) -> Places:
    for at in each_in(ground.root, "cases"):
        yield ground.root["cases"][at]["name"], less(ground.root, "cases", at)
